"""Putting up the working draft: what is asked, what is then written in, and what can come between."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.decisions.acts import decide
from review.drafts.texts import hash_text
from review.notes.then_and_now import NextText
from review.publishing.acts import NothingNew, TextChangedMeanwhile, publish_working
from review.publishing.answers import field_of, preset_answers
from review.rewriting.acts import begin_working, set_aside_working
from review.rewriting.models import WorkingDraft
from review.rewriting.scene_acts import save_scene
from review.rewriting.wording_models import WrittenIn
from tests.factories import SCRIPT, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

NEXT = SCRIPT.replace("Tide turns at four.", "The tide turns at four.")


@pytest.fixture
def notes(writer: Member, crew: Member, draft: Draft) -> list[Note]:
    """Two accepted ones: the first has its wording in the working draft, the other waits."""
    taken, waiting = make_note(crew, draft, 9, wording="The tide turns at four."), make_note(crew, draft, 17)
    decide(writer, taken, "accepted", "", 0, uuid.uuid4(), with_wording=True)
    decide(writer, waiting, "accepted", "", 0, uuid.uuid4())
    return [taken, waiting]


def address(writer: Member) -> str:
    return reverse("working-publish", args=[writer.production.public_id])


def fields_of(page: str) -> dict[str, str]:
    form = BeautifulSoup(page, "html.parser").select_one("form.asking")
    assert form is not None
    return {str(field["name"]): str(field["value"]) for field in form.select("input[type=hidden], input[checked]")}


def write(writer: Member, before: str, after: str) -> None:
    working = writer.production.working_drafts.open_now()
    assert working is not None
    scene = next(scene for scene in working.scenes.all() if before in scene.text)
    save_scene(writer, scene, scene.text.replace(before, after), scene.version, uuid.uuid4())


def test_it_becomes_the_next_draft_and_answers_what_was_answered(
    signed_in: SignIn, writer: Member, notes: list[Note]
) -> None:
    client = signed_in(writer)
    fields = fields_of(client.get(address(writer)).text)
    response = client.post(address(writer), fields | {"label": "After the reading"})
    draft = writer.production.drafts.get(number=2)
    assert response.headers["Location"] == reverse("draft-report", args=[writer.production.public_id, 2])
    assert (draft.text, draft.label, draft.colour) == (NEXT, "After the reading", "Blue")
    assert draft.upload_bytes().decode() == NEXT
    assert WrittenIn.objects.get().decision.note == notes[0]
    assert writer.production.working_drafts.open_now() is None
    assert WorkingDraft.objects.get().published_as == draft


def test_a_note_whose_wording_was_overtaken_is_not_taken_for_answered(
    signed_in: SignIn, writer: Member, cast: Member, draft: Draft, notes: list[Note]
) -> None:
    overtaken = make_note(cast, draft, 9, wording="Our tide turns at four.")
    decide(writer, overtaken, "accepted", "", 0, uuid.uuid4())
    page = signed_in(writer).get(address(writer)).text
    question = BeautifulSoup(page, "html.parser").select_one(f"#question-{overtaken.public_id}")
    assert question is not None
    told = " ".join(question.text.split())
    assert "Offered Our tide turns at four. Overtaken by Bo Finch’s note." in told
    asked = {field_of(note.decisions.get()): note for note in (notes[0], overtaken)}
    fields = fields_of(page)
    assert [fields[field] for field in asked] == ["yes", "no"]
    answers = preset_answers(
        writer, NextText.of(writer.production, SCRIPT.replace("Tide turns at four.", "Our tide turns at four."))
    )
    assert answers[overtaken.decisions.get().pk], "for a file reads as it was offered"


def begin_with_one_accepted(writer: Member, crew: Member, draft: Draft, line: int) -> Note:
    """A note on a line that asks for something, and a working draft in which nothing was done about it."""
    note = make_note(crew, draft, line)
    decide(writer, note, "accepted", "", 0, uuid.uuid4())
    begin_working(writer, draft, uuid.uuid4())
    return note


def test_a_rename_alone_is_told_and_answers_nothing_by_itself(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = begin_with_one_accepted(writer, crew, draft, 6)
    for before, after in (("NELL mends", "ADA mends"), ("\nNELL\nTide", "\nADA\nTide"), ("\nNELL\nHe", "\nADA\nHe")):
        write(writer, before, after)
    renamed = signed_in(writer).get(address(writer)).text
    assert "Renamed or numbered: nothing else in its lines reads otherwise." in renamed
    assert field_of(note.decisions.get()) not in fields_of(renamed)

    write(writer, "ADA mends a net", "ADA mends a sail")
    rewritten = signed_in(writer).get(address(writer)).text
    assert "Renamed or numbered" not in rewritten
    assert fields_of(rewritten)[field_of(note.decisions.get())] == "yes"


def test_a_scene_number_alone_answers_nothing_by_itself(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = begin_with_one_accepted(writer, crew, draft, 4)
    write(writer, "INT. BOATHOUSE - NIGHT", "INT. BOATHOUSE - NIGHT #12#")
    page = signed_in(writer).get(address(writer)).text
    assert "Renamed or numbered" in page
    assert field_of(note.decisions.get()) not in fields_of(page)


def test_a_form_sent_twice_puts_up_one_draft(signed_in: SignIn, writer: Member, notes: list[Note]) -> None:
    client = signed_in(writer)
    fields = fields_of(client.get(address(writer)).text)
    for _ in range(2):
        assert client.post(address(writer), fields).status_code == 302
    assert writer.production.drafts.count() == 2


def test_a_text_that_changed_since_the_asking_is_asked_about_anew(
    signed_in: SignIn, writer: Member, notes: list[Note]
) -> None:
    client = signed_in(writer)
    fields = fields_of(client.get(address(writer)).text)
    write(writer, "Mist. The skiff is gone.", "Rain.")
    response = client.post(address(writer), fields)
    assert response.status_code == 409
    assert "was changed since this page was opened" in response.text
    assert writer.production.drafts.count() == 1
    assert client.post(address(writer), fields_of(response.text)).status_code == 302
    assert "Rain." in writer.production.drafts.get(number=2).text


def test_the_answers_given_are_kept_when_something_is_wrong(
    signed_in: SignIn, writer: Member, notes: list[Note]
) -> None:
    client = signed_in(writer)
    fields = fields_of(client.get(address(writer)).text)
    turned = {name: {"yes": "no", "no": "yes"}.get(value, value) for name, value in fields.items()}
    response = client.post(address(writer), turned | {"colour": "Tartan"})
    assert response.status_code == 422
    again = fields_of(response.text)
    assert {name: again[name] for name in again if name.startswith("answers")} == {
        name: turned[name] for name in turned if name.startswith("answers")
    }


def test_a_working_draft_with_nothing_changed_is_not_put_up(signed_in: SignIn, writer: Member, draft: Draft) -> None:
    working = begin_working(writer, draft, uuid.uuid4())
    client = signed_in(writer)
    page = client.get(address(writer)).text
    assert "very text of draft 1" in page
    assert "<button" not in page.split("<main", 1)[1]
    sent = {"working": working.public_id, "seen": hash_text(SCRIPT), "colour": "Blue"}
    response = client.post(address(writer), sent)
    assert response.status_code == 409
    assert "very text of draft 1" in response.text
    with pytest.raises(NothingNew):
        publish_working(writer, working, "", "Blue", {}, hash_text(working.joined_text()))
    assert writer.production.working_drafts.open_now() == working


def test_what_was_set_aside_meanwhile_is_not_put_up(signed_in: SignIn, writer: Member, notes: list[Note]) -> None:
    client = signed_in(writer)
    fields = fields_of(client.get(address(writer)).text)
    working = writer.production.working_drafts.open_now()
    assert working is not None
    set_aside_working(writer, working)
    assert client.post(address(writer), fields).status_code == 302
    assert writer.production.drafts.count() == 1


def test_a_text_that_nobody_was_asked_about_is_refused(writer: Member, notes: list[Note]) -> None:
    working = writer.production.working_drafts.open_now()
    assert working is not None
    with pytest.raises(TextChangedMeanwhile):
        publish_working(writer, working, "", "Blue", {}, hash_text("another"))


def test_without_a_working_draft_it_leads_to_where_one_is_begun(
    signed_in: SignIn, writer: Member, draft: Draft
) -> None:
    response = signed_in(writer).get(address(writer))
    assert response.headers["Location"] == reverse("working", args=[writer.production.public_id])


def test_a_crash_in_the_middle_leaves_the_working_draft_open(
    writer: Member, notes: list[Note], monkeypatch: pytest.MonkeyPatch
) -> None:
    def break_off(*_: object) -> None:
        raise RuntimeError("The power went out.")

    monkeypatch.setattr("review.publishing.acts.write_in", break_off)
    working = writer.production.working_drafts.open_now()
    assert working is not None
    with pytest.raises(RuntimeError):
        publish_working(writer, working, "", "Blue", {}, hash_text(working.joined_text()))
    assert writer.production.working_drafts.open_now() == working
    assert writer.production.drafts.count() == 1


def test_a_working_draft_that_has_grown_past_what_a_script_may_have_is_not_put_up(
    signed_in: SignIn, writer: Member, draft: Draft
) -> None:
    begin_working(writer, draft, uuid.uuid4())
    write(writer, "Mist.", "===\n\n" * 1_001 + "Mist.")
    client = signed_in(writer)
    response = client.post(address(writer), fields_of(client.get(address(writer)).text))
    assert response.status_code == 422
    assert "The working draft has over 1,000 page breaks" in response.text
    assert writer.production.drafts.current() == draft
