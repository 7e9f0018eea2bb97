"""What members do with notes as files: take them away, and bring them in; each time kept in the log."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

from django.db import transaction

from review import log
from review.access import Deed, may, refuse_elsewhere, refuse_unless
from review.exchange.annotations import as_json_ld
from review.exchange.bringing import coming_in
from review.exchange.note_table import notes_as_csv
from review.exchange.noted_source import as_fountain
from review.exchange.printed_notes import as_pdf
from review.exchange.taken_notes import taken_notes
from review.findable.indexing import index_note, index_reply
from review.notes.acts import standing_on, wording_of
from review.notes.carrying import carry_to_later_drafts, compare_with_later
from review.notes.models import Note, Reply
from review.productions.models import lock_for

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.exchange.bringing import Coming, ComingNote, ComingReply
    from review.exchange.read_annotations import ReadFile
    from review.exchange.taken_notes import WhichNotes
    from review.people.models import Member

CSV, FOUNTAIN, JSON, PDF = "csv", "fountain", "json", "pdf"


def take_notes(member: Member, draft: Draft, form: str, choice: WhichNotes) -> bytes:
    """The notes on a draft that the member may read, as "csv", "json", "pdf" or "fountain"; the last has the draft's
    own source in it, and so is for those who put drafts up."""
    refuse_unless(member, Deed.PUBLISH if form == FOUNTAIN else Deed.READ)
    refuse_elsewhere(member, draft)
    taken = taken_notes(member, draft, choice)
    if form == CSV:
        file = notes_as_csv(taken)
    elif form == FOUNTAIN:
        file = as_fountain(taken)
    elif form == PDF:
        file = as_pdf(member, taken)
    else:
        file = as_json_ld(taken, shows_all=may(member, Deed.PUBLISH))
    told = {"number": draft.number, "as": form, "notes": len(taken.cards), "for_writers": choice.for_writers_too}
    log.record(member.person, log.Act.Verb.TOOK_NOTES, draft.production, draft.public_id, **told)
    return file


def bring_in_notes(by: Member, read: ReadFile) -> Coming:
    """Take in what a file holds that is not here yet, as it stands by now; what came in.

    What was said by a member is theirs. What was said by anybody else keeps their name, and is the bringer's to take
    back. Each says who brought it. What is decided here is decided here.
    """
    refuse_unless(by, Deed.BRING_IN)
    for draft in {note.draft.pk: note.draft for note in coming_in(by, read).notes}.values():
        compare_with_later(draft)  # kept for the transaction, which holds up other people's while it lasts
    return _bring_in(by, read)


@transaction.atomic
def _bring_in(by: Member, read: ReadFile) -> Coming:
    production = lock_for(by, Deed.BRING_IN)
    coming = coming_in(by, read)
    made = {one.read.iri: _bring_note(by, one).pk for one in coming.notes}
    for one in coming.replies:
        _bring_reply(by, one, one.note_id or made[one.read.note])
    if not coming.is_empty:
        told = {"notes": len(coming.notes), "replies": len(coming.replies)}
        log.record(by.person, log.Act.Verb.BROUGHT_IN_NOTES, production, production.public_id, **told)
    return coming


def _bring_note(by: Member, coming: ComingNote) -> Note:
    read = coming.read
    note = Note.objects.create(
        **standing_on(coming.draft, coming.span),
        **_said(by, coming),
        kind=read.kind,
        subject=coming.subject,
        character=coming.character,
        body=read.body,
        wording=wording_of(coming.draft, coming.subject, coming.span, read.wording),
        audience=read.audience,
    )
    carry_to_later_drafts(note)
    index_note(note)
    return note


def _bring_reply(by: Member, coming: ComingReply, note_id: int) -> None:
    body = coming.read.body or coming.read.wording or ""
    reply = Reply.objects.create(note_id=note_id, body=body, **_said(by, coming))
    index_reply(by.production_id, reply.pk, body)


def _said(by: Member, coming: ComingNote | ComingReply) -> dict[str, Any]:
    """Who said it, and where it came from."""
    return {
        "form_id": uuid.uuid4(),
        "author": coming.said_by or by,
        "said_by": "" if coming.said_by else coming.read.name,
        "said_at": coming.read.said_at,
        "iri": coming.read.iri,
        "brought_by": by,
    }
