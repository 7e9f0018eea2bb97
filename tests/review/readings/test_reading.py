"""A reading as its reader sees it: how far they are, and where they go on."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.readers.models import Reader
from review.readings.acts import close_reading
from tests.factories import make_draft, make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.readers.models import Reading

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


@pytest.fixture
def reading(writer: Member, crew: Member, draft: Draft) -> Reading:
    return make_reading(writer, draft, crew)


def at(reading: Reading, name: str, *more: Any) -> str:
    return reverse(name, args=[reading.production.public_id, reading.public_id, *more])


def test_progress_is_set_by_hand_and_taken_back(signed_in: SignIn, crew: Member, reading: Reading) -> None:
    client = signed_in(crew)
    client.post(at(reading, "reading-read", 2))
    assert Reader.objects.get().left_off == 2
    page = client.get(at(reading, "reading")).text
    assert "1 of 2 scenes read" in page
    client.post(at(reading, "reading-read", 2), {"unread": "yes"})
    assert "0 of 2 scenes read" in client.get(at(reading, "reading")).text


def test_another_device_goes_on_where_they_left_off(signed_in: SignIn, crew: Member, reading: Reading) -> None:
    signed_in(crew).post(at(reading, "reading-scene", 1), {"mark": "clear"})
    home = signed_in(crew).get(reverse("home", args=[crew.production.public_id])).text
    assert "Go on reading Draft 1" in " ".join(home.split())
    assert at(reading, "reading-scene", 2) in home
    assert home.index("Go on reading") < home.index("Your notes")


def test_what_to_look_for_is_shown_as_notes_are_and_reaches_nobody_raw(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    reading = make_reading(writer, draft, crew, look_for="Does *the end* hold?\n\n- the **lamp**\n- <b>the tide</b>")
    for address in (reverse("home", args=[crew.production.public_id]), at(reading, "reading")):
        page = signed_in(crew).get(address).text
        assert "<p>Does <em>the end</em> hold?</p>" in page
        assert "<li>the <strong>lamp</strong></li>" in page
        assert "&lt;b&gt;the tide" in page
    readers = BeautifulSoup(signed_in(writer).get(at(reading, "reading-readers")).text, "html.parser")
    message = readers.select_one("textarea[readonly]")
    assert message is not None
    assert "What to look for: Does the end hold? the lamp <b>the tide</b>" in message.text


def test_only_while_it_is_open_a_later_draft_is_told_to_readers(
    signed_in: SignIn, writer: Member, crew: Member, reading: Reading
) -> None:
    make_draft(writer, number=2)
    assert "This reading stays with draft 1" in signed_in(crew).get(at(reading, "reading")).text
    close_reading(writer, reading)
    assert "This reading stays with draft 1" not in signed_in(crew).get(at(reading, "reading")).text


def test_before_it_is_begun_home_says_who_asks_and_until_when(
    signed_in: SignIn, crew: Member, cast: Member, reading: Reading
) -> None:
    home = " ".join(signed_in(crew).get(reverse("home", args=[crew.production.public_id])).text.split())
    assert "Draft 1 is there to be read" in home
    assert "Ada Wren asks you to read it until" in home
    assert "asks you to read" not in signed_in(cast).get(reverse("home", args=[crew.production.public_id])).text
