"""What members do with notes on paragraphs: leave one, reply, change or take back their own; what writers decide.

Each is one logged transaction."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, may_withdraw
from review.decisions.acts import NeedsReason
from review.findable.indexing import index_paper_note, index_paper_reply
from review.mail.acts import tell_by_mail
from review.mail.models import Occasion
from review.notes.acts import AnsweredMeanwhile, ChangedMeanwhile
from review.notes.pace import refuse_haste
from review.notes.threads import (
    NOT_TO_ANSWER,
    NOT_YOURS,
    note_to_answer,
    others_in_thread,
    put_back,
    take_back,
)
from review.papers.following import fates_in_each
from review.papers.markdown import paragraphs_of
from review.papers.models import PaperVersion, WorldPaper
from review.papers.note_models import EarlierPaperText, PaperDecision, PaperNote, PaperOutcome, PaperPlace, PaperReply
from review.productions.models import lock_for
from review.records import sent_before

if TYPE_CHECKING:
    import uuid

    from review.people.models import Member

Verb = log.Act.Verb
NOT_THEIR_PAPER = "Only those whom a paper is for leave notes on it."


class NoParagraph(ValueError):
    """Raised where a version has no paragraph of the number."""


class PaperDecidedMeanwhile(Exception):
    """Raised where somebody has decided the note since it was shown."""


@dataclass(frozen=True, slots=True)
class PaperWords:
    """All that a note's author may change of it, as long as nobody has answered it."""

    kind: str
    body: str
    audience: str


@transaction.atomic
def leave_paper_note(
    author: Member, version: PaperVersion, paragraph: int, kind: str, body: str, audience: str, form_id: uuid.UUID
) -> PaperNote:
    """Leave a note on a paragraph of a version, which counts from 1; the same form sent again finds the note it made,
    and the same words of the same paragraph find the note that says them.

    Raises NoParagraph, TooFast where one member writes faster than anybody can, and PermissionDenied for whoever the
    paper is not for.
    """
    production = lock_for(author, Deed.NOTE)
    paper = WorldPaper.objects.visible_to(author).filter(pk=version.paper_id, withdrawn_at=None).first()
    if paper is None:
        raise PermissionDenied(NOT_THEIR_PAPER)
    said = {"version": version, "paragraph": paragraph, "kind": kind, "body": body, "audience": audience}
    own = PaperNote.objects.filter(author=author)
    before = sent_before(said, own.filter(form_id=form_id), own.standing().filter(**said))
    if before is not None:
        return before
    texts = {each.number: paragraphs_of(each.text) for each in paper.versions.filter(number__gte=version.number)}
    if not 1 <= paragraph <= len(texts[version.number]):
        raise NoParagraph
    note = PaperNote.objects.create(
        form_id=PaperNote.unused(form_id), author=author, quoted=texts[version.number][paragraph - 1], **said
    )
    fates = fates_in_each(texts, version.number, paragraph - 1)
    numbers = {each.number: each for each in paper.versions.filter(number__in=fates)}
    PaperPlace.objects.bulk_create(PaperPlace.of(note, numbers[number], fate) for number, fate in fates.items())
    refuse_haste(author)
    index_paper_note(production.pk, note.pk, body)
    told = {"title": paper.title, "paragraph": paragraph, "paper": paper.public_id}
    log.record(author.person, Verb.LEFT_PAPER_NOTE, production, note.public_id, **told)
    return note


@transaction.atomic
def reply_to_paper_note(author: Member, note: PaperNote, body: str, form_id: uuid.UUID) -> PaperReply:
    """Reply to a note; the same form sent again finds the reply it made, and the same words right under it find it too.

    Raises PermissionDenied where the author may not read the note, or it was withdrawn, or whoever wrote it reads
    alone; and TooFast.
    """
    production = lock_for(author, Deed.NOTE)
    found = note_to_answer(author, note, PaperNote.objects.visible_to(author).standing().on_standing_papers())
    thread = PaperReply.objects.visible_to(author).filter(note=found)
    said = {"note": found, "body": body}
    by_form = PaperReply.objects.filter(form_id=form_id, author=author)
    before = sent_before(said, by_form, thread.last_word_of(author, body))
    if before is not None:
        return before
    reply = PaperReply.objects.create(form_id=PaperReply.unused(form_id), author=author, **said)
    refuse_haste(author)
    index_paper_reply(production.pk, reply.pk, body)
    at = {"note": found.public_id, "paper": found.version.paper.public_id}
    log.record(author.person, Verb.REPLIED_ON_PAPER, production, reply.public_id, **at)
    others = others_in_thread(author, found.author_id, found.replies.all())
    tell_by_mail(others, Occasion.REPLIED_ON_PAPER, reply.public_id)
    return reply


