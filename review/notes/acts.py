"""What members do with notes: leave one, reply to one, take back their own. Each is one transaction, and logged."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, may_withdraw, refuse_elsewhere, refuse_unless
from review.notes.carrying import carry_to_later_drafts, compare_with_later
from review.notes.lines import check, quote, whole_lines
from review.notes.models import Audience, Note, Reply, Subject
from review.notes.subjects import whole_subject
from review.productions.models import lock_for

if TYPE_CHECKING:
    import uuid

    from review.drafts.models import Draft
    from review.people.models import Member
    from screenplay import Span

NOT_TO_ANSWER = "Only a note that one can read, and that stands, can be replied to."


def leave_note(
    author: Member,
    draft: Draft,
    span: Span,
    kind: str,
    body: str,
    wording: str | None = None,
    audience: str = Audience.EVERYONE,
    *,
    subject: str = Subject.LINES,
    character: str = "",
    form_id: uuid.UUID,
) -> Note:
    """Leave a note on a draft's lines, or on the scene that they begin in, or on a character; the same form sent again
    finds the note it made.

    `wording` replaces exactly the span's lines, whole; one that equals them is no wording, and only a note on lines has
    one. Raises NoSuchLines when the draft does not have the span, no scene there, or nobody called `character`, and
    PermissionDenied for whoever is not, or no longer, in the draft's production.
    """
    refuse_unless(author, Deed.NOTE)
    refuse_elsewhere(author, draft)
    check(draft.text, span)
    span, character = whole_subject(draft, subject, span, character)
    if subject != Subject.LINES:
        wording = None
    if wording is not None and wording == whole_lines(draft.text, span.first_line, span.last_line):
        wording = None
    said = {
        "production_id": author.production_id,
        "draft": draft,
        "kind": kind,
        "subject": subject,
        "character": character,
        "first_line": span.first_line,
        "first_char": span.first_char,
        "last_line": span.last_line,
        "last_char": span.last_char,
        "quoted": quote(draft.text, span),
        "body": body,
        "wording": wording,
        "audience": audience,
    }
    compare_with_later(draft)  # kept for the transaction, which holds up other people's while it lasts
    return _leave(author, form_id, said)


@transaction.atomic
def _leave(author: Member, form_id: uuid.UUID, said: dict[str, Any]) -> Note:
    lock_for(author, Deed.NOTE)
    note, made = Note.objects.get_or_create(form_id=form_id, author=author, defaults=said)
    if made:
        carry_to_later_drafts(note)
        log.record(
            author.person,
            log.Act.Verb.LEFT_NOTE,
            author.production,
            note.public_id,
            draft=note.draft.number,
            **{name: said[name] for name in ("kind", "subject", "first_line", "last_line")},
        )
    return note


@transaction.atomic
def reply(author: Member, note: Note, body: str, form_id: uuid.UUID) -> Reply:
    """Reply to a note; the same form sent again finds the reply it made.

    Raises PermissionDenied where the author may not read the note, or where it was withdrawn.
    """
    refuse_unless(author, Deed.NOTE)
    if not Note.objects.visible_to(author).not_withdrawn().filter(pk=note.pk).exists():
        raise PermissionDenied(NOT_TO_ANSWER)
    reply, made = Reply.objects.get_or_create(form_id=form_id, author=author, defaults={"note": note, "body": body})
    if made:
        log.record(author.person, log.Act.Verb.REPLIED, author.production, reply.public_id, note=note.public_id)
    return reply


@transaction.atomic
def withdraw_note(by: Member, note: Note) -> None:
    """Take back one's own note. It is kept, and no longer shown to others. Doing it again changes nothing."""
    _take_back(by, note, log.Act.Verb.WITHDREW_NOTE)


@transaction.atomic
def withdraw_reply(by: Member, reply: Reply) -> None:
    """Take back one's own reply. It is kept, and no longer shown to others. Doing it again changes nothing."""
    _take_back(by, reply, log.Act.Verb.WITHDREW_REPLY)


def _take_back(by: Member, written: Note | Reply, verb: log.Act.Verb) -> None:
    if not may_withdraw(by, written):
        raise PermissionDenied("Only the person who wrote this can withdraw it.")
    standing = type(written).objects.filter(pk=written.pk, withdrawn_at=None)
    if standing.update(withdrawn_at=timezone.now()):
        log.record(by.person, verb, by.production, written.public_id)
    written.refresh_from_db(fields=["withdrawn_at"])
