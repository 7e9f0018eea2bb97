"""Locking a production's pages, unlocking them, and the pages that each draft published meanwhile gets.

Pages are locked once the scene numbers are. As with these, a published draft keeps the pages it was published with, on
their paper: people hold them. So locking gives the current draft its pages as they are, once; each draft published
under the lock has them carried on to it, from the draft that is current by then; and unlocking changes no draft that
is out, but the next one fills its pages afresh. What a working draft was begun from, or merged with, plays no part:
its text alone is held against the current draft's. A draft that is withdrawn takes its pages along, so that the next
goes on from the one before it; put up again it has the pages that it had.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from review import log
from review.drafts.kept_pages import kept_pages
from review.drafts.numbering import current_as_seen, number_scenes, numbers_to_come
from review.drafts.scripts import compare_drafts, laid_out, laid_out_as
from screenplay import Kind
from screenplay.next_draft import carry_pages, placed_numbers
from screenplay.page import beginnings, in_pages, pages_with

if TYPE_CHECKING:
    from collections.abc import Iterator

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.productions.models import Production
    from screenplay import LaidOut, PageSetting
    from screenplay.page import LockedPage, Page, SceneNumber

Verb = log.Act.Verb


class NumbersNotLocked(Exception):
    """Raised where pages are to be locked before the scene numbers are."""


class LockedOtherwise(Exception):
    """Raised where the pages of the current draft were locked with another paper, or other blank lines, than the
    production has by now."""


@dataclass(frozen=True, slots=True)
class PageBeginning:
    """A page of a draft by its label: the scene that it begins in, by its number, "" before the first; and the first
    words on it. `unlocked` is the page that they would be on if the pages were not locked, and `begins_it` whether they
    would begin it."""

    label: str
    scene: str
    words: str
    unlocked: int
    begins_it: bool

    @property
    def changes(self) -> bool:
        """Whether it would begin elsewhere, or be called otherwise."""
        return not self.begins_it or self.label != str(self.unlocked)


@dataclass(frozen=True, slots=True)
class LockedLength:
    """How long something is while pages are not locked and while they are, as the trade writes it; `name` and `heading`
    are its scene's, both "" of the whole script."""

    name: str
    heading: str
    unlocked: str
    locked: str

    @property
    def changes(self) -> bool:
        return self.unlocked != self.locked


@dataclass(frozen=True, slots=True)
class LockedAndFree:
    """The pages of a draft, and how many the same text would fill without the lock; how long the whole is either way,
    and the scenes that are not as long with locked pages as without, since what these leave blank is in no length."""

    pages: tuple[PageBeginning, ...]
    unlocked: int
    whole: LockedLength
    other_lengths: tuple[LockedLength, ...]

    @property
    def changed(self) -> list[PageBeginning]:
        """The pages that would begin elsewhere, or be called otherwise."""
        return [page for page in self.pages if page.changes]


def locked_and_free(draft: Draft) -> LockedAndFree:
    """The pages of a draft as they stand, beside those of a next draft with the same text that fills them afresh."""
    numbers = draft.page_setting.scene_numbers
    now = laid_out(draft)
    without = laid_out_as(draft, replace(draft.production.page_setting, scene_numbers=numbers))
    free, locked = without.layout, beginnings(now.layout)
    kept = now if draft.locked_pages else laid_out_as(draft, replace(draft.page_setting, locked_pages=locked))
    free_to_begin = {begins[1:] for begins in beginnings(free)}
    told = zip(now.layout.pages, locked, pages_with(locked, free), strict=True)
    return LockedAndFree(
        tuple(
            PageBeginning(page.label, _scene_of(begins, now), _words(page), at, begins[1:] in free_to_begin)
            for page, begins, at in told
        ),
        len(free.pages),
        LockedLength("", "", in_pages(free.eighths), in_pages(kept.layout.eighths)),
        tuple(length for length in _lengths(without, kept) if length.changes),
    )


def _lengths(without: LaidOut, kept: LaidOut) -> Iterator[LockedLength]:
    """Every scene's length on the pages of the same text that are not locked, and on those that are."""
    for ordinal, (free, locked) in enumerate(zip(without.scenes, kept.scenes, strict=True), 1):
        name = locked.number or str(ordinal)
        yield LockedLength(name, locked.heading, in_pages(free.eighths), in_pages(locked.eighths))