@transaction.atomic
def change_paper_note(by: Member, note: PaperNote, words: PaperWords, read: int) -> PaperNote:
    """Change one's own note; the words it had are kept. Once somebody has answered it, what it says alone can be
    corrected, and the text that they answered stays in view. The same words change nothing.

    `read` is the number of the text that its author was shown. Raises ChangedMeanwhile where another stands by now,
    AnsweredMeanwhile where its kind or its audience would change after an answer, and PermissionDenied for whoever did
    not write it, has taken it back, or may not read its paper.
    """
    production = lock_for(by, Deed.NOTE)
    found = PaperNote.objects.visible_to(by).standing().on_standing_papers().filter(pk=note.pk).first()
    if found is None or not may_withdraw(by, found):
        raise PermissionDenied(NOT_YOURS)
    had = PaperWords(found.kind, found.body, found.audience)
    if words == had:
        return found
    was_answered = found.is_answered()
    if was_answered and (words.kind, words.audience) != (had.kind, had.audience):
        raise AnsweredMeanwhile
    if found.text_number != read:
        raise ChangedMeanwhile
    EarlierPaperText.objects.create(note=found, number=read, was_answered=was_answered, **asdict(had))
    found.kind, found.body, found.audience = words.kind, words.body, words.audience
    found.text_number, found.changed_at = read + 1, timezone.now()
    found.save(update_fields=["kind", "body", "audience", "text_number", "changed_at"])
    index_paper_note(production.pk, found.pk, found.body)
    log.record(by.person, Verb.CHANGED_PAPER_NOTE, production, found.public_id, text=found.text_number)
    return found


@transaction.atomic
def withdraw_paper_note(by: Member, note: PaperNote) -> None:
    """Take back one's own note. It is kept, and no longer shown. Doing it again changes nothing."""
    take_back(by, note, PaperNote.objects.all(), Verb.WITHDREW_PAPER_NOTE)


@transaction.atomic
def withdraw_paper_reply(by: Member, reply: PaperReply) -> None:
    """Take back one's own reply. It is kept, and no longer shown. Doing it again changes nothing."""
    take_back(by, reply, PaperReply.objects.all(), Verb.WITHDREW_PAPER_REPLY)


@transaction.atomic
def put_paper_note_back(by: Member, note: PaperNote) -> None:
    """Put one's own note back after withdrawing it: it stands as before. Doing it again changes nothing.

    Raises PermissionDenied for whoever did not write it, or may not read its paper by now.
    """
    put_back(by, note, PaperNote.objects.visible_to(by).on_standing_papers(), Verb.PUT_PAPER_NOTE_BACK)


@transaction.atomic
def decide_paper_note(
    by: Member, note: PaperNote, outcome: str, reason: str, seen: int, form_id: uuid.UUID
) -> PaperDecision:
    """Decide a note; a decision before it is kept. Raises PaperDecidedMeanwhile where another than the one `seen`, by
    its ordinal, 0 for none, stands by now, and NeedsReason where it was declined without one, as on the script; the
    same form sent again finds the decision it made, but with another outcome or reason it is a decision of its own."""
    production = lock_for(by, Deed.DECIDE)
    found = PaperNote.objects.visible_to(by).standing().on_standing_papers().filter(pk=note.pk).first()
    if found is None:
        raise PermissionDenied(NOT_TO_ANSWER)
    said = {"note": found, "outcome": outcome, "reason": reason.strip()}
    before = PaperDecision.objects.filter(form_id=form_id, decided_by=by, **said).first()
    if before is not None:
        return before
    latest = found.decisions.count()
    if latest != seen:
        raise PaperDecidedMeanwhile
    if outcome == PaperOutcome.DECLINED and not reason.strip():
        raise NeedsReason
    decision = PaperDecision.objects.create(
        form_id=PaperDecision.unused(form_id), ordinal=latest + 1, decided_by=by, **said
    )
    told = {"outcome": outcome, "paper": found.version.paper.public_id}
    log.record(by.person, Verb.DECIDED_ON_PAPER, production, found.public_id, **told)
    if found.author_id != by.pk:
        tell_by_mail([found.author], Occasion.DECIDED_ON_PAPER, decision.public_id)
    return decision
