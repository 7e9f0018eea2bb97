"""A draft's revised pages as a PDF: what of them changed since an earlier draft, on paper of the revision's colour."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from review import log
from review.access import Deed, refuse_unless
from review.drafts.on_paper import header_of, name_across, title_of
from review.drafts.scripts import compare_drafts, laid_out
from screenplay.next_draft import RevisionMarks, marked_rows, marks_between
from screenplay.printing import typeset
from screenplay.tints import tint_named

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member
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


def print_revision(member: Member, revised: Revised, *, scene_numbers: bool, changed_only: bool, tinted: bool) -> bytes:
    """The revised pages as a PDF for this member: all pages, or the changed ones alone. The log keeps that they took
    them."""
    refuse_unless(member, Deed.READ)
    draft, since = revised.draft, revised.since
    start = f"Draft {draft.number}, rev. since draft {since.number}"
    data = typeset(
        revised.pages,
        header=replace(header_of(draft), start=start, label=draft.label),
        scene_numbers=scene_numbers,
        title=f"{title_of(draft)}, revised since draft {since.number}",
        language=draft.production.script_language,
        name=name_across(member),
        marks=revised.marks,
        marked_pages_only=changed_only,
        tint=tint_named(draft.colour) if tinted else None,
    )
    told = {
        "number": draft.number,
        "since": since.number,
        "paper": revised.pages.layout.paper.name,
        "changed_only": changed_only,
    }
    log.record(member.person, log.Act.Verb.PRINTED_REVISION, draft.production, draft.public_id, **told)
    return data
