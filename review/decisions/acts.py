"""What a writer does with a note: decide it, and set its place by hand. Each act is one transaction and is logged."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.core.exceptions import PermissionDenied
from django.db import transaction

from review import log
from review.access import Deed, refuse_elsewhere
from review.decisions.in_force import latest_of
from review.decisions.models import Decision, Outcome
from review.drafts.models import Draft
from review.drafts.scripts import compare_drafts
from review.mail.acts import tell_by_mail
from review.mail.models import Occasion
from review.notes.acts import ChangedMeanwhile
from review.notes.carrying import trail_before
from review.notes.fates import fate_at
from review.notes.lines import check
from review.notes.models import Note, Placement
from review.notes.subjects import whole_subject
from review.productions.models import lock_for
from review.rewriting import wordings

if TYPE_CHECKING:
    import uuid

    from review.people.models import Member
    from screenplay import Span


@dataclass(frozen=True, slots=True)
class Shown:
    """A note as its decider was shown it: the ordinal of its latest decision, 0 for none, and the version of its text,
    None for whichever stands."""

    note: Note
    ordinal: int
    version: int | None = None


@dataclass(frozen=True, slots=True)
class Deciding:
    """What is decided, why, and whether the working draft follows."""

    outcome: str
    reason: str
    with_wording: bool = False


class DecidedMeanwhile(Exception):
    """Somebody decided the note after this decider last saw it; `latest` is the decision that stands."""

    def __init__(self, latest: Decision) -> None:
        super().__init__(f"{latest.decided_by} decided this note meanwhile.")
        self.latest = latest


class WithdrawnMeanwhile(Exception):
    """The note's author took it back, so that there is nothing left to decide."""


class IsOpen(Exception):
    """No decision stands on the note, so that there is nothing to open again."""


class NeedsReason(Exception):
    """A note that is declined owes its author a reason."""


def refuse_unread(by: Member, *notes: Note) -> None:
    """Raise PermissionDenied for notes that are not there to be decided: of another production, or gone with a draft
    that was withdrawn."""
    refuse_elsewhere(by, *notes)
    keys = {note.pk for note in notes}
    if Note.objects.visible_to(by).filter(pk__in=keys).count() != len(keys):
        raise PermissionDenied("Only notes on drafts that are up are decided, and placed.")


@transaction.atomic
def decide(
    by: Member,
    note: Note,
    outcome: str,
    reason: str,
    seen: int,
    form_id: uuid.UUID,
    *,
    with_wording: bool = False,
    read: int | None = None,
) -> Decision:
    """Decide a note, or open it again; the same form sent again finds the decision it made, but with another outcome or
    reason it is a decision of its own.

    `seen` is the ordinal of the latest decision the decider was shown, 0 for none. `with_wording` puts the wording of a
    note that is accepted into the working draft, and takes that of any other out again, if it is in; without it the
    words stay as they are. `read` is the version of the note that the decider was shown, if they were. Raises
    ChangedMeanwhile when its author has given it other words since, DecidedMeanwhile when a later decision stands,
    WithdrawnMeanwhile when the note was taken back, IsOpen when an open note was to be opened again, NeedsReason when
    it was declined without one, and what take_wording and take_out raise; nothing is stored then.
    """
    lock_for(by, Deed.DECIDE)
    refuse_unread(by, note)
    choice = Deciding(outcome, reason, with_wording=with_wording)
    return decide_locked(by, Shown(note, seen, read), choice, form_id)


