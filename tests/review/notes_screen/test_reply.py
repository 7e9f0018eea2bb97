"""Replies under a note: made once, read by whoever reads the note, taken back by their authors."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.log import Act
from review.notes.acts import reply, withdraw_note, withdraw_reply
from review.notes.models import Audience, Reply
from review.notes_screen.views.reply import SENT_ALREADY, WITHDRAWN_SINCE
from tests.factories import make_draft, make_member, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member

    SignedIn = Callable[[Member], Client]

HTMX = {"HX-Request": "true"}


def address(note: Note) -> str:
    return reverse("reply-new", args=[note.production.public_id, note.public_id])


def withdraw_address(made: Reply) -> str:
    return reverse("reply-withdraw", args=[made.note.production.public_id, made.public_id])


def form(body: str = "By *hand*.", form_id: str = "") -> dict[str, str]:
    return {"body": body, "form_id": form_id or str(uuid.uuid4()), "shown": "1"}


def test_a_reply_stands_under_its_note(signed_in: SignedIn, crew: Member, cast: Member, draft: Draft) -> None:
    note = make_note(crew, draft)
    response = signed_in(cast).post(address(note), form())
    assert response.headers["Location"].endswith(f"/drafts/1/script/?note={note.public_id}#note-{note.public_id}")
    made = Reply.objects.get()
    assert (made.note, made.author, made.body) == (note, cast, "By *hand*.")
    assert Act.objects.filter(verb=Act.Verb.REPLIED, about=made.public_id).count() == 1


def test_by_htmx_it_answers_with_the_card(signed_in: SignedIn, crew: Member, cast: Member, draft: Draft) -> None:
    note = make_note(crew, draft)
    response = signed_in(cast).post(address(note), form(), headers=HTMX)
    page = BeautifulSoup(response.content, "html.parser")
    assert [card["id"] for card in page.select("article")] == [f"note-{note.public_id}"]
    assert page.select_one(".reply em").get_text() == "hand"  # type: ignore[union-attr]


def test_the_same_form_sent_twice_makes_one_reply(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    note, fields = make_note(crew, draft), form()
    signed_in(crew).post(address(note), fields)
    signed_in(crew).post(address(note), fields)
    assert Reply.objects.count() == 1


@pytest.mark.parametrize(("headers", "look"), [({}, ""), (HTMX, ""), (HTMX, "compact")], ids=["page", "card", "row"])
def test_the_same_words_in_a_form_made_anew_find_the_reply_and_its_note_says_so(
    signed_in: SignedIn, crew: Member, draft: Draft, headers: dict[str, str], look: str
) -> None:
    """As a browser without scripts sends them that went back."""
    note, client = make_note(crew, draft), signed_in(crew)
    for told in ([], [SENT_ALREADY]):
        answer = client.post(address(note), form() | {"look": look}, headers=headers, follow=True)
        page = BeautifulSoup(answer.content, "html.parser")
        assert [each.get_text() for each in page.select(f"#note-{note.public_id} .message")] == told
    assert Reply.objects.count() == Act.objects.filter(verb=Act.Verb.REPLIED).count() == 1
    there = client.get(reverse("script", args=[note.production.public_id, 1]), {"note": note.public_id})
    assert SENT_ALREADY not in there.text


def test_the_same_words_are_a_new_reply_once_something_else_was_said_or_they_were_withdrawn(
    signed_in: SignedIn, crew: Member, cast: Member, draft: Draft
) -> None:
    note, client = make_note(crew, draft), signed_in(crew)
    client.post(address(note), form("Yes."))
    reply(cast, note, "By hand, too?", uuid.uuid4())
    fields = form("Yes.")
    client.post(address(note), fields)
    assert [made.body for made in Reply.objects.all()] == ["Yes.", "By hand, too?", "Yes."]
    withdraw_reply(crew, Reply.objects.latest("pk"))
    assert WITHDRAWN_SINCE in client.post(address(note), fields, headers=HTMX).text
    assert Reply.objects.count() == 3
    client.post(address(note), form("By hand, too?"))
    assert Reply.objects.count() == 4


def test_words_changed_after_they_had_arrived_are_kept(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    note, fields = make_note(crew, draft), form("First")
    signed_in(crew).post(address(note), fields)
    response = signed_in(crew).post(address(note), fields | {"body": "Second"}, headers=HTMX)
    assert response.status_code == 409
    page = BeautifulSoup(response.content, "html.parser")
    assert page.select_one("textarea[name=body]").get_text(strip=True) == "Second"  # type: ignore[union-attr]
    renewed = str(page.select_one(".reply-form [name=form_id]")["value"])  # type: ignore[index]
    signed_in(crew).post(address(note), form("Second", renewed))
    assert list(Reply.objects.values_list("body", flat=True)) == ["First", "Second"]


@pytest.mark.parametrize(
    ("body", "sentence"),
    [(" ", "Write a few words first."), ("x" * 10_001, "A reply can hold 10,000 characters. Shorten it, or send two.")],
)
@pytest.mark.parametrize("headers", [{}, HTMX], ids=["page", "htmx"])
def test_what_it_refuses_it_explains_and_keeps(
    signed_in: SignedIn, crew: Member, draft: Draft, body: str, sentence: str, headers: dict[str, str]
) -> None:
    response = signed_in(crew).post(address(make_note(crew, draft)), form(body), headers=headers)
    page = BeautifulSoup(response.content, "html.parser")
    assert response.status_code == 422
    assert [error.get_text() for error in page.select(".reply-form .field-errors")] == [sentence]
    assert page.select_one("textarea[name=body]").get_text().strip() == body.strip()  # type: ignore[union-attr]
    assert not Reply.objects.exists()


def test_who_may_not_read_the_note_may_not_reply(signed_in: SignedIn, crew: Member, cast: Member, draft: Draft) -> None:
    note = make_note(crew, draft, audience=Audience.WRITER)
    assert signed_in(cast).post(address(note), form()).status_code == 404
    assert signed_in(make_member(make_production("Another"))).post(address(note), form()).status_code == 404
    assert not Reply.objects.exists()


def test_the_writer_answers_a_note_for_their_eyes(
    signed_in: SignedIn, crew: Member, writer: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, audience=Audience.WRITER)
    signed_in(writer).post(address(note), form("Between us"))
    told = signed_in(crew).get(reverse("note", args=[crew.production.public_id, note.public_id])).content.decode()
    assert "Between us" in told


def test_a_withdrawn_note_takes_no_more_replies(signed_in: SignedIn, crew: Member, cast: Member, draft: Draft) -> None:
    note = make_note(crew, draft)
    withdraw_note(crew, note)
    assert signed_in(cast).post(address(note), form()).status_code == 404


def test_a_note_of_another_production_takes_no_reply_here(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    elsewhere = make_member(make_production("Another"))
    note = make_note(elsewhere, make_draft(elsewhere, "INT. X - DAY\n\nFog.\n\nFog.\n\nFog.\n"))
    here = reverse("reply-new", args=[crew.production.public_id, note.public_id])
    assert signed_in(crew).post(here, form()).status_code == 404


def test_its_author_takes_it_back_and_it_is_kept(signed_in: SignedIn, crew: Member, cast: Member, draft: Draft) -> None:
    note = make_note(crew, draft)
    made = reply(cast, note, "Rash words", uuid.uuid4())
    signed_in(cast).post(withdraw_address(made), {"shown": "1"})
    made.refresh_from_db()
    assert made.withdrawn_at is not None
    assert made.body == "Rash words"
    page = reverse("note", args=[crew.production.public_id, note.public_id])
    assert "Rash words" in signed_in(cast).get(page).content.decode()
    told = signed_in(crew).get(page).content.decode()
    assert "Rash words" not in told
    assert "Withdrawn." in told
    assert Act.objects.filter(verb=Act.Verb.WITHDREW_REPLY).count() == 1


def test_nobody_else_takes_it_back(
    signed_in: SignedIn, crew: Member, cast: Member, writer: Member, draft: Draft
) -> None:
    made = reply(cast, make_note(crew, draft), "Mine", uuid.uuid4())
    for other in (crew, writer):
        assert signed_in(other).post(withdraw_address(made)).status_code == 403
    made.refresh_from_db()
    assert made.withdrawn_at is None


def test_a_reply_under_a_note_one_may_not_read_is_not_there(
    signed_in: SignedIn, crew: Member, cast: Member, draft: Draft
) -> None:
    made = reply(crew, make_note(crew, draft, audience=Audience.WRITER), "Hidden", uuid.uuid4())
    assert signed_in(cast).post(withdraw_address(made)).status_code == 404


def test_withdrawing_twice_is_logged_once(crew: Member, draft: Draft) -> None:
    made = reply(crew, make_note(crew, draft), "Mine", uuid.uuid4())
    withdraw_reply(crew, made)
    withdraw_reply(crew, made)
    assert Act.objects.filter(verb=Act.Verb.WITHDREW_REPLY).count() == 1


def test_replying_is_a_post(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    assert signed_in(crew).get(address(make_note(crew, draft))).status_code == 405
