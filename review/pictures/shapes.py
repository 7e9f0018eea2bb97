"""A picture as plain shapes, before it is a file or a part of a page: what stands where, in which tone, what it says
and where it leads."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

Point = tuple[float, float]


class Tone(StrEnum):
    """How strongly something stands out from the paper, told by lightness first, so that no eye has to tell hues."""

    INK = "ink"
    STRONG = "strong"
    SOFT = "soft"
    MIDDLE = "middle"
    FAINT = "faint"
    PAPER = "paper"


class Anchor(StrEnum):
    """Which part of some words stands where they are put."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Bar:
    """A box, from its left upper corner."""

    x: float
    y: float
    width: float
    height: float
    tone: Tone
    edge: Tone | None = None


@dataclass(frozen=True, slots=True)
class Band:
    """What lies within some points, in order."""

    points: tuple[Point, ...]
    tone: Tone
    edge: Tone | None = None


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line from point to point."""

    points: tuple[Point, ...]
    tone: Tone
    width: float = 1


@dataclass(frozen=True, slots=True)
class Disc:
    """A round mark, from its middle."""

    x: float
    y: float
    radius: float
    tone: Tone


@dataclass(frozen=True, slots=True)
class WrittenWords:
    """A line of words on the line of its letters."""

    x: float
    y: float
    text: str
    size: float = 11
    tone: Tone = Tone.INK
    anchor: Anchor = Anchor.START


Shape = Bar | Band | Stroke | Disc | WrittenWords


@dataclass(frozen=True, slots=True)
class DrawnMark:
    """Shapes that stand for one thing: what that is in words, and the address of its lines; "" where it has none."""

    shapes: tuple[Shape, ...]
    says: str = ""
    to: str = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture of `width` by `height` units, of which there are 96 to the inch; `name` is for style sheets and files,
    `label` says what it shows."""

    name: str
    label: str
    width: int
    height: int
    marks: Sequence[DrawnMark]


def cut(text: str, most: int) -> str:
    """A text of at most so many characters."""
    return text if len(text) <= most else text[: most - 1] + "…"
