"""Who is in which scene, as a picture: scenes along, as wide as they are long; the cast down; a bar where somebody
speaks, and a thinner one where the action names them and they say nothing."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.pictures.shapes import Bar, DrawnMark, Picture, Tone, WrittenWords, cut
from screenplay.fountain import same_name

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from review.scenes.breakdown import BreakdownRow

LABEL, ROW, UNIT, LEAST_WIDTH, MOST_CAST, LETTERS = 130, 22, 4, 720, 40, 18
SPEAKING, NAMED = 14, 4  # how high a bar is


@dataclass(frozen=True, slots=True)
class ScenePresence:
    """Somebody in a scene, and whether they speak in it."""

    row: BreakdownRow
    speaks: bool


@dataclass(frozen=True, slots=True)
class PresenceLine:
    """One of the cast, with the scenes they are in, in the order of the script."""

    name: str
    scenes: tuple[ScenePresence, ...]


@dataclass(frozen=True, slots=True)
class PresenceDrawn:
    """The picture, and the same as lines, those with most scenes first; and how many it leaves out for room."""

    picture: Picture
    lines: tuple[PresenceLine, ...]
    left_out: int


def draw_presence(rows: Sequence[BreakdownRow], script: str) -> PresenceDrawn | None:
    """Who is in each of some scenes, in their order; None where nobody is in any. `script` is the address of their
    pages."""
    met: Counter[str] = Counter()
    spelled: dict[str, str] = {}
    for row in rows:
        for name in row.needs.cast:
            met[same_name(name)] += 1
            spelled.setdefault(same_name(name), name)
    if not met:
        return None
    cast = sorted(met, key=lambda key: (-met[key], key))
    lines = tuple(PresenceLine(spelled[key], tuple(_scenes_of(key, rows))) for key in cast[:MOST_CAST])
    eighths = sum(row.needs.eighths for row in rows)
    unit = max(UNIT, (LEAST_WIDTH - LABEL) / eighths)
    starts: dict[int, float] = {}
    x = float(LABEL)
    for row in rows:
        starts[row.needs.ordinal] = x
        x += unit * row.needs.eighths
    picture = Picture(
        name="presence",
        label="Who is in which scene: scenes along, as wide as they are long, and the cast down",
        width=round(LABEL + unit * eighths),
        height=ROW * len(lines),
        marks=[mark for at, line in enumerate(lines) for mark in _marks(line, ROW * at, starts, unit, script)],
    )
    return PresenceDrawn(picture, lines, max(len(cast) - MOST_CAST, 0))


def _scenes_of(key: str, rows: Sequence[BreakdownRow]) -> Iterator[ScenePresence]:
    for row in rows:
        speaks = key in map(same_name, row.needs.speaking)
        if speaks or key in map(same_name, row.needs.mentioned):
            yield ScenePresence(row, speaks)


def _marks(line: PresenceLine, top: int, starts: dict[int, float], unit: float, script: str) -> Iterator[DrawnMark]:
    yield DrawnMark((WrittenWords(0, top + ROW / 2 + 4, cut(line.name, LETTERS)),))
    for one in line.scenes:
        needs = one.row.needs
        height, tone = (SPEAKING, Tone.STRONG) if one.speaks else (NAMED, Tone.MIDDLE)
        width = max(unit * needs.eighths - 1, 1)
        does = "speaks in" if one.speaks else "is named in"
        yield DrawnMark(
            (Bar(round(starts[needs.ordinal], 1), top + (ROW - height) / 2, round(width, 1), height, tone),),
            f"{line.name} {does} scene {one.row.number}, {one.row.place}",
            f"{script}#L{needs.first_line}",
        )
