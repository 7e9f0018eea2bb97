"""What a text would be as the next draft, before it is up: its pages, what it changes, what becomes of the notes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.changes.reading_order import changes_between
from review.drafts.drawn_pages import draw_rows
from review.drafts.page_words import pages_in_words
from review.drafts.paging import setting_to_come
from review.drafts.scripts import laid_out, laid_out_as
from review.notes.fates import fates_to_come
from review.notes.models import Fate
from review.publishing.doubts import doubts_about
from review.publishing.lacked_wordings import lacked_wordings
from review.publishing.remarks import remarks
from screenplay.page import PageSwap, page_swap

if TYPE_CHECKING:
    from django.utils.safestring import SafeString

    from review.drafts.models import Draft
    from review.notes.fates import FatesSinceBefore
    from review.notes.then_and_now import NextText
    from review.people.models import Member
    from review.publishing.lacked_wordings import LackedWording
    from review.publishing.remarks import Remark
    from screenplay import LaidOut

FIRST_PAGES = 3


@dataclass(frozen=True, slots=True)
class FateCounts:
    """What a draft does to the notes left before it, since the draft before: (fate, its name, how many), and how many
    were gone already or are found again."""

    before: Draft
    fates: list[tuple[str, str, int]]
    gone_already: int
    found_again: int

    @property
    def keep_their_lines(self) -> int:
        """How many notes have their lines in it, moved or reworded ones too."""
        return sum(count for fate, _, count in self.fates if fate != Fate.GONE) + self.found_again

    @property
    def in_all(self) -> int:
        return sum(count for _, _, count in self.fates) + self.found_again + self.gone_already


def counted(told: FatesSinceBefore) -> FateCounts | None:
    """The fates of notes as figures; None where no note was left before the draft."""
    if told.before is None or not (told.fates or told.gone_already or told.found_again):
        return None
    fates = [(fate.value, str(fate.label), told.count(fate)) for fate in Fate]
    return FateCounts(told.before, fates, told.gone_already, told.found_again)


@dataclass(frozen=True, slots=True)
class SinceCurrent:
    """What a text changes in the current draft, `before`: pages more or fewer; where pages are locked, those that come
    out of a printed copy and those that go in; scenes and lines as Changes will count them, each sort with how many,
    the lines that only moved with their scenes and those that never print; and what becomes of the notes, None where
    there are none."""

    before: Draft
    pages: int
    out: str
    into: str
    scenes: list[tuple[str, int]]
    lines: list[tuple[str, int]]
    moved_with_scenes: int
    unprinted: int
    notes: FateCounts | None

    @property
    def fewer_pages(self) -> int:
        return -self.pages


@dataclass(frozen=True, slots=True)
class FirstLook:
    """A text as the pages it would be, what is to be warned of in it, what makes one doubt that it is meant, and what
    it changes, None where there is no draft before it."""

    pages: LaidOut
    remarks: tuple[Remark, ...]
    doubts: list[str]
    since: SinceCurrent | None
    lacked: list[LackedWording]

    @property
    def first_pages(self) -> list[tuple[str, SafeString]]:
        """The title page, "" by its label, and the first pages, each by its label, as HTML."""
        layout = self.pages.layout
        pages = [(page.label, page.rows) for page in layout.pages[:FIRST_PAGES]]
        return [(label, draw_rows(rows)) for label, rows in [("", layout.title_page), *pages] if rows]


def first_look(by: Member, following: NextText) -> FirstLook:
    """What a writer is shown of a text before it goes up."""
    draft, production = following.draft, by.production
    before = production.drafts.current()
    pages = laid_out_as(draft, setting_to_come(draft, before, production))
    since = _since(by, before, following, pages) if before else None
    lacked = lacked_wordings(by, following)
    return FirstLook(pages, remarks(pages.script), doubts_about(draft.text, production), since, lacked)


def _since(by: Member, before: Draft, following: NextText, pages: LaidOut) -> SinceCurrent:
    changes = changes_between(before, following.draft, with_source=True)
    printed = laid_out(before)
    is_locked = by.production.pages_locked_at is not None and before.locked_pages is not None
    swap = page_swap(printed.layout, pages.layout) if is_locked else PageSwap((), ())
    notes = by.production.notes.visible_to(by).not_withdrawn()
    return SinceCurrent(
        before=before,
        pages=pages.page_count - printed.page_count,
        out=pages_in_words(swap.out, printed.layout),
        into=pages_in_words(swap.into, pages.layout),
        scenes=[(word, count) for count, word in changes.scene_counts],
        lines=[(word, count) for count, word in changes.line_counts],
        moved_with_scenes=changes.moved_with_scenes,
        unprinted=changes.unprinted,
        notes=counted(fates_to_come(notes, following)),
    )
