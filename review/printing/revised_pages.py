"""A draft's revised pages: what of them changed since an earlier draft."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from review.drafts.scripts import compare_drafts, laid_out
from screenplay.next_draft import RevisionMarks, marked_rows, marks_between

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from screenplay import LaidOut, Paper


@dataclass(frozen=True)
class Revised:
    """A draft, laid out, and what of it is revised since an earlier one."""

    since: Draft
    draft: Draft
    pages: LaidOut
    marks: RevisionMarks

    @cached_property
    def rows(self) -> dict[int, frozenset[int]]:
        """The rows that get an asterisk, by page."""
        return marked_rows(self.pages.layout, self.marks)

    @property
    def page_numbers(self) -> list[int]:
        """The numbers of the pages that have any."""
        return list(self.rows)

    @property
    def asterisks(self) -> int:
        return sum(map(len, self.rows.values()))


def revised_since(since: Draft, draft: Draft, paper: Paper | None = None) -> Revised:
    """What is revised in a draft since an earlier one, on its production's paper or on another."""
    numbers = (each.page_setting.scene_numbers for each in (since, draft))
    return Revised(since, draft, laid_out(draft, paper), marks_between(compare_drafts(since, draft), *numbers))
