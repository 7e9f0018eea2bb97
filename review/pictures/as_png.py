"""A picture as PNG, drawn with Pillow from the same shapes as the SVG; no file and no address in it is followed, and
how large it may get has a bound."""

from __future__ import annotations

from io import BytesIO
from math import sqrt
from typing import TYPE_CHECKING

from PIL import Image, ImageDraw, ImageFont

from review.pictures.shapes import Anchor, Band, Bar, Disc, Stroke
from review.pictures.tones import COLOURS, MARGIN
from screenplay.page import columns
from screenplay.printing import by_family, face_file

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.pictures.shapes import Picture, Point, Shape, WrittenWords

DOTS_A_UNIT = 2  # so that it prints well: 192 to the inch
OVERDRAWN = 2  # drawn so much larger first, so that slanting edges come out smooth
MOST_DOTS = 12_000_000  # while it is drawn: 36 MB of memory
COLUMN = 0.6  # how wide a character is beside its size, in either of the faces


def as_png(picture: Picture) -> bytes:
    """The picture as a file, two dots to a unit, or fewer where that would be more than there may be."""
    width, height = picture.width + 2 * MARGIN, picture.height + 2 * MARGIN
    scale = min(DOTS_A_UNIT * OVERDRAWN, sqrt(MOST_DOTS / (width * height)))
    image = Image.new(
        "RGB", (max(int(width * scale), OVERDRAWN), max(int(height * scale), OVERDRAWN)), COLOURS["paper"]
    )
    pen = _Pen(ImageDraw.Draw(image), scale)
    for mark in picture.marks:
        for shape in mark.shapes:
            pen.draw(shape)
    written = BytesIO()
    image.reduce(OVERDRAWN).save(written, "PNG", optimize=False)
    return written.getvalue()


class _Pen:
    """Draws shapes on an image, of which `scale` dots are a unit."""

    def __init__(self, image: ImageDraw.ImageDraw, scale: float) -> None:
        self.image = image
        self.scale = scale
        self.thin = max(round(scale), 1)
        self.faces: dict[tuple[str, int], ImageFont.FreeTypeFont] = {}

    def draw(self, shape: Shape) -> None:
        if isinstance(shape, Bar):
            far = (shape.x + shape.width, shape.y + shape.height)
            (left, top), (right, bottom) = self._at([(shape.x, shape.y), far])
            box = (left, top, max(right - 1, left), max(bottom - 1, top))
            self.image.rectangle(box, COLOURS[shape.tone], COLOURS[shape.edge] if shape.edge else None, self.thin)
        elif isinstance(shape, Band):
            points = self._at(shape.points)
            self.image.polygon(points, COLOURS[shape.tone])
            if shape.edge:
                self.image.line([*points, points[0]], COLOURS[shape.edge], self.thin)
        elif isinstance(shape, Stroke):
            width = max(round(shape.width * self.scale), 1)
            self.image.line(self._at(shape.points), COLOURS[shape.tone], width, joint="curve")
        elif isinstance(shape, Disc):
            middle = self._at([(shape.x, shape.y)])[0]
            self.image.circle(middle, shape.radius * self.scale, COLOURS[shape.tone])
        else:
            self._write(shape)

    def _write(self, words: WrittenWords) -> None:
        """Piece by piece, each in the face that has its characters; what neither has is a square, as in a PDF."""
        pieces = by_family(words.text)
        column = words.size * COLUMN * self.scale
        ((x, y),) = self._at([(words.x, words.y)])
        width = sum(columns(piece.text) for piece in pieces) * column
        x -= {Anchor.START: 0.0, Anchor.MIDDLE: width / 2, Anchor.END: width}[words.anchor]
        for piece in pieces:
            face = self._face(piece.family, max(round(words.size * self.scale), 1))
            self.image.text((x + piece.column * column, y), piece.text, COLOURS[words.tone], face, anchor="ls")

    def _face(self, family: str, dots: int) -> ImageFont.FreeTypeFont:
        """A face in a size, which sets letter by letter."""
        if (family, dots) not in self.faces:
            face = ImageFont.truetype(face_file(family, ""), dots, layout_engine=ImageFont.Layout.BASIC)
            self.faces[family, dots] = face
        return self.faces[family, dots]

    def _at(self, points: Sequence[Point]) -> list[tuple[float, float]]:
        return [(round((x + MARGIN) * self.scale), round((y + MARGIN) * self.scale)) for x, y in points]