def decide_locked(
    by: Member, shown: Shown, choice: Deciding, form_id: uuid.UUID, together: uuid.UUID | None = None
) -> Decision:
    """Decide one note in the transaction of an act that has asked and locked the production; raises as `decide`."""
    locked = Note.objects.select_for_update(no_key=True).get(pk=shown.note.pk)
    said = {"note": locked, "outcome": choice.outcome, "reason": choice.reason.strip()}
    before = Decision.objects.filter(form_id=form_id, decided_by=by, **said).first()
    if before is not None:
        return before
    if locked.withdrawn_at is not None:
        raise WithdrawnMeanwhile
    if shown.version not in {None, locked.version}:
        raise ChangedMeanwhile
    latest = latest_of(locked.decisions.all())
    if latest and latest.ordinal > shown.ordinal:
        raise DecidedMeanwhile(latest)
    if choice.outcome == Outcome.REOPENED and (latest is None or latest.outcome == Outcome.REOPENED):
        raise IsOpen
    if choice.outcome == Outcome.DECLINED and not choice.reason.strip():
        raise NeedsReason
    decision = Decision.objects.create(
        form_id=Decision.unused(form_id),
        ordinal=latest.ordinal + 1 if latest else 1,
        decided_by=by,
        together=together,
        **said,
    )
    record_decision(by, decision)
    _follow_with_wording(by, decision, with_wording=choice.with_wording)
    tell_author(by, decision)
    return decision


def tell_author(by: Member, decision: Decision) -> None:
    """Have the note's author told of a decision by mail, within its transaction; nobody is told of their
    own, nor of what they brought in for somebody who is no member."""
    if decision.note.author_id != by.pk and not decision.note.said_by:
        tell_by_mail([decision.note.author], Occasion.DECIDED, decision.public_id)


def record_decision(by: Member, decision: Decision) -> None:
    """Keep a decision in the log, with the one that it takes back, if it does."""
    told = {"decision": decision.public_id, "outcome": decision.outcome, "ordinal": decision.ordinal}
    if decision.undoes:
        told["undoes"] = decision.undoes.public_id
    log.record(by.person, log.Act.Verb.DECIDED, by.production, decision.note.public_id, **told)


def _follow_with_wording(by: Member, decision: Decision, *, with_wording: bool) -> None:
    """Let the working draft follow a decision on a note that offers a wording."""
    note = decision.note
    if note.wording is None:
        return
    form_id = wordings.taking_form(decision)
    if decision.outcome == Outcome.ACCEPTED:
        if with_wording:
            wordings.take_wording(by, note, decision, form_id)
    elif (taken := note.taken_wordings.now_in().first()) is not None:
        if with_wording:
            wordings.take_out(by, taken, form_id, decision)
        else:
            wordings.leave_in(by, taken, decision)


class PlacedByItsAuthor(Exception):
    """A note stands where its author put it in the draft it was left on; its place can be set in later drafts only."""


@transaction.atomic
def place_note(by: Member, note: Note, draft: Draft, span: Span | None, character: str = "") -> Placement:
    """Say by hand on which lines of a draft a note stands, or with None that its lines are gone there.

    A note on a scene is placed on the scene that the span begins in, one on a character on whoever is called
    `character` there. Raises NoSuchLines when the draft does not have these, PlacedByItsAuthor when the note was left
    on this draft or a later one. Saying the same again changes nothing.
    """
    lock_for(by, Deed.DECIDE)
    refuse_elsewhere(by, draft)
    refuse_unread(by, note)
    note = Note.objects.select_for_update(no_key=True).get(pk=note.pk)
    if note.draft.number >= draft.number:
        raise PlacedByItsAuthor
    if span is not None:
        check(draft.text, span)
        span, character = whole_subject(draft, note.subject, span, character)
    before = Placement.objects.filter(note=note, draft=draft).first()
    last = trail_before(note, draft).last
    comparison = compare_drafts(Draft.objects.get(pk=last.draft_id), draft)
    placement = Placement.of(note.pk, draft, fate_at(note.subject, last, comparison, span, character), span, character)
    placement.placed_by = by
    if before is not None:
        if before.placed_by_id is not None and before.place == placement.place:
            return before
        placement.pk = before.pk
    placement.save(force_update=before is not None)
    log.record(
        by.person,
        log.Act.Verb.PLACED_NOTE,
        by.production,
        note.public_id,
        draft=draft.number,
        fate=placement.fate,
        first_line=placement.first_line,
        last_line=placement.last_line,
    )
    return placement
