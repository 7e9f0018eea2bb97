"""The lengths and the pace of a draft's scenes as a picture: a bar for each, as high as the scene is long, its dialogue
and its action told apart, and a line for how long the scenes around it are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.pictures.shapes import Bar, DrawnMark, Picture, Stroke, Tone, WrittenWords
from screenplay.page import in_pages

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from review.scenes.breakdown import BreakdownRow

HEIGHT, FOOT, HEAD = 150, 20, 4
USUAL_WIDTH, LEAST_STEP, MOST_STEP = 720, 14, 72
NUMBER_ROOM = 28  # how far apart the numbers stand at least
AROUND = 2  # scenes on either side of one whose mean length is its pace


@dataclass(frozen=True, slots=True)
class SceneLength:
    """A scene, and the mean length in eighths of it and the AROUND scenes on either side."""

    row: BreakdownRow
    pace: float


@dataclass(frozen=True, slots=True)
class LengthsDrawn:
    """The picture, and the same scene by scene. `longest` is in eighths."""

    picture: Picture
    scenes: tuple[SceneLength, ...]
    longest: int


def draw_lengths(rows: Sequence[BreakdownRow], script: str) -> LengthsDrawn | None:
    """The lengths of some scenes, in the order given; None of none. `script` is the address of their pages."""
    longest = max((row.needs.eighths for row in rows), default=0)
    if not longest:
        return None
    scenes = tuple(SceneLength(row, _pace(rows, at)) for at, row in enumerate(rows))
    step = min(max(USUAL_WIDTH / len(rows), LEAST_STEP), MOST_STEP)
    pace = tuple((step * at + step / 2, _up(one.pace, longest)) for at, one in enumerate(scenes))
    marks = [mark for at, one in enumerate(scenes) for mark in _marks(one, at, step, longest, script)]
    if len(scenes) > 1:
        marks.append(DrawnMark((Stroke(pace, Tone.INK, 1.5),)))
    label = "A bar for each scene, as high as it is long, and a line for the mean of five scenes"
    picture = Picture("lengths", label, round(step * len(rows)), HEAD + HEIGHT + FOOT, marks)
    return LengthsDrawn(picture, scenes, longest)


def _pace(rows: Sequence[BreakdownRow], at: int) -> float:
    near = rows[max(at - AROUND, 0) : at + AROUND + 1]
    return sum(row.needs.eighths for row in near) / len(near)


def _up(eighths: float, longest: int) -> float:
    """How far from the top a height in eighths ends."""
    return round(HEAD + HEIGHT - HEIGHT * eighths / longest, 2)


def _marks(one: SceneLength, at: int, step: float, longest: int, script: str) -> Iterator[DrawnMark]:
    row, needs = one.row, one.row.needs
    x, width, foot = step * at + step * 0.1, step * 0.8, HEAD + HEIGHT
    top = _up(needs.eighths, longest)
    said_top = _up(needs.eighths * needs.dialogue_words / row.words if row.words else 0, longest)
    told = f"{needs.dialogue_words} words of dialogue, {needs.action_words} of action"
    yield DrawnMark(
        (Bar(x, top, width, foot - top, Tone.MIDDLE), Bar(x, said_top, width, foot - said_top, Tone.STRONG)),
        f"{row.number}. {row.place}: {in_pages(needs.eighths)}, {told}",
        f"{script}#L{needs.first_line}",
    )
    every = -(-NUMBER_ROOM // step)
    if at % every == 0:
        yield DrawnMark((WrittenWords(x, foot + 14, row.number, 10, Tone.SOFT),))
