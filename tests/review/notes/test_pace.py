"""How fast one member may leave notes and replies."""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse
from django.utils import timezone

from review import log
from review.log import Act
from review.notes.models import Note, Reply
from review.notes.pace import MOST, WITHIN
from tests.factories import make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignedIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db
TOO_MANY = 429


def form(body: str = "Why?") -> dict[str, Any]:
    lines = {"from": 6, "to": 6, "chosen": "6-6"}
    return lines | {"kind": "question", "body": body, "audience": "everyone", "form_id": str(uuid.uuid4())}


def leave(client: Client, draft: Draft, body: str = "Why?") -> Any:
    return client.post(reverse("note-new", args=[draft.production.public_id, 1]), form(body))


def reply(client: Client, note: Note, body: str = "So.") -> Any:
    address = reverse("reply-new", args=[note.production.public_id, note.public_id])
    return client.post(address, {"body": body, "form_id": str(uuid.uuid4()), "shown": "1"})


def wrote(author: Member, times: int, ago: timedelta = timedelta()) -> None:
    """The member left so many notes, a while ago."""
    with log.happened_at(timezone.now() - ago):
        log.record_each(author.person, Act.Verb.LEFT_NOTE, author.production, ["about"] * times)


def test_six_hundred_notes_in_a_row_are_slowed_with_a_sentence(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    client = signed_in(crew)
    statuses = [leave(client, draft, f"Why {once}?").status_code for once in range(MOST + 3)]
    assert statuses == [302] * MOST + [TOO_MANY] * 3
    assert Note.objects.count() == Act.objects.filter(verb=Act.Verb.LEFT_NOTE).count() == MOST


def test_what_was_typed_is_kept_in_the_form(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    wrote(crew, MOST)
    answer = leave(signed_in(crew), draft, "What of the lamp?")
    page = BeautifulSoup(answer.text, "html.parser")
    assert "wait a minute, and send it again" in page.text
    assert page.select_one("[name=body]").get_text(strip=True) == "What of the lamp?"  # type: ignore[union-attr]


def test_replies_count_too_and_are_slowed_too(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft)
    wrote(crew, MOST - 1)
    client = signed_in(crew)
    assert reply(client, note).status_code == 302
    answer = reply(client, note, "And the lamp?")
    assert answer.status_code == TOO_MANY
    assert "And the lamp?" in answer.text
    assert Reply.objects.count() == 1


def test_a_minute_later_one_may_go_on(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    wrote(crew, MOST, ago=WITHIN + timedelta(seconds=1))
    assert leave(signed_in(crew), draft).status_code == 302


def test_nobody_waits_for_what_others_write(signed_in: SignedIn, crew: Member, cast: Member, draft: Draft) -> None:
    wrote(crew, MOST)
    assert leave(signed_in(cast), draft).status_code == 302
