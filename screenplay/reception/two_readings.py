"""Two readings compared: whether the scenes that lost readers in the first hold them in the second."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain
from typing import TYPE_CHECKING

from screenplay.reception.scene_marks import Clarity

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from screenplay.reception.scene_marks import SceneMark

_WORST = (Clarity.LOST, Clarity.SLOW, Clarity.CLEAR)


@dataclass(frozen=True, slots=True)
class SceneHold:
    """Of a scene that was marked in two readings: how many of how many it held, then and now. `same` are the readers
    of both who were lost or found it slow then, with whether it holds them now; `fresh` counts those who read only the
    second, and how many of them it holds. `is_cut` says that the second has no such scene, `is_new` that the first had
    none."""

    was_held: int
    was_marked: int
    is_held: int
    is_marked: int
    same: tuple[tuple[str, bool], ...]
    fresh_held: int
    fresh_marked: int
    is_cut: bool = False
    is_new: bool = False

    @property
    def verdict(self) -> str:
        """Whether it holds, in a word or a few."""
        if self.is_cut:
            return "cut"
        if self.is_new:
            return "new"
        if not self.was_marked or not self.is_marked:
            return "not read in both"
        then, now = self.was_held / self.was_marked, self.is_held / self.is_marked
        if now == then:
            return "as it was"
        return "holds better" if now > then else "loses more"


def worst_of_each(scenes: Iterable[Iterable[SceneMark]]) -> list[SceneMark]:
    """What each reader said of a scene that is several now: of these, the one they were lost in counts before one
    that was slow for them, and either before one that was clear."""
    found: dict[str, SceneMark] = {}
    for said in chain.from_iterable(scenes):
        worst = found.setdefault(said.reader, said)
        if _WORST.index(said.mark) < _WORST.index(worst.mark):
            found[said.reader] = said
    return list(found.values())


def scene_hold(
    then: Iterable[SceneMark], now: Iterable[SceneMark], *, is_cut: bool = False, is_new: bool = False
) -> SceneHold:
    """How a scene held its readers in one reading and in the next."""
    earlier = {each.reader: each.mark == Clarity.CLEAR for each in then}
    after = {each.reader: each.mark == Clarity.CLEAR for each in now}
    same = tuple(sorted((who, after[who]) for who, held in earlier.items() if who in after and not held))
    fresh = [held for who, held in after.items() if who not in earlier]
    return SceneHold(
        sum(earlier.values()),
        len(earlier),
        sum(after.values()),
        len(after),
        same,
        sum(fresh),
        len(fresh),
        is_cut,
        is_new,
    )


def hold_summary(lost: Sequence[SceneHold], losing: int = 0) -> str:
    """What became of the scenes that lost readers, in a sentence, and how many more are `losing` them now."""
    return f"{_of_the_lost(lost)} {_of_the_losing(losing, bool(lost))}".rstrip()


def _of_the_losing(losing: int, some_lost: bool) -> str:
    if not losing:
        return ""
    other = ("other " if losing == 1 else "others ") if some_lost else ""
    return f"{losing} {other}{'loses' if losing == 1 else 'lose'} them now."


def _of_the_lost(lost: Sequence[SceneHold]) -> str:
    if not lost:
        return "No scene lost two readers or more in the first of the two."
    said = (
        ("holds better", "hold better"),
        ("as it was", "are as they were"),
        ("loses more", "lose more"),
        ("cut", "are cut"),
        ("not read in both", "were not read in both"),
    )
    singular = {"as it was": "is as it was", "cut": "is cut", "not read in both": "was not read in both"}
    parts = []
    for verdict, plural in said:
        count = sum(each.verdict == verdict for each in lost)
        if count:
            parts.append(f"{count} {plural if count > 1 else singular.get(verdict, verdict)}")
    first = "Of the one scene that lost readers," if len(lost) == 1 else f"Of {len(lost)} scenes that lost readers,"
    return f"{first} {', '.join(parts)}."
