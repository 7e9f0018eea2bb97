"""What a member takes away of a draft, each time kept in the log: PDFs with their name across, and, for those who put
drafts up, copies with no name on them: the source, plain text, a web page."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from review import log
from review.access import Deed, refuse_elsewhere, refuse_unless
from review.drafts.on_paper import header_of, name_across
from review.drafts.scripts import laid_out
from review.making.progress import teller
from review.printing.open_notes import open_notes
from screenplay.printing import print_pages, sides, typeset, web_page
from screenplay.script import part_of
from screenplay.tints import tint_named

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member
    from review.printing.revised_pages import Revised
    from screenplay import PaperSize

PAGES = "Its pages are set"
MOST_ABOUT = 200  # characters: no label is as long


class PagesNotLocked(Exception):
    """Raised where changed pages alone are wanted of drafts whose pages are not both locked."""


def print_draft(
    member: Member,
    draft: Draft,
    paper: PaperSize,
    *,
    scene_numbers: bool,
    with_notes: bool,
    for_writers_too: bool = False,
) -> bytes:
    """The draft as a PDF for this member, with the open notes they may read after it if wanted; `for_writers_too` takes
    in those for the writer's eyes only."""
    refuse_unless(member, Deed.READ)
    refuse_elsewhere(member, draft)
    data = typeset(
        laid_out(draft, paper),
        header=header_of(draft),
        scene_numbers=scene_numbers,
        title=draft.document_title,
        language=draft.production.script_language,
        name=name_across(member),
        notes=open_notes(member, draft, paper, for_writers_too=for_writers_too) if with_notes else None,
        turned=teller(PAGES),
    )
    told = {
        "number": draft.number,
        "paper": paper.name,
        "notes": with_notes,
        "for_writers": with_notes and for_writers_too,
    }
    log.record(member.person, log.Act.Verb.PRINTED_DRAFT, draft.production, draft.public_id, **told)
    return data


def print_sides(member: Member, draft: Draft, character: str, paper: PaperSize, *, scene_numbers: bool) -> bytes:
    """A character's sides from the draft as a PDF for this member.

    Raises `NotInScript` for a character who is in no scene of it.
    """
    refuse_unless(member, Deed.READ)
    refuse_elsewhere(member, draft)
    pages = laid_out(draft, paper)
    data = sides(
        pages,
        character,
        header=header_of(draft),
        scene_numbers=scene_numbers,
        title=f"{draft.document_title}, sides",
        language=draft.production.script_language,
        name=name_across(member),
        turned=teller(PAGES),
    )
    told = {"number": draft.number, "paper": paper.name, "character": part_of(pages.script, character).name}
    log.record(member.person, log.Act.Verb.PRINTED_SIDES, draft.production, draft.public_id, **told)
    return data


def print_revision(member: Member, revised: Revised, *, scene_numbers: bool, changed_only: bool, tinted: bool) -> bytes:
    """The revised pages as a PDF for this member: all pages, or, where they are locked, the changed ones alone. The log
    keeps that they took them. The revised pages alone say at their head what they are revised since, and in what
    colour; the others keep the draft's label and date.

    Raises `PagesNotLocked` for changed pages alone that would not fit into a printed copy.
    """
    draft, since = revised.draft, revised.since
    refuse_unless(member, Deed.READ)
    refuse_elsewhere(member, draft, since)
    if changed_only and not revised.is_locked:
        raise PagesNotLocked
    header = header_of(draft)
    start = f"Draft {draft.number}, rev. since draft {since.number}"
    data = typeset(
        revised.pages,
        header=replace(header, colour=""),
        revised_header=replace(header, start=start, label=draft.label),
        scene_numbers=scene_numbers,
        title=f"{draft.document_title}, revised since draft {since.number}",
        language=draft.production.script_language,
        name=name_across(member),
        marks=revised.marks,
        revised=revised.swapped,
        revised_only=changed_only,
        tint=tint_named(draft.colour) if tinted else None,
        turned=teller(PAGES),
    )
    told = {
        "number": draft.number,
        "since": since.number,
        "paper": revised.pages.layout.paper.name,
        "changed_only": changed_only,
    }
    log.record(member.person, log.Act.Verb.PRINTED_REVISION, draft.production, draft.public_id, **told)
    return data


def take_source(by: Member, draft: Draft) -> bytes:
    """The draft as it came in, byte for byte."""
    _refuse_copy(by, draft)
    copy = draft.upload_bytes()
    _log_copy(by, draft, "source")
    return copy


def take_text(by: Member, draft: Draft, paper: PaperSize, *, scene_numbers: bool) -> bytes:
    """The draft's pages typed in columns, UTF-8, with a form feed between pages."""
    _refuse_copy(by, draft)
    text = print_pages(laid_out(draft, paper).layout, scene_numbers=scene_numbers, counted=True)
    _log_copy(by, draft, "text")
    return text.encode()


def take_web_page(by: Member, draft: Draft, *, scene_numbers: bool) -> bytes:
    """The draft as one HTML file, UTF-8."""
    _refuse_copy(by, draft)
    page = web_page(
        laid_out(draft),
        title=draft.document_title,
        about=header_of(draft).text(MOST_ABOUT),
        language=draft.production.script_language,
        scene_numbers=scene_numbers,
    )
    _log_copy(by, draft, "html")
    return page.encode()


def _refuse_copy(by: Member, draft: Draft) -> None:
    """A copy without a name on it is for those who put drafts up."""
    refuse_unless(by, Deed.PUBLISH)
    refuse_elsewhere(by, draft)


def _log_copy(by: Member, draft: Draft, form: str) -> None:
    told = {"number": draft.number, "form": form}
    log.record(by.person, log.Act.Verb.DOWNLOADED_DRAFT, draft.production, draft.public_id, **told)
