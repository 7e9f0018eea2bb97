"""Being asked, when a draft goes up, which accepted notes it answers; and what their cards then say."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from review.decisions.acts import decide
from review.decisions.in_force import accepted_and_not_written_in, undecided
from review.decisions.models import Outcome
from review.log import Act
from review.notes.models import Audience, Note, NoteKind
from review.notes.then_and_now import NextText
from review.publishing.acts import publish_draft
from review.publishing.answers import preset_answers, questions
from review.rewriting.current_text import current_text
from review.rewriting.wording_models import WrittenIn
from screenplay.intake import read_text
from tests.factories import SCRIPT, make_note
from tests.putting_up import choose, preset

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

NEXT = SCRIPT.replace("Tide turns at four.", "The tide turns at five.").replace("Mist. The skiff is gone.\n\n", "")


def accept(writer: Member, note: Note, seen: int = 0) -> None:
    decide(writer, note, Outcome.ACCEPTED, "", seen, uuid.uuid4())


@pytest.fixture
def accepted(writer: Member, crew: Member, draft: Draft) -> list[Note]:
    """Three accepted notes in script order: on a line that stays, on one that is reworded, and on one that is cut."""
    notes = [make_note(crew, draft, line) for line in (6, 9, 17)]
    for note in notes:
        accept(writer, note)
    return notes


def asked(client: Client, writer: Member, **source: Any) -> tuple[str, dict[str, Any]]:
    """Where the form of the page that shows a text goes to, and its fields as they are preset."""
    address = choose(client, writer, **source)["Location"]
    return address, preset(client.get(address))


def test_it_asks_of_each_accepted_note_and_presets_yes_where_its_lines_changed(
    signed_in: SignIn, writer: Member, accepted: list[Note]
) -> None:
    client = signed_in(writer)
    page = client.get(choose(client, writer, text=NEXT)["Location"])
    found = BeautifulSoup(page.text, "html.parser").select("[data-question]")
    assert [str(question["id"]) for question in found] == [f"question-{note.public_id}" for note in accepted]
    chosen = [question.select_one("input[checked]") for question in found]
    assert [each and each["value"] for each in chosen] == ["no", "yes", "yes"]
    assert "The tide turns at five." in found[1].text
    assert "these lines are gone" in found[2].text
    assert writer.production.drafts.count() == 1


def test_what_is_answered_is_written_in_and_the_rest_stays_on_the_list(
    signed_in: SignIn, writer: Member, accepted: list[Note]
) -> None:
    client = signed_in(writer)
    address, fields = asked(client, writer, text=NEXT)
    response = client.post(address, fields | {"label": "Second"})
    draft = writer.production.drafts.get(number=2)
    assert response.headers["Location"] == reverse("draft-report", args=[writer.production.public_id, 2])
    assert (draft.text, draft.label, draft.colour) == (NEXT, "Second", "Blue")
    answered = WrittenIn.objects.filter(draft=draft, said_by=writer).values_list("decision__note", flat=True)
    assert set(answered) == {accepted[1].pk, accepted[2].pk}
    assert list(accepted_and_not_written_in(Note.objects.all())) == [accepted[0]]
    logged = Act.objects.filter(verb=Act.Verb.WROTE_IN).values_list("about", flat=True)
    assert set(logged) == {accepted[1].public_id, accepted[2].public_id}


@pytest.mark.parametrize(
    ("before", "after", "sentence"),
    [
        ("The skiff is gone.", "\n\nThe skiff is gone.", "One paragraph made two."),
        ("Mist. The skiff is gone.", "NELL\nMist. The skiff is gone.", "Now said by NELL; it was action."),
        (
            "Mist. The skiff is gone.\n\nNELL\nHe didn't wait.",
            "NELL\nHe didn't wait.\n\nMist. The skiff is gone.",
            "Moved within its scene.",
        ),
    ],
)
def test_lines_that_are_set_otherwise_have_changed_and_the_question_says_how(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft, before: str, after: str, sentence: str
) -> None:
    line = SCRIPT.splitlines().index("Mist. The skiff is gone.") + 1
    decide(writer, make_note(crew, draft, line), "accepted", "", 0, uuid.uuid4())
    client = signed_in(writer)
    page = client.get(choose(client, writer, text=SCRIPT.replace(before, after))["Location"])
    [question] = BeautifulSoup(page.text, "html.parser").select("[data-question]")
    assert sentence in question.text
    assert "unchanged" not in question.text
    chosen = question.select_one("input[checked]")
    assert chosen is not None
    assert chosen["value"] == "yes"


def test_the_writers_answer_counts_more_than_the_preset(
    signed_in: SignIn, writer: Member, accepted: list[Note]
) -> None:
    client = signed_in(writer)
    address, fields = asked(client, writer, text=NEXT)
    turned = {name: {"yes": "no", "no": "yes"}.get(value, value) for name, value in fields.items()}
    client.post(address, turned)
    assert WrittenIn.objects.get().decision.note == accepted[0]


def test_a_file_goes_up_byte_for_byte_after_the_asking(signed_in: SignIn, writer: Member, accepted: list[Note]) -> None:
    data = b"\xef\xbb\xbf" + NEXT.replace("\n", "\r\n").encode()
    client = signed_in(writer)
    file = SimpleUploadedFile("next.fountain", data)
    address, fields = asked(client, writer, file=file)
    client.post(address, fields)
    draft = writer.production.drafts.get(number=2)
    assert draft.upload_bytes() == data
    assert draft.filename == "next.fountain"


def test_a_note_that_is_written_in_is_not_asked_about_again(writer: Member, accepted: list[Note]) -> None:
    publish_draft(writer, read_text(NEXT), answers=preset_answers(writer, NextText.of(writer.production, NEXT)))
    third = NEXT.replace("five", "six")
    assert [question.accepted.card.note for question in questions(writer, NextText.of(writer.production, third))] == [
        accepted[0]
    ]


def test_nothing_is_asked_without_accepted_notes(signed_in: SignIn, writer: Member, crew: Member, draft: Draft) -> None:
    decide(writer, make_note(crew, draft, 9), "declined", "No.", 0, uuid.uuid4())
    make_note(crew, draft, 9)
    client = signed_in(writer)
    assert "data-question" not in client.get(choose(client, writer, text=NEXT)["Location"]).text


def test_a_text_that_is_up_already_asks_nothing(signed_in: SignIn, writer: Member, accepted: list[Note]) -> None:
    response = choose(signed_in(writer), writer, text=SCRIPT)
    assert response["Location"] == reverse("draft-report", args=[writer.production.public_id, 1])


def test_going_back_to_an_earlier_draft_is_asked_about_too(
    signed_in: SignIn, writer: Member, accepted: list[Note]
) -> None:
    publish_draft(writer, read_text(NEXT))
    client = signed_in(writer)
    address, fields = asked(client, writer, text=SCRIPT)
    assert client.post(address, fields).status_code == 422
    assert client.post(address, fields | {"all_the_same": "on"}).status_code == 302
    assert [draft.text for draft in writer.production.drafts.all()] == [SCRIPT, NEXT, SCRIPT]


def test_thanks_for_praise_ask_for_nothing_and_withdrawn_notes_are_left_out(
    writer: Member, crew: Member, draft: Draft
) -> None:
    praise, withdrawn = make_note(crew, draft, 9, kind=NoteKind.PRAISE), make_note(crew, draft, 9)
    for note in (praise, withdrawn):
        accept(writer, note)
    withdrawn.withdrawn_at = withdrawn.created_at
    withdrawn.save()
    assert questions(writer, NextText.of(writer.production, NEXT)) == []


def test_a_note_whose_decision_changed_meanwhile_is_not_written_in(
    signed_in: SignIn, writer: Member, accepted: list[Note]
) -> None:
    client = signed_in(writer)
    address, fields = asked(client, writer, text=NEXT)
    decide(writer, accepted[1], "declined", "After all, no.", 1, uuid.uuid4())
    client.post(address, fields)
    assert [each.decision.note for each in WrittenIn.objects.all()] == [accepted[2]]


def test_the_same_form_sent_twice_puts_up_one_draft(signed_in: SignIn, writer: Member, accepted: list[Note]) -> None:
    client = signed_in(writer)
    address, fields = asked(client, writer, text=NEXT)
    client.post(address, fields)
    client.post(address, fields)
    assert writer.production.drafts.count() == 2
    assert WrittenIn.objects.count() == 2


def test_a_note_about_a_scene_or_a_character_is_asked_about_without_a_preset(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    scene = make_note(crew, draft, 15, 20, subject="scene")
    nell = make_note(crew, draft, 8, subject="character", character="NELL")
    for note in (scene, nell):
        accept(writer, note)
    client = signed_in(writer)
    text = SCRIPT.replace("He didn't wait.", "He did not wait.")
    address, fields = asked(client, writer, text=text)
    page = BeautifulSoup(client.get(address).text, "html.parser")
    assert len(page.select("[data-question] input")) == 4
    assert page.select("[data-question] input[checked]") == []
    client.post(address, fields)
    assert set(accepted_and_not_written_in(Note.objects.all())) == {scene, nell}, "what nobody said stays on the list"


def test_its_own_wording_presets_yes_and_a_change_elsewhere_does_not(
    writer: Member, crew: Member, draft: Draft
) -> None:
    on_wording = make_note(crew, draft, 20, wording="Gone.")
    beside = make_note(crew, draft, 9)
    for note in (on_wording, beside):
        decide(writer, note, "accepted", "", 0, uuid.uuid4(), with_wording=True)
    pages = current_text(writer.production)
    assert pages is not None
    asked = questions(writer, pages.following)
    assert {question.accepted.card.note: question.answer for question in asked} == {on_wording: True, beside: False}


def test_each_reader_sees_at_their_note_that_it_is_written_in_with_the_lines(
    signed_in: SignIn, writer: Member, crew: Member, accepted: list[Note]
) -> None:
    publish_draft(writer, read_text(NEXT), answers=preset_answers(writer, NextText.of(writer.production, NEXT)))
    client, production = signed_in(crew), writer.production.public_id
    for address in (
        reverse("note", args=[production, accepted[1].public_id]) + "?shown=2",
        reverse("script-page", args=[production, 2, "1"]),
        reverse("notes", args=[production]) + "?state=written",
    ):
        card = BeautifulSoup(client.get(address).text, "html.parser").select_one(f"#note-{accepted[1].public_id}")
        assert card is not None, address
        told = card.select_one(".answer")
        assert told is not None, address
        assert "Written in, draft 2" in told.text
        assert "The tide turns at five." in told.text
        link = told.select_one("a")
        assert link is not None
        assert str(link["href"]).startswith(reverse("changes-between", args=[production, 1, 2]))
    home = client.get(reverse("home", args=[production])).text
    assert home.count("Written in, draft 2") == 2


def test_a_note_for_the_writer_alone_is_asked_about_and_its_answer_betrayed_to_nobody(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 9, audience=Audience.WRITER, body="Between us.")
    accept(writer, note)
    publish_draft(writer, read_text(NEXT), answers=preset_answers(writer, NextText.of(writer.production, NEXT)))
    assert WrittenIn.objects.get().decision.note == note
    production = writer.production.public_id
    for name in ("notes", "home"):
        page = signed_in(cast).get(reverse(name, args=[production]) + "?state=all&author=all").text
        assert "Written in, draft" not in page
        assert note.public_id not in page


def test_a_crash_while_writing_in_leaves_the_earlier_draft_current(
    writer: Member, accepted: list[Note], monkeypatch: pytest.MonkeyPatch
) -> None:
    def break_off(*_: object) -> None:
        raise RuntimeError("The power went out.")

    monkeypatch.setattr("review.publishing.acts.write_in", break_off)
    with pytest.raises(RuntimeError):
        publish_draft(writer, read_text(NEXT), answers={1: True})
    assert writer.production.drafts.count() == 1


def test_the_asking_takes_the_same_queries_for_many_notes(
    writer: Member, crew: Member, draft: Draft, django_assert_num_queries: Any
) -> None:
    for _ in range(3):
        accept(writer, make_note(crew, draft, 9))
    with django_assert_num_queries(7):
        questions(writer, NextText.of(writer.production, NEXT))
    for _ in range(20):
        accept(writer, make_note(crew, draft, 9))
    with django_assert_num_queries(7):
        questions(writer, NextText.of(writer.production, NEXT))


def test_a_note_opened_again_is_undecided(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, 9)
    accept(writer, note)
    note.decisions.create(ordinal=2, outcome=Outcome.REOPENED, decided_by=writer)
    assert list(undecided(Note.objects.all())) == [note]
    assert not accepted_and_not_written_in(Note.objects.all()).exists()
