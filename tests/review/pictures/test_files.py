"""A picture as a file: bounded, escaped, and with the same shapes in either."""

from __future__ import annotations

from io import BytesIO
from xml.etree import ElementTree as ET

from PIL import Image

from review.pictures.as_png import DOTS_A_UNIT, MOST_DOTS, OVERDRAWN, as_png
from review.pictures.as_svg import as_svg, svg_within_page
from review.pictures.shapes import Anchor, Band, Bar, Disc, DrawnMark, Picture, Stroke, Tone, WrittenWords
from review.pictures.tones import COLOURS, MARGIN

SVG = "{http://www.w3.org/2000/svg}"
SHAPES = (
    Bar(10, 10, 30, 20, Tone.STRONG, Tone.INK),
    Band(((50, 10), (80, 10), (80, 30), (50, 30)), Tone.MIDDLE),
    Disc(100, 20, 10, Tone.SOFT),
    Stroke(((0, 45), (120, 45)), Tone.FAINT, 4),
    WrittenWords(60, 70, "Ж and 木", 12, Tone.INK, Anchor.MIDDLE),
)
PICTURE = Picture("sample", "A <sample>", 120, 80, [DrawnMark(SHAPES, 'Says "so" & more', "/p/1/#L2")])


def colour_at(image: Image.Image, x: float, y: float) -> str:
    dots = tuple(round((at + MARGIN) * DOTS_A_UNIT) for at in (x, y))
    red, green, blue = image.getpixel((dots[0], dots[1]))  # type: ignore[misc]
    return f"#{red:02x}{green:02x}{blue:02x}"


def test_a_png_has_each_shape_where_it_stands_in_its_colour() -> None:
    image = Image.open(BytesIO(as_png(PICTURE)))
    assert image.size == ((120 + 2 * MARGIN) * DOTS_A_UNIT, (80 + 2 * MARGIN) * DOTS_A_UNIT)
    told = [
        (20, 20, Tone.STRONG),
        (65, 20, Tone.MIDDLE),
        (100, 20, Tone.SOFT),
        (60, 45, Tone.FAINT),
        (5, 5, Tone.PAPER),
    ]
    assert [colour_at(image, x, y) for x, y, _ in told] == [COLOURS[tone] for _, _, tone in told]
    letters = image.convert("L").crop((60, 120, 220, 180))
    assert sum(letters.histogram()[:80]) > 100


def test_a_png_has_no_more_dots_than_there_may_be() -> None:
    long = Picture("long", "Long", 160_000, 170, [DrawnMark((Bar(0, 0, 160_000, 170, Tone.INK),))])
    image = Image.open(BytesIO(as_png(long)))
    assert image.width * image.height <= MOST_DOTS / OVERDRAWN**2
    assert image.width > 100 * image.height


def test_words_of_a_script_are_words_in_an_svg_too() -> None:
    """Whatever a name holds: marks of XML, and a character that XML 1.0 has no room for
    (https://www.w3.org/TR/xml/#charsets)."""
    name = '<a>&"\x0b\x1b]]>'
    picture = Picture("odd", name, 100, 100, [DrawnMark((WrittenWords(0, 0, name),), name, f"/{name}")])
    root = ET.fromstring(as_svg(picture))
    assert [each.text for each in root.iter(f"{SVG}text")] == ['<a>&"]]>']
    within = ET.fromstring(svg_within_page(picture))
    link = within.find("a")
    assert link is not None
    assert (link.get("aria-label"), link.get("href")) == ('<a>&"]]>', '/<a>&"]]>')
    assert len(as_png(picture)) > 0
