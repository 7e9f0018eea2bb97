"""Accepted wordings in the working draft: taken in with the decision, overtaken, written over, taken out again."""

from __future__ import annotations

import uuid
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from typing import TYPE_CHECKING

import pytest
from django.core.exceptions import PermissionDenied
from django.db import connection, transaction

from review.decisions.acts import decide
from review.decisions.in_force import decision_in_force
from review.decisions.models import Decision, Outcome
from review.log import Act
from review.publishing.acts import publish_draft
from review.rewriting.acts import begin_working
from review.rewriting.current_text import current_text
from review.rewriting.scene_acts import save_scene
from review.rewriting.wording_fit import FitState, WordingFit, wording_fit
from review.rewriting.wording_models import TakenWording
from review.rewriting.wordings import CannotTake, OvertakenByAnother, WrittenOver, leave_in
from screenplay.intake import read_text
from tests.factories import SCRIPT, make_note

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member


@pytest.fixture
def note(crew: Member, draft: Draft) -> Note:
    return make_note(crew, draft, 9, wording="The tide turns at four.")


def accept(writer: Member, note: Note, seen: int = 0) -> Decision:
    return decide(writer, note, Outcome.ACCEPTED, "", seen, uuid.uuid4(), with_wording=True)


def reopen(writer: Member, note: Note, seen: int = 1, *, with_wording: bool = True) -> Decision:
    return decide(writer, note, Outcome.REOPENED, "", seen, uuid.uuid4(), with_wording=with_wording)


def text_now(writer: Member) -> str:
    working = writer.production.working_drafts.open_now()
    assert working is not None
    return working.joined_text()


def fit_now(writer: Member, note: Note) -> WordingFit:
    pages = current_text(writer.production)
    assert pages is not None
    return wording_fit(note, pages)


def write(writer: Member, before: str, after: str) -> None:
    """Change words of the working draft by hand."""
    working = writer.production.working_drafts.open_now()
    assert working is not None
    scene = next(scene for scene in working.scenes.all() if before in scene.text)
    save_scene(writer, scene, scene.text.replace(before, after), scene.version, uuid.uuid4())


def test_accepting_puts_the_wording_into_a_working_draft_that_it_begins(writer: Member, note: Note) -> None:
    decision = accept(writer, note)
    assert text_now(writer) == SCRIPT.replace("Tide turns at four.", "The tide turns at four.")
    taken = TakenWording.objects.get()
    assert (taken.note, taken.decision, taken.taken_by, taken.undone_at) == (note, decision, writer, None)
    assert Act.objects.filter(verb=Act.Verb.TOOK_WORDING, about=note.public_id).count() == 1


def test_it_goes_into_the_working_draft_that_is_open(writer: Member, draft: Draft, note: Note) -> None:
    working = begin_working(writer, draft, uuid.uuid4())
    write(writer, "Mist. The skiff is gone.", "Rain.")
    accept(writer, note)
    assert writer.production.working_drafts.open_now() == working
    assert "Rain." in text_now(writer)
    assert "The tide turns at four." in text_now(writer)


def test_without_being_asked_for_it_stays_out(writer: Member, note: Note) -> None:
    decide(writer, note, Outcome.ACCEPTED, "", 0, uuid.uuid4())
    assert writer.production.working_drafts.open_now() is None


def test_a_wording_finds_its_lines_wherever_the_writer_moved_them(writer: Member, draft: Draft, note: Note) -> None:
    begin_working(writer, draft, uuid.uuid4())
    write(writer, "NELL mends a net by one lamp.", "NELL mends a net.\n\nThe lamp smokes.\n\nShe coughs.")
    accept(writer, note)
    assert "She coughs.\n\nNELL\nThe tide turns at four." in text_now(writer)


def test_a_wording_and_other_changes_to_its_line_go_together(writer: Member, draft: Draft, note: Note) -> None:
    begin_working(writer, draft, uuid.uuid4())
    write(writer, "turns at four", "turns at five")
    assert fit_now(writer, note).after == "The tide turns at five."
    accept(writer, note)
    assert "The tide turns at five." in text_now(writer)


def test_an_empty_wording_cuts_its_lines(writer: Member, crew: Member, draft: Draft) -> None:
    accept(writer, make_note(crew, draft, 12, wording=""))
    assert text_now(writer) == SCRIPT.replace("(from the slip)\n", "")


