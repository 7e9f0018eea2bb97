"""What it means to accept a note, by its kind: the words for it, and what is then to be written in."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup, Tag
from django.urls import reverse

from review.decisions.models import Decision
from review.notes.acts import withdraw_note
from review.notes.models import Note, NoteKind
from review.notes.then_and_now import NextText
from review.publishing.answers import questions
from tests.factories import make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]


# A question is answered, praise thanked for, a caution acknowledged; whatever offers a wording is accepted.

MEANINGS = [
    (NoteKind.QUESTION, None, "Answer", "Answered"),
    (NoteKind.SAFETY, None, "Acknowledge", "Acknowledged"),
    (NoteKind.PRAISE, None, "Thank them", "Thanked"),
    (NoteKind.PROBLEM, None, "Accept", "Accepted"),
    (NoteKind.QUESTION, "Tide turns at five.", "Accept", "Accepted"),
]


def address(note: Note) -> str:
    return reverse("decide", args=[note.production.public_id, note.public_id])


def filled_in(outcome: str = "accepted", reason: str = "", seen: int = 0, **fields: Any) -> dict[str, Any]:
    return {"form_id": str(uuid.uuid4()), "outcome": outcome, "reason": reason, "seen": seen, **fields}


def words_of(found: Tag | None) -> str:
    assert found is not None
    return " ".join(found.get_text(" ").split())


@pytest.mark.parametrize(("kind", "wording", "button", "word"), MEANINGS)
def test_the_buttons_and_the_decision_say_what_it_means_for_that_kind(
    signed_in: SignIn,
    writer: Member,
    crew: Member,
    draft: Draft,
    kind: NoteKind,
    wording: str | None,
    button: str,
    word: str,
) -> None:
    note = make_note(crew, draft, 9, kind=kind, wording=wording)
    client, of_crew = signed_in(writer), signed_in(crew)
    card = reverse("note", args=[note.production.public_id, note.public_id])
    page = BeautifulSoup(client.get(card).text, "html.parser")
    assert words_of(page.select_one("label.decide-accepted")) == button
    sentence = client.post(address(note), filled_in("accepted", "At the slip."), follow=True).text
    assert f"{word}. The decision now stands at the note." in sentence
    assert words_of(BeautifulSoup(of_crew.get(card).text, "html.parser").select_one(".decision-line .tag")) == word
    home = of_crew.get(reverse("home", args=[note.production.public_id])).text
    assert words_of(BeautifulSoup(home, "html.parser").select_one(".home-answer .tag")) == word


def test_a_question_is_answered_with_words(signed_in: SignIn, writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, 9, kind=NoteKind.QUESTION)
    response = signed_in(writer).post(address(note), filled_in("accepted"))
    assert response.status_code == 422
    assert "Write the answer" in response.text
    assert not Decision.objects.exists()


def test_what_is_to_be_written_in_is_what_was_accepted_on_every_screen(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    thanked = make_note(crew, draft, 9, kind=NoteKind.PRAISE)
    answered = make_note(crew, draft, 9, kind=NoteKind.QUESTION)
    acknowledged = make_note(crew, draft, 9, kind=NoteKind.SAFETY)
    taken = make_note(crew, draft, 9, kind=NoteKind.PRAISE, wording="Tide turns at five.")
    taken_back = make_note(crew, draft, 9, kind=NoteKind.PROBLEM)
    client = signed_in(writer)
    for note in (thanked, answered, acknowledged, taken, taken_back):
        client.post(address(note), filled_in("accepted", "At the slip."))
    withdraw_note(crew, taken_back)
    listed = BeautifulSoup(client.get(reverse("to-do", args=[note.production.public_id])).text, "html.parser")
    assert [item["id"] for item in listed.select(".to-do-item")] == [f"to-do-{taken.public_id}"]
    home = client.get(reverse("home", args=[note.production.public_id])).text
    assert "1 accepted note to write in" in home
    following = NextText.of(writer.production, draft.text + "\nNELL\nOut.\n")
    assert [question.accepted.card.note for question in questions(writer, following)] == [taken]
    notes = reverse("notes", args=[note.production.public_id])
    states = {
        "accepted": taken,
        "thanked": thanked,
        "answered": answered,
        "acknowledged": acknowledged,
        "taken-back": taken_back,
    }
    for state, found in states.items():
        page = BeautifulSoup(client.get(f"{notes}?state={state}").text, "html.parser")
        assert [each["id"] for each in page.select("article.note")] == [f"note-{found.public_id}"]
