"""The list of drafts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from bs4 import BeautifulSoup
from django.core.cache import cache
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from tests.factories import SCRIPT, make_draft, make_member, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]


def address(member: Member) -> str:
    return reverse("drafts", args=[member.production.public_id])


def text_of(content: bytes) -> str:
    return " ".join(BeautifulSoup(content, "html.parser").get_text(" ").split())


def test_it_shows_each_draft_latest_first(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, label="For the read-through")
    make_draft(writer, SCRIPT + "\nAnd out.\n", number=2, label="After it")
    page = BeautifulSoup(signed_in(writer).get(address(writer)).content, "html.parser")
    titles = [" ".join(title.get_text(" ").split()) for title in page.select(".listed-draft-words h2")]
    assert titles == ["Draft 2, After it Current", "Draft 1, For the read-through"]
    words = text_of(page.encode())
    assert "Blue" in words
    assert "put up by Ada Wren" in words
    assert "1 page, 2 scenes" in words


def test_it_leads_to_the_changes_since_the_draft_before(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    make_draft(writer, SCRIPT + "\nAnd out.\n", number=2)
    content = signed_in(writer).get(address(writer)).content.decode()
    assert content.count("Changes since draft") == 1
    assert reverse("changes-between", args=[writer.production.public_id, 1, 2]) in content


def test_the_writer_is_led_to_the_first_upload(writer: Member, signed_in: SignIn) -> None:
    words = text_of(signed_in(writer).get(address(writer)).content)
    assert "No draft yet" in words
    assert "a Fountain file, plain text or a PDF" in words
    assert "Put up the first draft" in words


def test_a_reader_is_told_to_wait_and_offered_no_upload(crew: Member, signed_in: SignIn) -> None:
    words = text_of(signed_in(crew).get(address(crew)).content)
    assert "The writer has not put up the script yet" in words
    assert "Put up" not in words


def test_a_reader_sees_the_drafts_without_the_upload(writer: Member, crew: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    content = signed_in(crew).get(address(crew)).content.decode()
    assert "Draft&nbsp;1" in content
    assert reverse("draft-upload", args=[crew.production.public_id]) not in content


def test_it_takes_as_many_queries_for_ten_drafts_as_for_two(writer: Member, signed_in: SignIn) -> None:
    client = signed_in(writer)
    counts = []
    for numbers in (range(1, 3), range(3, 11)):
        for number in numbers:
            make_draft(writer, f"{SCRIPT}\nVERSION {number}.\n", number=number)
        cache.clear()
        with CaptureQueriesContext(
            connection,
        ) as queries:
            client.get(address(writer))
        counts.append(len(queries))
    assert counts[0] == counts[1]


def test_it_is_not_there_for_a_stranger(writer: Member, signed_in: SignIn) -> None:
    stranger = make_member(make_production("Elsewhere"))
    assert signed_in(stranger).get(address(writer)).status_code == 404


def test_it_asks_for_a_sign_in(writer: Member, client: Client) -> None:
    response = client.get(address(writer))
    assert response.status_code == 302
    assert response["Location"].startswith(reverse("account_login"))


def test_it_rejects_post(writer: Member, signed_in: SignIn) -> None:
    assert signed_in(writer).post(address(writer)).status_code == 405