def test_line_ends_stay_as_the_draft_has_them(writer: Member, crew: Member) -> None:
    draft, _ = publish_draft(writer, read_text(SCRIPT.replace("\n", "\r\n")))
    accept(writer, make_note(crew, draft, 9, wording="One.\nTwo."))
    assert text_now(writer) == SCRIPT.replace("Tide turns at four.", "One.\nTwo.").replace("\n", "\r\n")


def test_two_wordings_of_different_words_come_to_the_same_text_in_either_order(
    writer: Member, crew: Member, draft: Draft
) -> None:
    wordings = ["Tide turns at five.", "The water turns at four."]
    notes = [make_note(crew, draft, 9, wording=wording) for wording in wordings]
    texts = []
    for order in (notes, notes[::-1]):
        for note in order:
            accept(writer, note, note.decisions.count())
        texts.append(text_now(writer))
        for note in order:
            reopen(writer, note, note.decisions.count())
        assert text_now(writer) == SCRIPT
    assert texts[0] == texts[1]
    assert "The water turns at five." in texts[0]


def test_a_wording_of_words_that_another_has_changed_is_overtaken_and_says_by_which(
    writer: Member, crew: Member, cast: Member, draft: Draft, note: Note
) -> None:
    other = make_note(cast, draft, 9, wording="Our tide turns at four.")
    accept(writer, note)
    found = fit_now(writer, other)
    assert (found.state, found.by) == (FitState.OVERTAKEN, note)
    with pytest.raises(OvertakenByAnother) as told:
        accept(writer, other)
    assert told.value.fit.by == note
    assert decision_in_force(other.decisions.all()) is None
    assert "Our" not in text_now(writer)


def test_an_overtaken_note_can_be_accepted_without_its_wording(
    writer: Member, cast: Member, draft: Draft, note: Note
) -> None:
    other = make_note(cast, draft, 9, wording="Our tide turns at four.")
    accept(writer, note)
    decide(writer, other, Outcome.ACCEPTED, "", 0, uuid.uuid4())
    assert TakenWording.objects.get().note == note


def test_a_wording_that_was_written_over_by_hand_overtakes_nothing_any_more(
    writer: Member, cast: Member, draft: Draft, note: Note
) -> None:
    other = make_note(cast, draft, 9, wording="Our tide turns at four.")
    accept(writer, note)
    write(writer, "The tide turns", "Slack water comes")
    assert fit_now(writer, other).state is FitState.REWRITTEN
    write(writer, "Slack water comes", "Tide turns")
    accept(writer, other)
    assert "Our tide turns at four." in text_now(writer)


def test_words_that_the_writer_changed_by_hand_are_shown_and_not_guessed_at(
    writer: Member, draft: Draft, note: Note
) -> None:
    begin_working(writer, draft, uuid.uuid4())
    write(writer, "Tide turns", "Slack water comes")
    found = fit_now(writer, note)
    assert (found.state, found.before, found.after) == (
        FitState.REWRITTEN,
        "Slack water comes at four.",
        "The tide turns at four.",
    )
    with pytest.raises(CannotTake):
        accept(writer, note)
    assert not Decision.objects.exists()


def test_a_wording_whose_lines_were_cut_has_nowhere_to_go(writer: Member, draft: Draft, note: Note) -> None:
    begin_working(writer, draft, uuid.uuid4())
    write(writer, "NELL\nTide turns at four.\n\n", "")
    assert fit_now(writer, note).state is FitState.GONE


def test_a_wording_over_two_scenes_is_left_to_the_writer(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, 13, 15, wording="Then we go.\n\nEXT. SLIP - DAWN")
    assert fit_now(writer, note).state is FitState.ACROSS
    begin_working(writer, draft, uuid.uuid4())
    assert fit_now(writer, note).state is FitState.ACROSS


def test_a_wording_left_on_an_earlier_draft_goes_in_where_its_lines_stand_now(writer: Member, note: Note) -> None:
    publish_draft(writer, read_text(SCRIPT.replace("at four", "at five").replace("NELL mends", "She mends")))
    accept(writer, note)
    assert "The tide turns at five." in text_now(writer)


