"""A decision that is undone leaves the note, and the working draft, as they were before it."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.core.exceptions import PermissionDenied
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from review.decisions.acts import DecidedMeanwhile, Deciding, Shown, WithdrawnMeanwhile, decide, place_note
from review.decisions.in_force import decision_in_force
from review.decisions.models import Decision, Outcome
from review.decisions.together import decide_together
from review.decisions.undoing import IsWrittenIn, last_to_undo, undo
from review.drafts.acts import withdraw_draft
from review.log import Act
from review.notes.models import Note
from review.people.models import Department
from review.publishing.acts import publish_draft
from review.rewriting.acts import begin_working, take_working_text
from review.rewriting.scene_acts import save_scene
from review.rewriting.wording_models import WrittenIn
from review.rewriting.wordings import WrittenOver
from screenplay.intake import read_text
from tests.factories import SCRIPT, make_member, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

REWORDED = SCRIPT.replace("Tide turns at four.", "The tide turns at four.")


@pytest.fixture
def note(crew: Member, draft: Draft) -> Note:
    return make_note(crew, draft, 9, kind="idea", wording="The tide turns at four.")


def decided(by: Member, note: Note, outcome: str, reason: str = "Why.", *, with_wording: bool = True) -> Decision:
    seen = note.decisions.count()
    return decide(by, note, outcome, reason, seen, uuid.uuid4(), with_wording=with_wording)


def text_now(writer: Member) -> str:
    working = writer.production.working_drafts.open_now()
    assert working is not None
    return working.joined_text()


def standing(note: Note) -> tuple[str, str] | None:
    decision = decision_in_force(note.decisions.all())
    return (decision.outcome, decision.reason) if decision else None


def test_the_first_decision_undone_leaves_the_note_open_and_is_kept(writer: Member, note: Note) -> None:
    first = decided(writer, note, Outcome.DECLINED)
    [back] = undo(writer, first, uuid.uuid4())
    assert standing(note) is None
    assert back.undoes == first
    assert note.decisions.count() == 2
    assert Act.objects.filter(verb=Act.Verb.DECIDED, details__undoes=first.public_id).count() == 1


def test_an_earlier_decision_stands_again_with_its_reason(writer: Member, note: Note) -> None:
    decided(writer, note, Outcome.PARKED, "Not this draft.")
    undo(writer, decided(writer, note, Outcome.DECLINED, "No."), uuid.uuid4())
    assert standing(note) == (Outcome.PARKED, "Not this draft.")


def test_a_wording_that_it_took_in_comes_out_again(writer: Member, draft: Draft, note: Note) -> None:
    begin_working(writer, draft, uuid.uuid4())
    accepted = decided(writer, note, Outcome.ACCEPTED)
    assert text_now(writer) == REWORDED
    undo(writer, accepted, uuid.uuid4())
    assert text_now(writer) == SCRIPT
    assert not note.taken_wordings.now_in().exists()


def test_the_working_draft_that_it_began_is_not_left_behind(
    writer: Member, crew: Member, draft: Draft, note: Note, signed_in: Callable[[Member], Client]
) -> None:
    """Nor offered to be taken up; what is accepted after it begins one again."""
    other = make_note(crew, draft, 9, kind="idea", wording="Tide turns late.")
    for first, second in ((note, other), (other, note)):
        one = decided(writer, first, Outcome.ACCEPTED)
        undo(writer, one, uuid.uuid4())
        assert writer.production.working_drafts.open_now() is None
        assert decided(writer, second, Outcome.ACCEPTED)
        undo(writer, second.decisions.order_by("ordinal").last() or one, uuid.uuid4())
    page = signed_in(writer).get(reverse("working", args=[writer.production.public_id]))
    assert "Take it up again" not in page.text
    decided(writer, note, Outcome.ACCEPTED)
    assert text_now(writer) == REWORDED


def test_a_working_draft_that_anything_else_was_written_in_stays(writer: Member, note: Note) -> None:
    accepted = decided(writer, note, Outcome.ACCEPTED)
    working = writer.production.working_drafts.open_now()
    assert working is not None
    scene = working.standing_scenes().last()
    assert scene is not None
    for text in (scene.text.replace("Mist.", "Fog."), scene.text):  # and back again
        saved = scene.reread()
        save_scene(writer, saved, text, saved.version, uuid.uuid4())
    undo(writer, accepted, uuid.uuid4())
    assert text_now(writer) == SCRIPT


def test_a_working_draft_whose_text_was_taken_away_stays_for_it_to_come_back(writer: Member, note: Note) -> None:
    accepted = decided(writer, note, Outcome.ACCEPTED)
    working = writer.production.working_drafts.open_now()
    assert working is not None
    take_working_text(writer, working)
    undo(writer, accepted, uuid.uuid4())
    assert text_now(writer) == SCRIPT


def test_a_wording_that_it_took_out_goes_in_again(writer: Member, note: Note) -> None:
    decided(writer, note, Outcome.ACCEPTED)
    declined = decided(writer, note, Outcome.DECLINED)
    assert text_now(writer) == SCRIPT
    undo(writer, declined, uuid.uuid4())
    assert text_now(writer) == REWORDED
    assert standing(note) == (Outcome.ACCEPTED, "Why.")


def test_words_that_it_left_in_as_the_writer_s_own_are_the_note_s_again(writer: Member, note: Note) -> None:
    decided(writer, note, Outcome.ACCEPTED)
    undo(writer, decided(writer, note, Outcome.DECLINED, with_wording=False), uuid.uuid4())
    assert text_now(writer) == REWORDED
    decided(writer, note, Outcome.PARKED)
    assert text_now(writer) == SCRIPT


def test_words_that_were_written_over_since_stop_it_and_nothing_is_stored(writer: Member, note: Note) -> None:
    accepted = decided(writer, note, Outcome.ACCEPTED)
    working = writer.production.working_drafts.open_now()
    assert working is not None
    scene = next(scene for scene in working.scenes.all() if "The tide" in scene.text)
    written = scene.text.replace("The tide turns at four.", "High water comes late.")
    save_scene(writer, scene, written, scene.version, uuid.uuid4())
    with pytest.raises(WrittenOver):
        undo(writer, accepted, uuid.uuid4())
    assert standing(note) == (Outcome.ACCEPTED, "Why.")


def test_the_same_form_undoes_once(writer: Member, note: Note) -> None:
    first, form_id = decided(writer, note, Outcome.DECLINED), uuid.uuid4()
    assert undo(writer, first, form_id) == undo(writer, first, form_id)
    assert note.decisions.count() == 2


def test_a_later_decision_is_not_undone_with_an_earlier_one(writer: Member, note: Note) -> None:
    first = decided(writer, note, Outcome.PARKED)
    decided(writer, note, Outcome.DECLINED)
    with pytest.raises(DecidedMeanwhile):
        undo(writer, first, uuid.uuid4())


def test_what_a_draft_has_written_in_is_not_undone(writer: Member, note: Note, draft: Draft) -> None:
    accepted = decided(writer, note, Outcome.ACCEPTED, with_wording=False)
    WrittenIn.objects.create(decision=accepted, draft=draft, said_by=writer)
    with pytest.raises(IsWrittenIn):
        undo(writer, accepted, uuid.uuid4())


def test_a_draft_that_answered_the_note_answers_it_again(writer: Member, note: Note, draft: Draft) -> None:
    accepted = decided(writer, note, Outcome.ACCEPTED, with_wording=False)
    WrittenIn.objects.create(decision=accepted, draft=draft, said_by=writer)
    [back] = undo(writer, decided(writer, note, Outcome.DECLINED), uuid.uuid4())
    assert Decision.objects.get(pk=back.pk).answered_in == draft


def test_a_note_that_was_taken_back_stays_as_it_is(writer: Member, note: Note) -> None:
    first = decided(writer, note, Outcome.DECLINED)
    Note.objects.filter(pk=note.pk).update(withdrawn_at=timezone.now())
    with pytest.raises(WithdrawnMeanwhile):
        undo(writer, first, uuid.uuid4())


def test_notes_that_went_with_their_draft_are_neither_decided_nor_placed(
    writer: Member, note: Note, draft: Draft
) -> None:
    first = decided(writer, note, Outcome.DECLINED)
    second, _ = publish_draft(writer, read_text(REWORDED))
    withdraw_draft(writer, draft, "The wrong file.")
    with pytest.raises(PermissionDenied):
        decided(writer, note, Outcome.ACCEPTED)
    with pytest.raises(PermissionDenied):
        place_note(writer, note, second, None)
    with pytest.raises(WithdrawnMeanwhile):
        undo(writer, first, uuid.uuid4())
    assert note.decisions.get() == first


def test_a_reader_undoes_nothing(writer: Member, crew: Member, note: Note) -> None:
    first = decided(writer, note, Outcome.DECLINED)
    with pytest.raises(PermissionDenied):
        undo(crew, first, uuid.uuid4())


def test_those_made_together_are_undone_together_or_not_at_all(writer: Member, cast: Member, draft: Draft) -> None:
    notes = [make_note(cast, draft, 6), make_note(cast, draft, 9)]
    shown = [Shown(note, 0, 1) for note in notes]
    decisions = decide_together(writer, shown, Deciding(Outcome.PARKED, ""), uuid.uuid4())
    later = decided(writer, notes[1], Outcome.DECLINED)
    with pytest.raises(DecidedMeanwhile):
        undo(writer, decisions[0], uuid.uuid4())
    assert standing(notes[0]) == (Outcome.PARKED, "")
    undo(writer, later, uuid.uuid4())
    assert standing(notes[1]) == (Outcome.PARKED, "")


def test_undoing_goes_back_decision_by_decision_through_one_s_own(
    writer: Member, cast: Member, draft: Draft, note: Note
) -> None:
    other = make_member(writer.production, Role.WRITER, Department.DIRECTION, "Edda Holm")
    earlier = decided(writer, make_note(cast, draft, 6), Outcome.PARKED)
    latest = decided(writer, note, Outcome.DECLINED)
    decided(other, make_note(cast, draft, 17), Outcome.PARKED)
    assert last_to_undo(writer) == latest
    undo(writer, latest, uuid.uuid4())
    assert last_to_undo(writer) == earlier
    undo(writer, earlier, uuid.uuid4())
    assert last_to_undo(writer) is None


def test_what_was_decided_of_a_draft_that_is_withdrawn_is_not_offered(writer: Member, draft: Draft, note: Note) -> None:
    decided(writer, note, Outcome.PARKED)
    draft.withdrawn_at = timezone.now()
    draft.save()
    assert last_to_undo(writer) is None
