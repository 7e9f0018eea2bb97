"""Taking an accepted note's wording into the working draft, and taking it out again."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, refuse_elsewhere
from review.productions.models import lock_for
from review.rewriting.acts import begin_working, set_aside_working
from review.rewriting.current_text import CurrentText
from review.rewriting.scenes_apart import keep_apart
from review.rewriting.wording_fit import FitState, WordingFit, wording_fit
from review.rewriting.wording_models import TakenWording, holds_wordings_alone
from screenplay.next_draft import Edit, join_words, reworded

if TYPE_CHECKING:
    from review.notes.models import Note
    from review.people.models import Member
    from review.records import PostedRecord, Record
    from review.rewriting.models import WorkingDraft, WorkingScene


class CannotTake(Exception):
    """The wording does not go into the working draft; `fit` says what stands in its way."""

    def __init__(self, fit: WordingFit) -> None:
        super().__init__(f"The wording does not go in: {fit.state}.")
        self.fit = fit


class OvertakenByAnother(CannotTake):
    """A wording that was taken before changes the same words; `fit.by` is its note."""


class WrittenOver(Exception):
    """The words of a taken wording have been changed since, so that they do not come out by themselves."""

    def __init__(self, taken: TakenWording) -> None:
        super().__init__("The words have been changed since they were taken in.")
        self.taken = taken


@transaction.atomic
def take_wording(by: Member, note: Note, decision: Record, form_id: uuid.UUID) -> TakenWording:
    """Put a note's wording where its lines stand in the working draft, beginning one where none is open.

    Belongs in the transaction of `decision`, which accepts the note. A wording that is in already is found. Raises
    OvertakenByAnother or CannotTake; nothing is stored then.
    """
    lock_for(by, Deed.REWRITE)
    refuse_elsewhere(by, note)
    if (taken := note.taken_wordings.now_in().first()) is not None:
        return taken
    draft = by.production.drafts.current()
    if draft is None:
        raise LookupError("There is no draft that a note could be on.")
    working = begin_working(by, draft, uuid.uuid5(form_id, "working")).lock()
    fit = wording_fit(note, CurrentText(draft, working, tuple(working.standing_scenes())))
    scene, before, after, lines = _write_in(by, working, fit, uuid.uuid5(form_id, "scene"))
    taken = TakenWording.objects.create(
        form_id=uuid.uuid5(form_id, "taken"),
        working=working,
        note=note,
        decision_id=decision.pk,
        scene=scene,
        before=before,
        after=after,
        taken_by=by,
    )
    scene.mark(taken.mark, lines)
    log.record(by.person, log.Act.Verb.TOOK_WORDING, by.production, note.public_id, decision=decision.public_id)
    return taken


def _write_in(
    by: Member, working: WorkingDraft, fit: WordingFit, form_id: uuid.UUID
) -> tuple[WorkingScene, str, str, range]:
    """The scene that a wording goes into, its text before and after, and the lines of it that the wording brought.

    Of words that another taken wording brought already, all are that one's, so that whichever of the two comes out last
    takes them out.
    """
    if fit.state is FitState.OVERTAKEN:
        raise OvertakenByAnother(fit)
    if (twin := fit.twin) is not None:
        return twin.scene, twin.before, twin.after, twin.scene.line_origins.marked(twin.mark)
    if not fit.fits or fit.scene is None or fit.now is None:
        raise CannotTake(fit)
    scene, before = fit.scene, fit.scene.text
    edit = Edit(fit.line, fit.line + fit.now.last_line - fit.now.first_line, fit.after)
    after = working.as_stored(reworded(before, edit), scene)
    if after != before:
        scene.write(by, after, form_id)
        keep_apart(by, working)
        scene.refresh_from_db()
    return scene, before, after, range(fit.line, fit.line + (fit.after.count("\n") + 1 if fit.after else 0))


@transaction.atomic
def take_out(by: Member, taken: TakenWording, form_id: uuid.UUID, decision: Record | None = None) -> None:
    """Take a wording's words out of the working draft again, and leave whatever else was written since.

    Belongs in the transaction of the `decision` that makes it so. Raises WrittenOver where those words have been
    changed since; nothing is stored then. Words that another taken wording brought too stay in with that one.
    """
    working = taken.working.lock_for(by)
    scene = taken.scene.reread()
    if not taken.twins().exists():
        text = join_words(taken.after, scene.text, taken.before)
        if text is None:
            raise WrittenOver(taken)
        if text != scene.text:
            scene.write(by, working.as_stored(text, scene), form_id)
            keep_apart(by, working)
    _close(by, taken, decision, left=False)


@transaction.atomic
def leave_in(by: Member, taken: TakenWording, decision: Record | None = None) -> None:
    """Leave a wording's words in the working draft as the writer's own, whatever becomes of its note.

    Belongs in the transaction of the `decision` that makes it so.
    """
    taken.working.lock_for(by)
    _close(by, taken, decision, left=True)


def leave_no_trace(by: Member) -> None:
    """Set the open working draft aside where a wording that is out again began it and nothing else was written in: what
    is taken back leaves no draft behind that nobody asked for. Belongs in the transaction that takes it back."""
    working = by.production.working_drafts.open_now()
    if working is None or not by.production.working_drafts.filter(holds_wordings_alone(), pk=working.pk).exists():
        return
    first = working.taken_wordings.select_related("decision").earliest("pk")
    if working.form_id == begun_by(first.decision):
        set_aside_working(by, working)


def begun_by(decision: PostedRecord) -> uuid.UUID:
    """The form id of the working draft that taking a decision's wording begins, where none is open."""
    return uuid.uuid5(taking_form(decision), "working")


def taking_form(decision: PostedRecord) -> uuid.UUID:
    """The form id with which a decision's wording is taken in or out."""
    return uuid.uuid5(decision.form_id, "wording")


@transaction.atomic
def own_again(by: Member, taken: TakenWording) -> None:
    """Let words that were left in as the writer's own be the note's wording again, so that they can be taken out.

    Belongs in the transaction of the decision that makes it so.
    """
    taken.working.lock_for(by)
    taken.undone_at, taken.undone_with, taken.left_in = None, None, False
    taken.save(update_fields=["undone_at", "undone_with", "left_in"])
    log.record(by.person, log.Act.Verb.TOOK_WORDING, by.production, taken.note.public_id, left_in=True)


def _close(by: Member, taken: TakenWording, decision: Record | None, *, left: bool) -> None:
    taken.undone_at, taken.left_in = timezone.now(), left
    taken.undone_with_id = decision.pk if decision else None
    taken.save(update_fields=["undone_at", "undone_with", "left_in"])
    verb = log.Act.Verb.TOOK_OUT_WORDING
    log.record(by.person, verb, by.production, taken.note.public_id, left_in=left)
