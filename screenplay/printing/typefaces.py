"""The faces a PDF is set in: which of them draws a character, and what stands where none does.

Courier Prime sets the page. What it lacks, Cyrillic and Greek above all, is set in Liberation Mono, whose letters are
as wide. Both come with their licence, the SIL Open Font License 1.1. East Asian writing, and writing that runs from
right to left, is in neither face: a square stands for each such character, and `unprintable` tells which they are.
"""

from __future__ import annotations

import unicodedata
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from fontTools.ttLib import TTFont

from screenplay.page import columns_of

if TYPE_CHECKING:
    from collections.abc import Iterator

COURIER = "courier-prime"
FALLBACK = "liberation-mono"
STAND_IN = "□"

_FONTS = Path(__file__).parent / "fonts"
_STEMS = {COURIER: "CourierPrime", FALLBACK: "LiberationMono"}
_CUTS = {"": "Regular", "B": "Bold", "I": "Italic", "BI": "BoldItalic"}


def face_file(family: str, style: str) -> Path:
    """Where a family's face is, in style "", "B", "I" or "BI"."""
    return _FONTS / family / f"{_STEMS[family]}-{_CUTS[style]}.ttf"


class FamilyText(NamedTuple):
    """Text that one family draws, from a column counted from the start of the text it is a piece of."""

    column: int
    text: str
    family: str


def by_family(text: str) -> list[FamilyText]:
    """`text` as pieces, each in the family that has all of its characters.

    Accents are put together with their letters where Unicode has one character for both. Characters that show nothing,
    such as soft hyphens and joiners, are left out.
    """
    if _characters(COURIER).issuperset(text):
        return [FamilyText(0, text, COURIER)]
    found: list[FamilyText] = []
    end = 0
    for character in unicodedata.normalize("NFC", text):
        family = _family(character)
        if family is None and not _is_shown(character):
            continue
        sign = character if family else STAND_IN
        last = found[-1] if found else None
        if last and last.family == (family or FALLBACK) and last.column + len(last.text) == end:
            found[-1] = last._replace(text=last.text + sign)
        else:
            found.append(FamilyText(end, sign, family or FALLBACK))
        end += columns_of(character)
    return found


def unprintable(text: str) -> tuple[str, ...]:
    """The characters of `text` that neither face has, each once, in the order they first stand in it."""
    if _characters(COURIER).issuperset(text):
        return ()
    return tuple(dict.fromkeys(_missing(unicodedata.normalize("NFC", text))))


def _missing(text: str) -> Iterator[str]:
    return (character for character in text if _family(character) is None and _is_shown(character))


def _family(character: str) -> str | None:
    return next((family for family in (COURIER, FALLBACK) if character in _characters(family)), None)


def _is_shown(character: str) -> bool:
    return unicodedata.category(character) != "Cf" and character not in "\r\n"


@cache
def _characters(family: str) -> frozenset[str]:
    """What a family's faces draw, the same in all four, save what shows nothing or runs from right to left."""
    with TTFont(face_file(family, ""), lazy=True) as font:
        drawn = frozenset(map(chr, font.getBestCmap()))
    return frozenset(
        character
        for character in drawn
        if _is_shown(character)
        and unicodedata.bidirectional(character) not in {"R", "AL"}
        and unicodedata.category(character) != "Cc"
        and columns_of(character) < 2
        and (family == FALLBACK or columns_of(character) == 1)
    )