def setting_to_come(draft: Draft, latest: Draft | None, production: Production) -> PageSetting:
    """How a text is laid out when it is put up after the latest draft: where they are locked, with that draft's scene
    numbers and its pages carried on to it."""
    return _setting(draft, placed_numbers(numbers_to_come(draft, latest, production)), latest, production)


def carry_locks(draft: Draft, latest: Draft | None, production: Production) -> None:
    """Give a draft that is about to be stored its scene numbers and its pages, carried on from the latest one, where
    they are locked."""
    number_scenes(draft, latest, production)
    _give_pages(draft, latest, production)


def keep_locks(production: Production) -> None:
    """Give the draft that has become current by another's withdrawal or return its scene numbers and its pages, where
    they are locked and it has none yet: carried on from the draft before it, or else as they stand."""
    draft = production.drafts.current()
    if draft is None:
        return
    before = production.drafts.standing().filter(number__lt=draft.number).last()
    if draft.scene_numbers is None:
        number_scenes(draft, before if before and before.scene_numbers else None, production)
    if draft.locked_pages is None:
        _give_pages(draft, before, production)
    draft.save(update_fields=["scene_numbers", "locked_pages"])


@transaction.atomic
def lock_pages(by: Member, seen: int) -> bool:
    """Lock the pages as they stand in the current draft; whether they were not locked yet.

    `seen` is the number of the draft whose pages the locker saw. Raises `NewDraftMeanwhile` where another is current by
    now, `NumbersNotLocked` before the scene numbers are locked, and `LockedOtherwise`.
    """
    production, draft = current_as_seen(by, seen)
    if production.pages_locked_at is not None:
        return False
    if production.scene_numbers_locked_at is None:
        raise NumbersNotLocked
    if draft.locked_pages is None:
        draft.locked_pages = kept_pages(laid_out(draft).layout)
        draft.save(update_fields=["locked_pages"])
    elif not draft.is_as_set_up:
        raise LockedOtherwise
    production.pages_locked_at = timezone.now()
    production.save(update_fields=["pages_locked_at"])
    _record(by, Verb.LOCKED_PAGES, production, draft)
    return True


@transaction.atomic
def unlock_pages(by: Member, seen: int) -> bool:
    """Let the next draft fill its pages afresh; whether they were locked. `seen` is as above."""
    production, draft = current_as_seen(by, seen)
    if production.pages_locked_at is None:
        return False
    production.pages_locked_at = None
    production.save(update_fields=["pages_locked_at"])
    _record(by, Verb.UNLOCKED_PAGES, production, draft)
    return True


def _setting(
    draft: Draft, numbers: tuple[SceneNumber, ...], latest: Draft | None, production: Production
) -> PageSetting:
    if production.pages_locked_at is None or latest is None or latest.locked_pages is None:
        return replace(production.page_setting, scene_numbers=numbers)
    was = latest.page_setting
    carried = carry_pages(was.locked_pages, compare_drafts(latest, draft), was.scene_numbers, numbers)
    return replace(was, scene_numbers=numbers, locked_pages=carried)


def _give_pages(draft: Draft, latest: Draft | None, production: Production) -> None:
    if production.pages_locked_at is not None:
        setting = _setting(draft, draft.page_setting.scene_numbers, latest, production)
        draft.locked_pages = kept_pages(laid_out_as(draft, setting).layout)


def _scene_of(begins: LockedPage, pages: LaidOut) -> str:
    if begins.line is None:
        return begins.omitted
    ordinal = pages.script.scene_of[begins.line - 1]
    return (pages.scenes[ordinal - 1].number or str(ordinal)) if ordinal else ""


def _words(page: Page) -> str:
    """The first words on a page, with the cue above them where it begins with one."""
    rows = [row for row in page.rows if row.text.strip()]
    shown = 2 if rows and rows[0].kind is Kind.CHARACTER else 1
    return ": ".join(" ".join(row.text.split()) for row in rows[:shown])


def _record(by: Member, verb: log.Act.Verb, production: Production, draft: Draft) -> None:
    labels = [page.label for page in draft.page_setting.locked_pages]
    log.record(by.person, verb, production, draft.public_id, number=draft.number, pages=labels)
