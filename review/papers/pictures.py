"""Pictures as they come in: looked at, turned upright, made no larger than a screen shows, and written anew, so that
nothing of the file that came is kept but what is seen: no place where it was taken, no program behind it."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO

from PIL import Image, ImageOps, UnidentifiedImageError

MOST_BYTES = 6 * 1024 * 1024
MOST_PIXELS = 24_000_000  # of what comes in
LONGEST_SIDE = 2_000  # pixels of what is kept
KINDS = {"PNG": "image/png", "JPEG": "image/jpeg", "WEBP": "image/webp"}
QUALITY = 85
TOO_LARGE = "That picture is larger than 6 MiB. Make it smaller first, to some 2,000 pixels along its longer side."
NO_PICTURE = "That is no picture that can be read. PNG, JPEG and WebP can be."
TOO_MANY_PIXELS = "That picture has more than 24 million pixels. Make it smaller first."


class NoPicture(ValueError):
    """Raised where a file is no picture that can be taken in, with the sentence for it."""


@dataclass(frozen=True, slots=True)
class CheckedPicture:
    """A picture as it is kept: its bytes, their media type, and how many pixels it has across and down."""

    content: bytes
    media_type: str
    width: int
    height: int


def check_picture(file: bytes) -> CheckedPicture:
    """A picture written anew. Raises NoPicture."""
    if len(file) > MOST_BYTES:
        raise NoPicture(TOO_LARGE)
    try:
        with Image.open(BytesIO(file), formats=tuple(KINDS)) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                raise NoPicture(TOO_MANY_PIXELS)
            kind = str(opened.format)
            opened.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
            seen = ImageOps.exif_transpose(opened)
            whole = seen.convert("RGBA" if seen.has_transparency_data else "RGB")
    except NoPicture:
        raise
    except (UnidentifiedImageError, Image.DecompressionBombError, OSError, ValueError, SyntaxError, EOFError):
        raise NoPicture(NO_PICTURE) from None
    whole.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    written = BytesIO()
    fresh = Image.frombytes(whole.mode, whole.size, whole.tobytes())  # nothing that came beside the pixels
    if kind == "JPEG":
        fresh.convert("RGB").save(written, "JPEG", quality=QUALITY, optimize=True)
    elif kind == "WEBP":
        fresh.save(written, "WEBP", quality=QUALITY)
    else:
        fresh.save(written, "PNG", optimize=True)
    return CheckedPicture(written.getvalue(), KINDS[kind], fresh.width, fresh.height)