def test_undo_takes_the_words_out_and_opens_the_note_again(writer: Member, note: Note) -> None:
    accept(writer, note)
    reopen(writer, note)
    assert text_now(writer) == SCRIPT
    assert decision_in_force(note.decisions.all()) is None
    assert [decision.outcome for decision in note.decisions.all()] == ["accepted", "reopened"]
    assert note.taken_wordings.now_in().first() is None
    accept(writer, note, 2)
    assert "The tide turns" in text_now(writer)


def test_undo_leaves_whatever_else_was_written_since(writer: Member, note: Note) -> None:
    accept(writer, note)
    write(writer, "Then we go", "Then we row")
    write(writer, "turns at four", "turns at six")
    reopen(writer, note)
    assert text_now(writer) == SCRIPT.replace("Then we go", "Then we row").replace("at four", "at six")


def test_words_changed_since_they_were_taken_in_are_not_taken_out_by_guessing(writer: Member, note: Note) -> None:
    accept(writer, note)
    write(writer, "The tide turns", "That tide turns")
    before = text_now(writer)
    with pytest.raises(WrittenOver):
        reopen(writer, note)
    assert text_now(writer) == before
    standing = decision_in_force(note.decisions.all())
    assert standing is not None
    assert standing.outcome == Outcome.ACCEPTED
    reopen(writer, note, with_wording=False)
    assert text_now(writer) == before
    assert decision_in_force(note.decisions.all()) is None
    assert note.taken_wordings.now_in().first() is None


@pytest.mark.parametrize("first", [0, 1])
def test_of_two_that_offer_the_same_the_last_to_come_out_takes_the_words_out(
    writer: Member, crew: Member, cast: Member, draft: Draft, first: int
) -> None:
    notes = [make_note(member, draft, 9, wording="The tide turns at four.") for member in (crew, cast)]
    for note in notes:
        accept(writer, note)
    reopen(writer, notes[first])
    assert "The tide turns" in text_now(writer)
    reopen(writer, notes[1 - first])
    assert text_now(writer) == SCRIPT


def test_declining_after_all_takes_it_out_too(writer: Member, note: Note) -> None:
    accept(writer, note)
    decide(writer, note, Outcome.DECLINED, "After all, no.", 1, uuid.uuid4(), with_wording=True)
    assert text_now(writer) == SCRIPT


def test_the_same_form_sent_twice_takes_it_once(writer: Member, note: Note) -> None:
    form_id = uuid.uuid4()
    for _ in range(2):
        decide(writer, note, Outcome.ACCEPTED, "", 0, form_id, with_wording=True)
    assert TakenWording.objects.count() == 1
    assert text_now(writer).count("The tide turns") == 1


def test_accepting_again_with_another_reason_keeps_it_in_once(writer: Member, note: Note) -> None:
    accept(writer, note)
    accept(writer, note, 1)
    assert TakenWording.objects.count() == 1


def test_a_crash_while_taking_it_leaves_no_decision_and_no_words(
    writer: Member, note: Note, monkeypatch: pytest.MonkeyPatch
) -> None:
    def break_off(*_: object, **__: object) -> None:
        raise RuntimeError("The power went out.")

    monkeypatch.setattr("review.rewriting.models.WorkingScene.write", break_off)
    with pytest.raises(RuntimeError):
        accept(writer, note)
    assert not Decision.objects.exists()
    assert writer.production.working_drafts.open_now() is None


def test_whoever_does_not_write_leaves_no_wording_in(writer: Member, crew: Member, note: Note) -> None:
    accept(writer, note)
    taken = TakenWording.objects.get()
    with transaction.atomic(), pytest.raises(PermissionDenied):
        leave_in(crew, taken)
    taken.refresh_from_db()
    assert taken.undone_at is None


@pytest.mark.django_db(transaction=True)
def test_of_two_wordings_taken_in_the_same_moment_one_is_overtaken(
    postgres_url: str, writer: Member, crew: Member, draft: Draft, note: Note
) -> None:
    other = make_note(crew, draft, 9, wording="Our tide turns at four.")
    at_once = Barrier(2)

    def take(each: Note) -> str:
        try:
            at_once.wait(timeout=10)
            return accept(writer, each).outcome
        except OvertakenByAnother:
            return "overtaken"
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as threads:
        assert sorted(threads.map(take, [note, other])) == ["accepted", "overtaken"]
    assert TakenWording.objects.count() == 1
