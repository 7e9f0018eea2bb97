"""Who is in which scene, as a picture: scenes along, as wide as they are long; the cast down; a bar where somebody
speaks, a thinner one where the action names them and they say nothing, and its two edges where they are a voice
alone."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from review.pictures.shapes import Bar, DrawnMark, Picture, Tone, WrittenWords, cut
from screenplay.fountain import same_name

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from review.scenes.breakdown import BreakdownRow

LABEL, ROW, UNIT, LEAST_WIDTH, MOST_CAST, LETTERS = 130, 22, 4, 720, 40, 18
SPEAKING, NAMED, EDGE = 14, 4, 3  # how high a bar is


class WayIn(StrEnum):
    """How somebody is in a scene, in words that its name follows."""

    SPEAKS = "speaks in"
    NAMED = "is named in"
    HEARD = "is a voice alone in"


_UPPER, _LOWER = (ROW - SPEAKING) / 2, (ROW + SPEAKING) / 2 - EDGE
# How far below the top of its row each bar begins, how high it is, and its tone. What lies between edges leads on too.
BARS = {
    WayIn.SPEAKS: ((_UPPER, SPEAKING, Tone.STRONG),),
    WayIn.NAMED: (((ROW - NAMED) / 2, NAMED, Tone.MIDDLE),),
    WayIn.HEARD: ((_UPPER, SPEAKING, Tone.PAPER), (_UPPER, EDGE, Tone.STRONG), (_LOWER, EDGE, Tone.STRONG)),
}


@dataclass(frozen=True, slots=True)
class ScenePresence:
    """Somebody in a scene, and how."""

    row: BreakdownRow
    way: WayIn


@dataclass(frozen=True, slots=True)
class PresenceLine:
    """One of the cast, with the scenes they are in, in the order of the script; `there` counts those in which they are
    more than a voice."""

    name: str
    scenes: tuple[ScenePresence, ...]

    @property
    def there(self) -> int:
        return sum(one.way is not WayIn.HEARD for one in self.scenes)


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
            met[same_name(name)] += name not in row.needs.heard
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
        needs = row.needs
        ways = ((WayIn.SPEAKS, needs.speaking_there), (WayIn.NAMED, needs.mentioned), (WayIn.HEARD, needs.heard))
        if way := next((way for way, names in ways if key in map(same_name, names)), None):
            yield ScenePresence(row, way)


def _marks(line: PresenceLine, top: int, starts: dict[int, float], unit: float, script: str) -> Iterator[DrawnMark]:
    yield DrawnMark((WrittenWords(0, top + ROW / 2 + 4, cut(line.name, LETTERS)),))
    for one in line.scenes:
        needs = one.row.needs
        x, width = round(starts[needs.ordinal], 1), round(max(unit * needs.eighths - 1, 1), 1)
        yield DrawnMark(
            tuple(Bar(x, top + y, width, height, tone) for y, height, tone in BARS[one.way]),
            f"{line.name} {one.way} scene {one.row.number}, {one.row.place}",
            f"{script}#L{needs.first_line}",
        )
