"""A draft's revised pages: what of them changed since an earlier draft, and which are swapped in a printed copy."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from review.drafts.page_words import pages_in_words
from review.drafts.scripts import compare_drafts, laid_out
from screenplay.next_draft import RevisionMarks, marked_rows, marks_between
from screenplay.page import page_swap, swap_from_first_change

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from screenplay import LaidOut, PaperSize
    from screenplay.page import PageSwap


@dataclass(frozen=True)
class Revised:
    """A draft, laid out, and what of it is revised since an earlier one, laid out as `before`."""

    since: Draft
    draft: Draft
    before: LaidOut
    pages: LaidOut
    marks: RevisionMarks

    @property
    def is_locked(self) -> bool:
        """Whether both drafts have locked pages, so that the changed ones alone can be swapped."""
        return self.since.locked_pages is not None and self.draft.locked_pages is not None

    @cached_property
    def swap(self) -> PageSwap:
        """The pages to swap so that a printed copy of the earlier draft becomes one of this: where pages are locked
        those that changed, else all from the first change on."""
        find = page_swap if self.is_locked else swap_from_first_change
        return find(self.before.layout, self.pages.layout)

    @cached_property
    def rows(self) -> dict[int, frozenset[int]]:
        """The rows that get an asterisk, by page."""
        return marked_rows(self.pages.layout, self.marks, self.swapped)

    @property
    def why_all(self) -> str:
        """Why all pages are swapped from the first change on, where they are; "" where only locked ones are."""
        if self.is_locked:
            return ""
        since = self.since.number
        if self.draft.locked_pages is None:
            told = "The pages are not locked, so a change moves what stands behind it"
        else:
            told = f"The pages of draft {since} were not locked yet"
        told += ": all of them are swapped from the first change on."
        if self.since.scene_numbers is None and self.draft.scene_numbers is not None:
            told += f" The scene numbers were not locked in draft {since}, and now stand beside each heading:"
            told += " that alone changes a page."
        return told

    @property
    def swapped(self) -> tuple[str, ...] | None:
        """The pages that are swapped in, where they are locked; None where they are not."""
        return self.swap.into if self.is_locked else None

    @property
    def asterisks(self) -> int:
        return sum(map(len, self.rows.values()))

    @property
    def out_words(self) -> str:
        """The pages that come out, such as "pages 12 to 14 and 17"."""
        return pages_in_words(self.swap.out, self.before.layout)

    @property
    def into_words(self) -> str:
        """The pages that go in."""
        return pages_in_words(self.swap.into, self.pages.layout)


def revised_since(since: Draft, draft: Draft, paper: PaperSize | None = None) -> Revised:
    """What is revised in a draft since an earlier one, on its paper or on another; locked pages are on their own."""
    before = laid_out(since, paper if since.locked_pages is None else None)
    numbers = (each.page_setting.scene_numbers for each in (since, draft))
    marks = marks_between(compare_drafts(since, draft), *numbers)
    return Revised(since, draft, before, laid_out(draft, paper), marks)
