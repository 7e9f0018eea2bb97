"""A note's author changes it until somebody answers it, and corrects it from then on."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.core.exceptions import PermissionDenied
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from review.decisions.acts import decide
from review.decisions.models import Decision
from review.log import Act
from review.notes.acts import (
    AnsweredMeanwhile,
    ChangedMeanwhile,
    NoteWords,
    change_note,
    correct_note,
    reply,
    withdraw_note,
)
from review.notes.models import Audience, EarlierText, Reply
from tests.factories import make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client
    from django.test.client import _MonkeyPatchedWSGIResponse as Response

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member

    SignedIn = Callable[[Member], Client]

HTMX = {"HX-Request": "true"}


@pytest.fixture
def note(crew: Member, draft: Draft) -> Note:
    return make_note(crew, draft, body="Is this night?")


def words(**other: Any) -> NoteWords:
    told: dict[str, Any] = {"kind": "question", "body": "Is it day?", "wording": None, "audience": Audience.EVERYONE}
    return NoteWords(**(told | other))


def address(note: Note, name: str = "note-change") -> str:
    return reverse(name, args=[note.production.public_id, note.public_id])


def send(client: Client, note: Note, **fields: Any) -> Response:
    return client.post(address(note), {"kind": "idea", "audience": "everyone", "version": 1} | fields)


def page(response: Response) -> BeautifulSoup:
    return BeautifulSoup(response.content, "html.parser")


def text_of(response: Response, at: str) -> str:
    found = page(response).select_one(at)
    return " ".join(found.get_text(" ").split()) if found else ""


def test_all_of_a_note_is_changed_while_nobody_has_answered_it(note: Note, crew: Member, signed_in: SignedIn) -> None:
    sent = {"body": "Make it day.", "wording": "NELL mends a sail.", "audience": "writer"}
    assert send(signed_in(crew), note, **sent).status_code == 302
    note.refresh_from_db()
    assert (note.kind, note.body, note.wording, note.audience) == ("idea", *sent.values())
    assert (note.version, note.changed_at is None) == (2, False)


def test_the_words_it_had_are_kept_and_the_change_is_logged(note: Note, crew: Member) -> None:
    change_note(crew, note, words(), read=1)
    kept = EarlierText.objects.get()
    assert (kept.note_id, kept.version, kept.body, kept.was_answered) == (note.pk, 1, "Is this night?", False)
    assert Act.objects.get(verb=Act.Verb.CHANGED_NOTE).about == note.public_id


def test_a_card_says_that_it_was_changed_and_shows_no_earlier_text(
    note: Note, crew: Member, cast: Member, signed_in: SignedIn
) -> None:
    change_note(crew, note, words(), read=1)
    seen = signed_in(cast).get(address(note, "note"))
    assert "changed" in text_of(seen, ".note-place")
    assert "Is this night?" not in seen.text


def test_the_lines_as_they_are_offer_no_wording(note: Note, crew: Member, signed_in: SignedIn) -> None:
    send(signed_in(crew), note, body="Make it day.", wording="NELL mends a net by one lamp.")
    note.refresh_from_db()
    assert note.wording is None


def test_a_note_must_say_something(note: Note, crew: Member, signed_in: SignedIn) -> None:
    response = send(signed_in(crew), note, body="  ")
    assert response.status_code == 422
    assert "withdraw it" in text_of(response, "#body-errors")
    assert not EarlierText.objects.exists()


def test_the_same_words_sent_twice_change_it_once(note: Note, crew: Member, signed_in: SignedIn) -> None:
    for _ in range(2):
        assert send(signed_in(crew), note, body="Make it day.").status_code == 302
    assert EarlierText.objects.count() == 1


def test_words_from_an_older_window_are_held_and_shown_again(note: Note, crew: Member, signed_in: SignedIn) -> None:
    change_note(crew, note, words(), read=1)
    response = send(signed_in(crew), note, body="Or dusk?")
    assert response.status_code == 409
    assert "another window" in text_of(response, "[role=alert]")
    assert text_of(response, "textarea[name=body]") == "Or dusk?"
    note.refresh_from_db()
    assert note.body == "Is it day?"
    assert send(signed_in(crew), note, body="Or dusk?", version=2).status_code == 302


@pytest.mark.parametrize("how", ["replied", "decided", "replied and taken back", "decided and opened again"])
def test_once_answered_it_is_no_longer_changed(
    note: Note, crew: Member, writer: Member, cast: Member, how: str
) -> None:
    answer(note, writer, cast, how)
    with pytest.raises(AnsweredMeanwhile):
        change_note(crew, note, words(), read=1)
    note.refresh_from_db()
    assert (note.body, note.version) == ("Is this night?", 1)
    assert not EarlierText.objects.exists()


def answer(note: Note, writer: Member, cast: Member, how: str) -> None:
    if how.startswith("replied"):
        answered = reply(cast, note, "It is.", uuid.uuid4())
        Reply.objects.filter(pk=answered.pk).update(withdrawn_at=answered.created_at if "back" in how else None)
    else:
        decide(writer, note, "accepted", "", 0, uuid.uuid4())
        if "again" in how:
            decide(writer, note, "reopened", "", 1, uuid.uuid4())


def test_what_its_author_adds_under_it_answers_nothing(note: Note, crew: Member) -> None:
    reply(crew, note, "I mean the first line.", uuid.uuid4())
    assert change_note(crew, note, words(), read=1).body == "Is it day?"


def test_it_is_then_corrected_and_the_first_text_is_shown(
    note: Note, crew: Member, writer: Member, cast: Member, signed_in: SignedIn
) -> None:
    decide(writer, note, "accepted", "", 0, uuid.uuid4())
    client = signed_in(crew)
    assert "What it first said" in client.get(address(note)).text
    sent = {"body": "Is it *dusk*?", "version": 1, "audience": "writer"}  # who reads it was answered with it, and stays
    assert client.post(address(note), sent).status_code == 302
    correct_note(crew, note, "Is it dawn?", read=2)
    seen = signed_in(cast).get(address(note, "note"))
    assert text_of(seen, ".note-body") == "Is it dawn?"
    assert "corrected" in text_of(seen, ".note-place")
    before = [body.get_text(" ", strip=True) for body in page(seen).select(".note-corrected .note-body-before")]
    assert ["Is this night?" in before[0], "dusk" in before[1]] == [True, True]
    assert [act.verb for act in Act.objects.all()[:2]] == [Act.Verb.CORRECTED_NOTE] * 2
    note.refresh_from_db()
    assert note.audience == Audience.EVERYONE


def test_a_change_that_comes_after_an_answer_becomes_a_correction_to_send(
    note: Note, crew: Member, cast: Member, signed_in: SignedIn
) -> None:
    reply(cast, note, "It is.", uuid.uuid4())
    response = send(signed_in(crew), note, body="Make it day.")
    assert response.status_code == 409
    assert text_of(response, "h1") == "Correct your note"
    assert text_of(response, "textarea[name=body]") == "Make it day."
    assert not EarlierText.objects.exists()


def test_a_withdrawn_note_shows_its_earlier_texts_to_its_author_alone(
    note: Note, crew: Member, writer: Member, signed_in: SignedIn
) -> None:
    decide(writer, note, "accepted", "", 0, uuid.uuid4())
    correct_note(crew, note, "Is it dawn?", read=1)
    withdraw_note(crew, note)
    assert "Is this night?" in signed_in(crew).get(address(note, "note")).text
    assert "Is this night?" not in signed_in(writer).get(address(note, "note")).text
    with pytest.raises(PermissionDenied):
        correct_note(crew, note, "Is it noon?", read=2)


def test_nobody_but_its_author_changes_or_corrects_it(note: Note, writer: Member, signed_in: SignedIn) -> None:
    with pytest.raises(PermissionDenied):
        change_note(writer, note, words(), read=1)
    with pytest.raises(PermissionDenied):
        correct_note(writer, note, "Mine.", read=1)
    assert send(signed_in(writer), note, body="Mine.").status_code == 403
    assert not EarlierText.objects.exists()


def test_whoever_was_removed_meanwhile_changes_nothing(note: Note, crew: Member, draft: Draft) -> None:
    type(crew).objects.filter(pk=crew.pk).update(removed_at=draft.created_at)
    with pytest.raises(PermissionDenied):
        change_note(crew, note, words(), read=1)


def test_nobody_decides_on_words_that_they_have_not_seen(
    note: Note, crew: Member, writer: Member, signed_in: SignedIn
) -> None:
    change_note(crew, note, words(), read=1)
    with pytest.raises(ChangedMeanwhile):
        decide(writer, note, "accepted", "", 0, uuid.uuid4(), read=1)
    sent = {"outcome": "declined", "reason": "It is night.", "seen": 0, "version": 1, "form_id": uuid.uuid4()}
    response = signed_in(writer).post(address(note, "decide"), sent)
    assert response.status_code == 409
    assert "Is it day?" in text_of(response, "[role=alert]")
    assert text_of(response, "textarea[name=reason]") == "It is night."
    assert not Decision.objects.exists()


def test_nobody_replies_to_words_that_they_have_not_seen(
    note: Note, crew: Member, cast: Member, signed_in: SignedIn
) -> None:
    change_note(crew, note, words(), read=1)
    sent = {"body": "Night, surely.", "version": 1, "form_id": uuid.uuid4()}
    response = signed_in(cast).post(address(note, "reply-new"), sent)
    assert response.status_code == 409
    assert "changed this note while you wrote" in response.text
    assert "Night, surely." in response.text
    assert not Reply.objects.exists()
    assert signed_in(cast).post(address(note, "reply-new"), sent | {"version": 2}).status_code == 302


def test_one_more_query_shows_what_many_notes_first_said(
    crew: Member, writer: Member, draft: Draft, signed_in: SignedIn, django_assert_num_queries: Any
) -> None:
    client, script = signed_in(crew), reverse("script", args=[draft.production.public_id, 1])

    def corrected() -> None:
        one = make_note(crew, draft)
        decide(writer, one, "accepted", "", 0, uuid.uuid4())
        correct_note(crew, one, "Is it dawn?", read=1)

    corrected()
    client.get(script)
    with CaptureQueriesContext(connection) as first:
        client.get(script)
    for _ in range(4):
        corrected()
    with django_assert_num_queries(len(first)):
        client.get(script)
