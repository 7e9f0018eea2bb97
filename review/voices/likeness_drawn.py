"""How near the voices of a draft are to each other, as a table and as a picture: a line for each voice, with the others
on it as far along as they are apart."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING
from urllib.parse import quote

from review.pictures.shapes import Anchor, Disc, DrawnMark, Picture, Stroke, Tone, WrittenWords, cut

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from screenplay.speech import VoiceLikeness

WIDTH, LABEL, ROW = 720, 140, 40
LEVELS = 5
LETTERS, LETTERS_ABOVE = 18, 12


@dataclass(frozen=True, slots=True)
class OtherVoice:
    """One voice as another sees it: how far it is, and how near on a scale of LEVELS, 1 the farthest."""

    name: str
    delta: float
    level: int


@dataclass(frozen=True, slots=True)
class LikenessRow:
    """A voice, and each other one in the same order; itself is None."""

    name: str
    others: tuple[OtherVoice | None, ...]


@dataclass(frozen=True, slots=True)
class LikenessDrawn:
    picture: Picture
    rows: tuple[LikenessRow, ...]


def draw_likeness(found: VoiceLikeness | None, voice_address: Callable[[str], str]) -> LikenessDrawn | None:
    """The table and the picture; None where fewer than two voices are long enough. `voice_address` is where a
    character's voice is told of."""
    if found is None:
        return None
    every = [delta for row in found.deltas for delta in row if delta]
    least, most = min(every, default=0.0), max(every, default=1.0)
    rows = tuple(
        LikenessRow(
            name,
            tuple(
                _other_voice(other, delta, least, most) if other != name else None
                for other, delta in zip(found.names, deltas, strict=True)
            ),
        )
        for name, deltas in zip(found.names, found.deltas, strict=True)
    )
    picture = Picture(
        name="likeness",
        label="A line for each voice; the others stand on it as far along as they are apart",
        width=WIDTH,
        height=ROW * len(rows),
        marks=[mark for at, row in enumerate(rows) for mark in _marks(row, at, most, voice_address(row.name))],
    )
    return LikenessDrawn(picture, rows)


def _other_voice(name: str, delta: float, least: float, most: float) -> OtherVoice:
    along = (delta - least) / (most - least) if most > least else 0.5
    return OtherVoice(name, delta, min(int((1 - along) * LEVELS) + 1, LEVELS))


def _marks(row: LikenessRow, at: int, most: float, address: str) -> Iterator[DrawnMark]:
    y = ROW * at + ROW // 2
    yield DrawnMark((Stroke(((LABEL, y), (WIDTH, y)), Tone.MIDDLE), WrittenWords(0, y + 4, cut(row.name, LETTERS), 12)))
    for other in row.others:
        if other:
            x = round(LABEL + 10 + (WIDTH - LABEL - 50) * other.delta / most, 1)
            name = WrittenWords(x, y - 9, cut(other.name, LETTERS_ABOVE), 9.5, Tone.SOFT, Anchor.MIDDLE)
            yield DrawnMark(
                (Disc(x, y, 5, Tone.STRONG), name),
                f"{row.name} and {other.name}: {other.delta:.2f}",
                f"{address}?model={quote(other.name)}#likeness",
            )
