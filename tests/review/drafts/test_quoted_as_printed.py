"""Lines that are quoted on a screen read as they print."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from bs4 import BeautifulSoup
from django.urls import reverse

from review.decisions.acts import decide
from review.drafts.acts import withdraw_draft
from review.notes.carrying import carry_notes
from tests.factories import SCRIPT, make_draft, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

QUOTES = "pre, .home-quoted, .home-now-words, .before-after dd"


def test_no_screen_quotes_the_marks_that_lines_are_typed_with(signed_in: SignIn, writer: Member, crew: Member) -> None:
    first = make_draft(writer, SCRIPT.replace("one lamp", "*one* lamp"))
    note = make_note(crew, first)
    decide(writer, note, "parked", "", 0, uuid.uuid4())
    at, told = [writer.production.public_id], {}

    def asked(by: Member, name: str, *more: object, **query: int) -> list[str]:
        page = BeautifulSoup(signed_in(by).get(reverse(name, args=[*at, *more]), query).text, "html.parser")
        return [quoted.get_text() for quoted in page.select(QUOTES) if "lamp" in quoted.get_text()]

    told["leaving"] = asked(crew, "note-new", 1, **{"from": 6, "to": 6})
    told["changing"] = asked(crew, "note-change", note.public_id)
    told["own"] = asked(crew, "home-own-notes")
    second = make_draft(writer, SCRIPT.replace("one lamp", "*two* lamps"), number=2)
    carry_notes(second)
    told["home"] = asked(crew, "home")
    told["changed"] = asked(crew, "home-own-notes")
    make_note(crew, second)
    withdraw_draft(writer, second, "The wrong file.")
    told["withdrawn"] = asked(writer, "draft-withdraw", 2)
    assert all(told.values()), told
    assert not [words for quotes in told.values() for words in quotes if "*" in words]
