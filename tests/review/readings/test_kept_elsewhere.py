"""Somebody who reads alone in one reading while another of theirs ends: its words stay kept from them."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.notes.models import Note
from review.publishing.acts import publish_draft
from review.readers.models import Reader
from review.readings.acts import Asked, close_reading, open_reading, reopen_reading, take_off
from review.readings.reader_acts import finish_reading
from screenplay.intake import read_text
from tests.factories import SCRIPT, make_note, make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.readers.models import Reading

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


@pytest.fixture
def first(writer: Member, crew: Member, cast: Member, draft: Draft) -> Reading:
    return make_reading(writer, draft, crew, cast)


@pytest.fixture
def second(writer: Member, crew: Member, first: Reading) -> Reading:
    """Of the next draft: the gaffer has finished neither."""
    draft, _ = publish_draft(writer, read_text(SCRIPT.replace("Mist.", "Fog.")))
    return make_reading(writer, draft, crew)


def opened_to(member: Member, reading: Reading) -> bool:
    return Reader.objects.exclude(others_open_at=None).filter(member=member, reading=reading).exists()


def told_at(reading: Reading) -> str:
    return reverse("reading-readers", args=[reading.production.public_id, reading.public_id])


def test_a_writer_who_closes_it_is_told_from_whom_it_is_kept_as_these_are(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft, first: Reading, second: Reading
) -> None:
    note = make_note(cast, draft)
    place = [first.production.public_id, first.public_id]
    told = signed_in(writer).post(reverse("reading-close", args=place), follow=True).text
    page = BeautifulSoup(told, "html.parser")
    assert "open to all of them" not in page.get_text()
    assert "have not finished that one: Bo Finch." in page.get_text()
    rows = [" ".join(row.get_text().split()) for row in page.select(".reader-row")]
    of_crew, of_cast = (next(row for row in rows if member.name in row) for member in (crew, cast))
    assert "What others said is kept from them until they finish the reading of draft 2." in of_crew
    assert "Could read what others said" not in of_crew
    assert "kept from them" not in of_cast
    assert "Could read what others said before finishing." in of_cast

    assert not Note.objects.visible_to(crew).filter(pk=note.pk).exists()
    assert not opened_to(crew, first)
    assert opened_to(cast, first)
    finish_reading(crew, second)
    assert Note.objects.visible_to(crew).filter(pk=note.pk).exists()
    assert opened_to(crew, first)
    assert signed_in(writer).get(told_at(first)).text.count("Could read what others said before finishing.") == 2


def test_whatever_ends_the_last_that_keeps_them_opens_the_words_of_all(
    writer: Member, crew: Member, first: Reading, second: Reading
) -> None:
    finish_reading(crew, first)
    assert not opened_to(crew, first)
    take_off(writer, Reader.objects.get(member=crew, reading=second))
    assert opened_to(crew, first)
    assert opened_to(crew, second)


def test_one_that_keeps_nothing_says_so_of_whom_another_keeps_nothing_from(
    writer: Member, crew: Member, cast: Member, first: Reading
) -> None:
    finish_reading(cast, first)
    draft, _ = publish_draft(writer, read_text(SCRIPT.replace("Mist.", "Fog.")))
    asked = Asked(first.until, "")
    together = open_reading(writer, draft, [crew, cast], asked, uuid.uuid4(), is_blind=False)
    assert [opened_to(member, together) for member in (crew, cast)] == [False, True]
    finish_reading(crew, first)
    assert opened_to(crew, together)


def test_one_opened_again_says_of_nobody_that_they_could_read_what_was_kept(
    writer: Member, crew: Member, cast: Member, first: Reading, second: Reading
) -> None:
    close_reading(writer, first)
    reopen_reading(writer, first, first.until)
    assert [opened_to(member, first) for member in (crew, cast)] == [False, True]
