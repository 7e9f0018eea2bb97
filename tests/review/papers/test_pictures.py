"""Pictures as they come in: written anew, upright and no larger than wanted, without what cameras add."""

from __future__ import annotations

import zlib
from io import BytesIO
from struct import pack

import pytest
from PIL import Image

from review.papers.pictures import LONGEST_SIDE, MOST_BYTES, NoPicture, check_picture

GPS, ORIENTATION = 0x8825, 0x0112  # of Exif 2.3 (CIPA DC-008): the place, and which way up


def picture(kind: str = "JPEG", size: tuple[int, int] = (60, 40), mode: str = "RGB", **saved: object) -> bytes:
    written = BytesIO()
    Image.new(mode, size, 120).save(written, kind, **saved)
    return written.getvalue()


@pytest.mark.parametrize(("kind", "media_type"), [("JPEG", "image/jpeg"), ("PNG", "image/png"), ("WEBP", "image/webp")])
def test_it_is_written_anew_as_what_it_is(kind: str, media_type: str) -> None:
    checked = check_picture(picture(kind))
    assert (checked.media_type, checked.width, checked.height) == (media_type, 60, 40)
    assert Image.open(BytesIO(checked.content)).format == kind


def test_where_and_with_what_it_was_taken_is_left_out_and_it_stands_upright() -> None:
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    exif[0x010F] = "A camera"
    exif.get_ifd(GPS)[1] = "N"
    came = picture(exif=exif.tobytes(), comment=b"said here")
    assert b"A camera" in came
    checked = check_picture(came)
    assert (checked.width, checked.height) == (40, 60)
    assert not Image.open(BytesIO(checked.content)).getexif()
    assert b"A camera" not in checked.content
    assert b"said here" not in checked.content


def test_a_large_one_is_made_smaller() -> None:
    checked = check_picture(picture("PNG", (3 * LONGEST_SIDE, 30), "L"))
    assert checked.width == LONGEST_SIDE


def bomb() -> bytes:
    """A PNG of 100,000 by 100,000 points in a few bytes."""

    def chunk(kind: bytes, told: bytes) -> bytes:
        return pack(">I", len(told)) + kind + told + pack(">I", zlib.crc32(kind + told))

    head = chunk(b"IHDR", pack(">IIBBBBB", 100_000, 100_000, 8, 0, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(b"\0" * 1000)) + chunk(b"IEND", b"")


@pytest.mark.parametrize(
    ("file", "why"),
    [
        (b"", "no picture"),
        (b"<svg onload=x>", "no picture"),
        (picture("GIF", mode="L"), "no picture"),
        (picture()[:200], "no picture"),
        (bomb(), "no picture|24 million"),
        (picture("PNG", (6_000, 4_100), "1"), "24 million"),
        (b"\xff\xd8" + b"\0" * MOST_BYTES, "6 MiB"),
    ],
)
def test_what_is_none_is_refused_with_a_sentence(file: bytes, why: str) -> None:
    with pytest.raises(NoPicture, match=why):
        check_picture(file)
