"""What members do with notes: leave one, reply, change or take back their own. Each is one logged transaction."""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace
from typing import TYPE_CHECKING, Any

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, may_change, refuse_elsewhere, refuse_unless
from review.findable.indexing import index_note, index_reply
from review.mail.acts import tell_by_mail
from review.mail.models import Occasion
from review.notes.carrying import carry_to_later_drafts, compare_with_later
from review.notes.lines import check, quote, whole_lines
from review.notes.models import Audience, EarlierText, Note, Reply, Subject
from review.notes.pace import refuse_haste
from review.notes.subjects import whole_subject
from review.notes.threads import NOT_YOURS, note_to_answer, others_in_thread, put_back, take_back
from review.productions.models import lock_for
from review.records import sent_before

if TYPE_CHECKING:
    import uuid

    from review.drafts.models import Draft
    from review.people.models import Member
    from screenplay import Span

WITHDRAWN = "This draft was withdrawn, so no notes are left on it."


class ChangedMeanwhile(Exception):
    """The note's author has changed its words since they were shown."""


class AnsweredMeanwhile(Exception):
    """Somebody has replied to the note, or decided it: its words can be corrected, and no longer changed."""


@dataclass(frozen=True, slots=True)
class NoteWords:
    """All that a note's author may change of it, as long as nobody has answered it."""

    kind: str
    body: str
    wording: str | None
    audience: str


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
    finds the note it made, and the same words of the same lines in another form find the note that says them.

    `wording` replaces exactly the span's lines, whole; one that equals them is no wording, and only a note on lines has
    one. Raises NoSuchLines when the draft does not have the span, no scene there, or nobody called `character`, and
    PermissionDenied for whoever is not, or no longer, in the draft's production. Raises TooFast where one member writes
    faster than anybody can.
    """
    refuse_unless(author, Deed.NOTE)
    refuse_elsewhere(author, draft)
    check(draft.text, span)
    span, character = whole_subject(draft, subject, span, character)
    wording = wording_of(draft, subject, span, wording)
    said = standing_on(draft, span) | {
        "kind": kind,
        "subject": subject,
        "character": character,
        "body": body,
        "wording": wording,
        "audience": audience,
    }
    compare_with_later(draft)  # kept for the transaction, which holds up other people's while it lasts
    return store_note(author, form_id, said)


def standing_on(draft: Draft, span: Span) -> dict[str, Any]:
    """The fields of a note that say where it stands."""
    return {
        "production_id": draft.production_id,
        "draft": draft,
        "first_line": span.first_line,
        "first_char": span.first_char,
        "last_line": span.last_line,
        "last_char": span.last_char,
        "quoted": quote(draft.text, span),
    }


@transaction.atomic
def store_note(author: Member, form_id: uuid.UUID, said: dict[str, Any], taken_down_by: Member | None = None) -> Note:
    """Keep a note of these fields, which were looked at before; the same form sent again finds the note it made, and so
    does one that says the very same."""
    if taken_down_by is not None:
        lock_for(taken_down_by, Deed.TALK)
    lock_for(author, Deed.NOTE)
    refuse_elsewhere(author, said["draft"])
    said["draft"].refresh_from_db(fields=["withdrawn_at"])
    if said["draft"].withdrawn_at is not None:
        raise PermissionDenied(WITHDRAWN)
    said = said | {"author": author}
    by_form = Note.objects.filter(form_id=form_id, taken_down_by=taken_down_by)
    if taken_down_by is None:
        by_form = by_form.filter(author=author)
    before = sent_before(said, by_form, Note.objects.of(author).not_withdrawn().filter(**said))
    if before is not None:
        return before
    note = Note.objects.create(form_id=Note.unused(form_id), **said)
    refuse_haste(author)
    carry_to_later_drafts(note)
    index_note(note)
    told = {name: said[name] for name in ("kind", "subject", "first_line", "last_line")}
    if taken_down_by is not None:
        told["in_name_of"] = author.public_id
        tell_by_mail([author], Occasion.TAKEN_DOWN, note.public_id)
    person = (taken_down_by or author).person
    log.record(person, log.Act.Verb.LEFT_NOTE, author.production, note.public_id, draft=note.draft.number, **told)
    return note


def wording_of(draft: Draft, subject: str, span: Span, wording: str | None) -> str | None:
    """What a note on this subject offers: nothing where that is what the lines say."""
    if subject != Subject.LINES or wording == whole_lines(draft.text, span.first_line, span.last_line):
        return None
    return wording


@transaction.atomic
def change_note(by: Member, note: Note, words: NoteWords, read: int) -> Note:
    """Change one's own note, which nobody has answered yet; the words it had are kept. The same words change nothing.

    `read` is the version of the note that its author was shown. Raises ChangedMeanwhile where another stands by now,
    AnsweredMeanwhile where somebody has replied to it or decided it, and PermissionDenied for whoever did not write it
    or has taken it back.
    """
    found = _lock_own(by, note)
    words = replace(words, wording=wording_of(found.draft, found.subject, found.span, words.wording))
    if words == _words_of(found):
        return found
    if Note.objects.filter(pk=found.pk).answered().exists():
        raise AnsweredMeanwhile
    return _reword(by, found, words, read, log.Act.Verb.CHANGED_NOTE)


@transaction.atomic
def correct_note(by: Member, note: Note, body: str, read: int) -> Note:
    """Correct what one's own note says after somebody has answered it: the text that they answered stays in view.

    Its kind, its wording and who may read it were answered with it, and stay. `read` and what is raised are as above;
    a note that nobody has answered is corrected just the same.
    """
    found = _lock_own(by, note)
    if body == found.body:
        return found
    return _reword(by, found, replace(_words_of(found), body=body), read, log.Act.Verb.CORRECTED_NOTE)


def _lock_own(by: Member, note: Note) -> Note:
    lock_for(by, Deed.NOTE)
    refuse_elsewhere(by, note)
    found = Note.objects.select_for_update(no_key=True, of=("self",)).select_related("draft").get(pk=note.pk)
    if not may_change(by, found) or found.withdrawn_at is not None:
        raise PermissionDenied(NOT_YOURS)
    return found


def _words_of(note: Note) -> NoteWords:
    return NoteWords(note.kind, note.body, note.wording, note.audience)


def _reword(by: Member, note: Note, words: NoteWords, read: int, verb: log.Act.Verb) -> Note:
    if note.version != read:
        raise ChangedMeanwhile
    was_answered = Note.objects.filter(pk=note.pk).answered().exists()
    had = asdict(_words_of(note))
    EarlierText.objects.create(note=note, version=note.version, was_answered=was_answered, **had)
    note.kind, note.body, note.wording, note.audience = words.kind, words.body, words.wording, words.audience
    note.version, note.changed_at = note.version + 1, timezone.now()
    note.save(update_fields=["kind", "body", "wording", "audience", "version", "changed_at"])
    index_note(note)
    log.record(by.person, verb, by.production, note.public_id, version=note.version)
    return note


@transaction.atomic
def reply(author: Member, note: Note, body: str, form_id: uuid.UUID, read: int | None = None) -> Reply:
    """Reply to a note; the same form sent again finds the reply it made, and the same words right under it find it too.

    `read` is the version of the note that the author was shown, if they were: ChangedMeanwhile is raised where another
    stands by now. Raises PermissionDenied where the author may not read the note, or where it was withdrawn, and
    TooFast where one member writes faster than anybody can.
    """
    lock_for(author, Deed.NOTE)
    standing = Note.objects.visible_to(author).not_withdrawn()
    found = note_to_answer(author, note, standing.select_for_update(no_key=True, of=("self",)))
    thread = Reply.objects.visible_to(author).filter(note=found)
    said = {"note": found, "body": body}
    by_form = Reply.objects.filter(form_id=form_id, author=author)
    before = sent_before(said, by_form, thread.last_word_of(author, body))
    if before is not None:
        return before
    if read not in {None, found.version}:
        raise ChangedMeanwhile
    reply = Reply.objects.create(form_id=Reply.unused(form_id), author=author, **said)
    refuse_haste(author)
    index_reply(author.production_id, reply.pk, body)
    log.record(author.person, log.Act.Verb.REPLIED, author.production, reply.public_id, note=note.public_id)
    others = others_in_thread(author, found.author_id, found.replies.all())
    tell_by_mail(others, Occasion.REPLIED, reply.public_id)
    return reply


@transaction.atomic
def withdraw_note(by: Member, note: Note) -> None:
    """Take back one's own note. It is kept, and no longer shown to others. Doing it again changes nothing."""
    take_back(by, note, Note.objects.all(), log.Act.Verb.WITHDREW_NOTE)


@transaction.atomic
def put_note_back(by: Member, note: Note) -> None:
    """Put one's own note back after withdrawing it: it stands as before. Doing it again changes nothing."""
    put_back(by, note, Note.objects.all(), log.Act.Verb.PUT_NOTE_BACK)


@transaction.atomic
def withdraw_reply(by: Member, reply: Reply) -> None:
    """Take back one's own reply. It is kept, and no longer shown to others. Doing it again changes nothing."""
    take_back(by, reply, Reply.objects.all(), log.Act.Verb.WITHDREW_REPLY)
