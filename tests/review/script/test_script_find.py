"""Finding a word in the script and its notes, what changed since the draft before, and how it is wanted to look."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from review.decisions.acts import decide
from review.notes.acts import reply, withdraw_note
from review.notes.models import Audience
from tests.factories import SCRIPT, make_draft, make_note
from tests.review.script.on_screen import address, look

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignedIn = Callable[[Member], Client]


def found(client: Client, draft: Draft, word: str) -> BeautifulSoup:
    response = client.get(reverse("script-find", args=[draft.production.public_id, draft.number]), {"word": word})
    assert response.status_code == 200
    return BeautifulSoup(response.content, "html.parser")


def lines_found(page: BeautifulSoup) -> list[str]:
    return [str(link["data-found-line"]) for link in page.select("[data-found-line]")]


def notes_found(page: BeautifulSoup) -> set[str]:
    return {str(link["data-found-note"]) for link in page.select("[data-found-note]")}


def test_a_word_is_found_in_the_script_as_it_is_printed_capitals_or_not(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    page = found(signed_in(crew), draft, "nell")
    assert lines_found(page) == ["6", "8", "19"]
    assert [mark.get_text() for mark in page.select("mark")] == ["NELL"] * 3
    assert lines_found(found(signed_in(crew), draft, "at three.")) == ["13"]  # *three* in the source


def test_a_word_over_a_row_s_end_and_one_with_marks_in_it_are_found(
    signed_in: SignedIn, crew: Member, writer: Member
) -> None:
    draft = make_draft(writer, "The tide turns, and turns again, and all of it <b> & turns (once) more at the slip.\n")
    for word in ("<b> & turns (once) more", "turns again, and all"):
        assert lines_found(found(signed_in(crew), draft, word)) == ["1"]
    assert not lines_found(found(signed_in(crew), draft, "span"))


def test_a_word_is_found_in_what_notes_say_offer_and_are_answered(
    signed_in: SignedIn, crew: Member, writer: Member, draft: Draft
) -> None:
    says = make_note(crew, draft, 6, body="Where is the kettle?")
    offers = make_note(crew, draft, 8, wording="The kettle sings.")
    answered = make_note(crew, draft, 9)
    reply(writer, answered, "Ask about the KETTLE.", uuid.uuid4())
    decided = make_note(crew, draft, 11)
    decide(writer, decided, "declined", "No kettle.", 0, uuid.uuid4())
    make_note(crew, draft, 17)
    page = found(signed_in(crew), draft, "kettle")
    assert notes_found(page) == {note.public_id for note in (says, offers, answered, decided)}
    assert str(page.select("[data-found-note]")[0]["href"]).startswith(address(draft) + "?note=")


def test_nothing_is_found_in_what_one_may_not_read(
    signed_in: SignedIn, crew: Member, cast: Member, draft: Draft
) -> None:
    make_note(crew, draft, 6, body="The kettle, for your eyes", audience=Audience.WRITER)
    taken_back = make_note(crew, draft, 8, body="A kettle, in haste")
    withdraw_note(crew, taken_back)
    assert not notes_found(found(signed_in(cast), draft, "kettle"))


def test_fifty_notes_are_searched_in_as_many_queries_as_five(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    client = signed_in(crew)

    def queries_with(more: int) -> int:
        for ordinal in range(more):
            make_note(crew, draft, 6 + ordinal % 4)
        with CaptureQueriesContext(connection) as queries:
            found(client, draft, "night")
        return len(queries)

    found(client, draft, "night")
    assert queries_with(5) == queries_with(45)


@pytest.mark.parametrize("word", ["", "   ", "x" * 500])
def test_any_word_is_answered(signed_in: SignedIn, crew: Member, draft: Draft, word: str) -> None:
    assert not lines_found(found(signed_in(crew), draft, word))


def test_lines_that_changed_since_the_draft_before_are_told(
    signed_in: SignedIn, crew: Member, writer: Member, draft: Draft
) -> None:
    second = make_draft(writer, SCRIPT.replace("at four", "at five"), 2)

    def changed(of: Draft) -> str:
        return signed_in(crew).get(reverse("script-changed", args=[of.production.public_id, of.number])).text

    assert changed(second) == "9"
    assert changed(draft) == ""
    assert look(signed_in(crew), second).select("[data-changed]")
    assert not look(signed_in(crew), draft).select("[data-changed]")


def test_the_script_comes_as_large_as_it_was_wanted_last(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    client = signed_in(crew)
    assert "size-usual" in look(client, draft).select("main")[0]["class"]
    assert client.get(address(draft, "?size=large&leading=open")).headers["Location"] == address(draft)
    assert {"size-large", "leading-open"} <= set(look(client, draft).select("main")[0]["class"])
    client.get(address(draft, "?size=%22huge&leading=x"))
    assert {"size-usual", "leading-usual"} <= set(look(client, draft).select("main")[0]["class"])
