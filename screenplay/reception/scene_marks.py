"""Which scenes lose whom, by the marks that readers gave at each scene's end."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from screenplay.reception.words_that_tell import words_of_most

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

FEWEST_LOST = 2
SHARE_LOST = 1 / 3
MOST_NAMED = 3
MOST_WORDS = 3  # that most of them say


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

    def of(self, mark: Clarity) -> tuple[SceneMark, ...]:
        """What those said who gave this mark, in the order of their names."""
        return tuple(sorted((each for each in self.marks if each.mark == mark), key=lambda each: each.reader))

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
    """A scene that loses readers, or is slow for them: what those said who were lost, and who found it slow."""

    ordinal: int
    name: str
    lost: tuple[SceneMark, ...]
    slow: tuple[SceneMark, ...]


def lost_scenes(scenes: Mapping[int, SceneMarks]) -> tuple[LostScene, ...]:
    """The scenes that lose readers, those that lose most first: by how many were lost, then by how many found it slow,
    then in script order."""
    found = [
        LostScene(
            ordinal,
            scene.name,
            scene.of(Clarity.LOST),
            scene.of(Clarity.SLOW),
        )
        for ordinal, scene in scenes.items()
        if scene.loses
    ]
    return tuple(sorted(found, key=lambda scene: (-len(scene.lost), -len(scene.slow), scene.ordinal)))


def summary(lost: Sequence[LostScene], readers: int) -> str:
    """What the reading showed, in a sentence or a few: how many scenes lose readers, how many are no more than slow,
    and of the first few for whom, each with what they said of it, and the words that most of them say."""
    if not readers:
        return "Nobody has marked a scene yet."
    if not lost:
        return "No scene loses two readers or more, of those who marked it."
    told = [_told(scene) for scene in lost[:MOST_NAMED]]
    more = len(lost) - len(told)
    rest = f" The other {_number(more)} are below." if more > 1 else " The other one is below." * more
    return f"{_counted(lost)} {' '.join(told)}{rest}"


def _counted(lost: Sequence[LostScene]) -> str:
    """How many scenes lost somebody, and how many were slow and lost nobody."""
    losing = sum(bool(scene.lost) for scene in lost)
    slow = len(lost) - losing
    of_scenes = "" if losing else f" scene{'' if slow == 1 else 's'}"
    is_slow = f"{_number(slow)}{of_scenes} {'is' if slow == 1 else 'are'} slow"
    loses = f"{_number(losing)} {'scene loses' if losing == 1 else 'scenes lose'} readers"
    sentence = ", ".join([loses] * bool(losing) + [is_slow] * bool(slow))
    return f"{sentence[0].upper()}{sentence[1:]}."


def _told(scene: LostScene) -> str:
    parts = []
    if scene.lost:
        parts.append(f"loses {_listed(scene.lost)}")
    if scene.slow:
        parts.append(f"is slow for {_listed(scene.slow)}")
    shared = words_of_most([each.why for each in (*scene.lost, *scene.slow) if each.why.strip()])[:MOST_WORDS]
    most = f" Most say {' and '.join(f'“{word}”' for word in shared)}." if shared else ""
    return f"{scene.name} {' and '.join(parts)}.{most}"


def _listed(marks: Sequence[SceneMark]) -> str:
    """Who they are, each with what they said of it, if they did."""
    names = [f"{each.reader} (“{why.rstrip('.')}”)" if (why := each.why.strip()) else each.reader for each in marks]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def _number(count: int) -> str:
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)
