"""Several notes decided in one go: each has a decision of its own, or none has one."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.core.exceptions import PermissionDenied
from django.utils import timezone

from review.access import Role
from review.decisions.acts import DecidedMeanwhile, Deciding, NeedsReason, Shown, WithdrawnMeanwhile, decide
from review.decisions.models import Decision, Outcome
from review.decisions.together import NotTogether, decide_together
from review.log import Act
from review.notes.acts import ChangedMeanwhile
from review.notes.models import Note, NoteKind
from review.people.models import Department
from review.rewriting.wordings import CannotTake
from tests.factories import make_draft, make_member, make_note, make_production

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member

NO = Deciding(Outcome.DECLINED, "The tide is the story.")


@pytest.fixture
def notes(crew: Member, cast: Member, draft: Draft) -> list[Note]:
    return [make_note(by, draft, 9, kind=NoteKind.IDEA) for by in (crew, cast, crew)]


def shown(notes: list[Note]) -> list[Shown]:
    return [Shown(note, 0, 1) for note in notes]


def test_each_has_its_own_decision_with_the_one_reason_and_its_own_entry_in_the_log(
    writer: Member, notes: list[Note]
) -> None:
    made = decide_together(writer, shown(notes), NO, uuid.uuid4())
    assert {each.note_id for each in made} == {note.pk for note in notes}
    assert {(each.outcome, each.reason, each.ordinal) for each in made} == {("declined", NO.reason, 1)}
    assert len({each.together for each in made}) == 1
    acts = Act.objects.filter(verb=Act.Verb.DECIDED)
    assert {act.about for act in acts} == {note.public_id for note in notes}


def test_the_same_form_decides_once(writer: Member, notes: list[Note]) -> None:
    form_id = uuid.uuid4()
    assert decide_together(writer, shown(notes), NO, form_id) == decide_together(writer, shown(notes), NO, form_id)
    assert Decision.objects.count() == len(notes)


def test_where_one_was_decided_meanwhile_none_is(writer: Member, notes: list[Note]) -> None:
    decide(writer, notes[1], Outcome.PARKED, "", 0, uuid.uuid4())
    with pytest.raises(NotTogether) as refused:
        decide_together(writer, shown(notes), NO, uuid.uuid4())
    assert (refused.value.note, type(refused.value.why)) == (notes[1], DecidedMeanwhile)
    assert Decision.objects.count() == 1


@pytest.mark.parametrize(
    ("change", "why"), [({"version": 2}, ChangedMeanwhile), ({"withdrawn_at": timezone.now()}, WithdrawnMeanwhile)]
)
def test_where_one_says_something_else_now_or_nothing_none_is_decided(
    writer: Member, notes: list[Note], change: dict[str, object], why: type[Exception]
) -> None:
    Note.objects.filter(pk=notes[2].pk).update(**change)
    with pytest.raises(NotTogether) as refused:
        decide_together(writer, shown(notes), NO, uuid.uuid4())
    assert isinstance(refused.value.why, why)
    assert not Decision.objects.exists()


def test_a_note_is_not_declined_without_a_reason(writer: Member, crew: Member, draft: Draft) -> None:
    safety = make_note(crew, draft, kind=NoteKind.SAFETY)
    with pytest.raises(NotTogether) as refused:
        decide_together(writer, shown([safety]), Deciding(Outcome.DECLINED, "  "), uuid.uuid4())
    assert isinstance(refused.value.why, NeedsReason)
    with pytest.raises(NeedsReason):
        decide(writer, safety, Outcome.DECLINED, "", 0, uuid.uuid4())


def test_the_same_wording_goes_in_once_for_all_who_offer_it(writer: Member, crew: Member, draft: Draft) -> None:
    alike = [make_note(crew, draft, 9, kind=NoteKind.IDEA, wording="The tide turns at four.") for _ in range(2)]
    decide_together(writer, shown(alike), Deciding(Outcome.ACCEPTED, "", with_wording=True), uuid.uuid4())
    working = writer.production.working_drafts.open_now()
    assert working is not None
    assert working.joined_text().count("The tide turns at four.") == 1
    assert all(note.taken_wordings.now_in().exists() for note in alike)


def test_wordings_that_stand_in_each_other_s_way_decide_nothing(writer: Member, crew: Member, draft: Draft) -> None:
    unlike = [make_note(crew, draft, 9, kind=NoteKind.IDEA, wording=words) for words in ("Ebb at four.", "Flood.")]
    with pytest.raises(NotTogether) as refused:
        decide_together(writer, shown(unlike), Deciding(Outcome.ACCEPTED, "", with_wording=True), uuid.uuid4())
    assert isinstance(refused.value.why, CannotTake)
    assert not Decision.objects.exists()
    assert writer.production.working_drafts.open_now() is None


def test_notes_of_another_production_are_refused(writer: Member, notes: list[Note]) -> None:
    elsewhere = make_member(make_production(), Role.WRITER, Department.WRITING)
    strange = make_note(elsewhere, make_draft(elsewhere))
    with pytest.raises(PermissionDenied):
        decide_together(writer, shown([*notes, strange]), NO, uuid.uuid4())
    assert not Decision.objects.exists()


def test_a_reader_decides_none(crew: Member, notes: list[Note]) -> None:
    with pytest.raises(PermissionDenied):
        decide_together(crew, shown(notes), NO, uuid.uuid4())
