"""Which scenes lose whom, by the marks that readers gave at each scene's end."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from screenplay.reception.central_words import said_by_most

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

FEWEST_LOST = 2
SHARE_LOST = 1 / 3
MOST_NAMED = 3


class Clarity(StrEnum):
    """A reader's word on a scene."""

    CLEAR = "clear"
    LOST = "lost"
    SLOW = "slow"


@dataclass(frozen=True, slots=True)
class SceneMark:
    """What one reader said at a scene's end, and why if they said so."""

    reader: str
    mark: Clarity
    why: str = ""


@dataclass(frozen=True, slots=True)
class SceneMarks:
    """A scene's name, as the sentence has it, and what was said at its end."""

    name: str
    marks: tuple[SceneMark, ...]

    def by(self, mark: Clarity) -> tuple[str, ...]:
        """Who gave this mark, by name."""
        return tuple(sorted(each.reader for each in self.marks if each.mark == mark))

    @property
    def not_held(self) -> int:
        """How many were lost in it or found it slow."""
        return sum(each.mark != Clarity.CLEAR for each in self.marks)

    @property
    def loses(self) -> bool:
        """Whether it loses readers: two of them at least, and a third of those who marked it."""
        return self.not_held >= max(FEWEST_LOST, SHARE_LOST * len(self.marks))


@dataclass(frozen=True, slots=True)
class LostScene:
    """A scene that loses readers: who was lost, who found it slow, and what most of them say about it."""

    ordinal: int
    name: str
    lost: tuple[str, ...]
    slow: tuple[str, ...]
    said: str
    marked_by: int


def lost_scenes(scenes: Mapping[int, SceneMarks]) -> tuple[LostScene, ...]:
    """The scenes that lose readers, those that lose most first: by how many were lost, then by how many found it slow,
    then in script order."""
    found = [
        LostScene(
            ordinal,
            scene.name,
            scene.by(Clarity.LOST),
            scene.by(Clarity.SLOW),
            said_by_most([each.why for each in scene.marks if each.mark != Clarity.CLEAR]),
            len(scene.marks),
        )
        for ordinal, scene in scenes.items()
        if scene.loses
    ]
    return tuple(sorted(found, key=lambda scene: (-len(scene.lost), -len(scene.slow), scene.ordinal)))


def summary(lost: Sequence[LostScene], readers: int) -> str:
    """What the reading showed, in a sentence or a few: which scenes lose whom, and what most say about it."""
    if not readers:
        return "Nobody has marked a scene yet."
    if not lost:
        return "No scene loses two readers or more, of those who marked it."
    count = "One scene loses" if len(lost) == 1 else f"{_number(len(lost)).capitalize()} scenes lose"
    told = [_told(scene) for scene in lost[:MOST_NAMED]]
    more = len(lost) - len(told)
    rest = f" The other {_number(more)} are below." if more > 1 else " The other one is below." * more
    return f"{count} readers. " + " ".join(told) + rest


def _told(scene: LostScene) -> str:
    parts = []
    if scene.lost:
        parts.append(f"loses {_listed(scene.lost)}")
    if scene.slow:
        parts.append(f"is slow for {_listed(scene.slow)}")
    said = f": “{scene.said.rstrip('.')}”" if scene.said else ""
    return f"{scene.name} {' and '.join(parts)}{said}."


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def _number(count: int) -> str:
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)
