"""Which departments a scene concerns as it stands, by what of it stands on their lists or was marked for them.

Those that answer for the whole film are concerned by every scene: they are told where something was marked for them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.changes.department_rules import EVERY_CAUTION, TRADES, cautions_for
from review.people.models import Department
from screenplay.breakdown import each_once

if TYPE_CHECKING:
    from collections.abc import Iterable

    from screenplay.breakdown import Find, FoundMarkedWord, SceneNeeds


@dataclass(frozen=True, slots=True)
class ConcernedDepartment:
    """A department and why a scene concerns it: words with their lines, found for cautions, found by its list, and
    marked for it."""

    department: Department
    cautions: tuple[Find, ...]
    words: tuple[Find, ...]
    marked: tuple[FoundMarkedWord, ...] = ()

    @property
    def name(self) -> str:
        return str(self.department.label)

    @property
    def words_on_lines(self) -> list[tuple[str, int]]:
        """All the words with their lines, each once, in the order of the lines."""
        told = [(find.words, find.line) for find in (*self.cautions, *self.words)]
        told += [(each.words, each.line) for each in self.marked]
        first: dict[str, tuple[str, int]] = {}
        for words, line in sorted(told, key=lambda each: each[1]):
            first.setdefault(words.casefold(), (words, line))
        return list(first.values())

    @property
    def told(self) -> str:
        """The words alone, in one line."""
        return ", ".join(each_once(words for words, _ in self.words_on_lines))


def concerned_departments(scene: SceneNeeds, marked: Iterable[FoundMarkedWord] = ()) -> list[ConcernedDepartment]:
    """Whom a scene concerns, in the order of the departments, by what stands in it; `marked` are the finds in it of
    words that departments marked."""
    marks = list(marked)
    keys = {find.key for find in scene.cautions}
    found: list[ConcernedDepartment] = []
    for department in Department:
        wanted = frozenset() if department in EVERY_CAUTION else cautions_for(department, keys)
        one = ConcernedDepartment(
            department,
            tuple(find for find in scene.cautions if find.key in wanted),
            tuple(find for find in scene.department_words if find.key == TRADES.get(department)),
            tuple(each for each in marks if each.sought.department == department),
        )
        if one.cautions or one.words or one.marked:
            found.append(one)
    return found
