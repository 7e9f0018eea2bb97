"""Calling a talk, changing it, calling it off; and what those who are asked are told."""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.core.exceptions import PermissionDenied
from django.urls import reverse
from django.utils import timezone
from icalendar import Calendar

from review.letters.composing import compose
from review.mail.gathering import SETTLES
from review.mail.models import PieceOfNews
from review.mail.sending import send_due
from review.talks.acts import When, call_off, call_talk, change_talk
from review.talks.models import Talk
from review.talks.views.talk_new import CALLED_ALREADY
from tests.mail_server import body_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member
    from tests.mail_server import MailServer

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


def filled(*members: Member, **fields: Any) -> dict[str, Any]:
    day = (timezone.localdate() + timedelta(days=3)).isoformat()
    usual = {"form_id": str(uuid.uuid4()), "seen": 0, "day": day, "time": "18:30", "minutes": 90, "place": "Net loft"}
    return usual | {"members": [member.public_id for member in members]} | fields


def address(name: str, of: Member, *talk: Talk) -> str:
    return reverse(name, args=[of.production.public_id, *(each.public_id for each in talk)])


def message(page: Any, key: str) -> str:
    found = BeautifulSoup(page.content, "html.parser").select_one(f"#by-hand-{key}")
    assert found is not None
    return " ".join(found.text.split())


def words_on(page: Any) -> str:
    return " ".join(BeautifulSoup(page.content, "html.parser").text.split())


def test_a_writer_calls_a_talk_once(
    writer: Member, crew: Member, cast: Member, draft: Draft, signed_in: SignIn
) -> None:
    client, form = signed_in(writer), filled(crew)
    for told in ("The talk is called.", CALLED_ALREADY):
        response = client.post(address("talk-new", writer), form, follow=True)
        assert told in response.text
    talk = Talk.objects.get()
    assert list(talk.members.all()) == [crew]
    assert timezone.localtime(talk.starts_at).strftime("%H:%M") == "18:30"
    assert "The talk is called." not in response.text
    assert "Net loft" in response.text


def test_without_a_mail_server_a_message_to_copy_stands_on_its_page_as_the_talk_stands(
    writer: Member, crew: Member, cast: Member, draft: Draft, signed_in: SignIn
) -> None:
    client = signed_in(writer)
    page = client.post(address("talk-new", writer), filled(crew, cast), follow=True)
    talk = Talk.objects.get()
    words = message(page, "called")
    assert "Let us talk over draft 1 of “Slack Water”" in words
    assert "18:30 (UTC), 90 minutes." in words
    assert f"http://testserver{address('talk', writer, talk)}" in words
    assert "send this yourself: to Bo Finch, Cleo Marsh." in words_on(page)
    assert "mailto:?subject=Slack%20Water" in page.text
    changed = client.post(address("talk-change", writer, talk), filled(crew, time="19:00"), follow=True)
    assert "Cleo Marsh: not asked any more, tell them too." in words_on(changed)
    assert "was changed. It is now on" in message(changed, "called")
    off = client.post(address("talk-call-off", writer, talk), follow=True)
    assert "19:00 (UTC) is called off." in message(off, "off")
    assert "by-hand" not in signed_in(crew).get(address("talk", crew, talk)).text


def test_with_a_mail_server_no_message_stands_there(
    writer: Member, crew: Member, draft: Draft, signed_in: SignIn, post: MailServer
) -> None:
    page = signed_in(writer).post(address("talk-new", writer), filled(crew), follow=True)
    assert "told by mail" in page.text
    assert "by-hand" not in page.text


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"members": []}, "Choose at least one person"),
        ({"day": "2001-01-01"}, "This is past."),
        ({"day": "soon"}, "Give the day as year, month and day."),
        ({"time": "late"}, "Give the time as hours and minutes."),
        ({"minutes": "7"}, "Select a valid choice"),
    ],
)
def test_what_is_missing_is_said_and_nothing_is_kept(
    writer: Member, crew: Member, draft: Draft, signed_in: SignIn, fields: dict[str, Any], sentence: str
) -> None:
    response = signed_in(writer).post(address("talk-new", writer), filled(crew, **fields))
    assert response.status_code == 422
    assert sentence in response.text
    assert "Net loft" in response.text
    assert not Talk.objects.exists()


def test_of_two_writers_who_change_it_the_later_is_told(
    writer: Member, crew: Member, cast: Member, draft: Draft, signed_in: SignIn
) -> None:
    talk = call_talk(writer, draft, [crew], When(timezone.now() + timedelta(days=1), 60, ""), uuid.uuid4())
    client = signed_in(writer)
    assert 'value="60" selected' in client.get(address("talk-change", writer, talk)).text
    client.post(address("talk-change", writer, talk), filled(crew, cast, seen=0))
    response = client.post(address("talk-change", writer, talk), filled(cast, seen=0))
    assert response.status_code == 409
    assert "Another writer has changed this talk" in response.text
    assert 'name="seen" value="1"' in response.text
    assert set(Talk.objects.get().members.all()) == {crew, cast}


def told(post: MailServer) -> dict[str, tuple[str, Any]]:
    """By whom it went to: the body, and the calendar that came with it."""
    PieceOfNews.objects.update(at=timezone.now() - SETTLES)
    send_due(compose)
    found = {}
    for letter, to in zip(post.taken, post.went_to, strict=True):
        (part,) = list(letter.iter_attachments())
        assert part.get_content_type() == "text/calendar"
        calendar = Calendar.from_ical(part.get_content())
        assert part["Content-Type"].params["method"] == calendar["METHOD"]  # RFC 6047, 2.4
        found[to] = body_of(letter), calendar
    post.taken.clear()
    post.went_to.clear()
    return found


def test_those_who_are_asked_are_told_by_mail_with_its_date(
    writer: Member, crew: Member, cast: Member, draft: Draft, post: MailServer
) -> None:
    when = When(timezone.now() + timedelta(days=1), 60, "Net loft")
    talk = call_talk(writer, draft, [crew, cast], when, uuid.uuid4())
    letters = told(post)
    assert letters.keys() == {crew.person.email, cast.person.email}
    body, calendar = letters[crew.person.email]
    assert "Ada Wren asks you to talk over Draft 1" in body
    assert "With Ada Wren, Cleo Marsh." in body
    assert calendar["METHOD"] == "REQUEST"
    change_talk(writer, talk, [crew], When(when.starts_at, 90, "Net loft"), 0)
    letters = told(post)
    assert "The talk was changed" in letters[crew.person.email][0]
    assert "called off for you" in letters[cast.person.email][0]
    assert letters[cast.person.email][1]["METHOD"] == "CANCEL"
    call_off(writer, talk)
    letters = told(post)
    assert letters.keys() == {crew.person.email}
    assert letters[crew.person.email][1]["METHOD"] == "CANCEL"
    assert not call_off(writer, talk)


def test_only_a_writer_calls_and_changes_talks(writer: Member, crew: Member, draft: Draft) -> None:
    when = When(timezone.now() + timedelta(days=1), 60, "")
    with pytest.raises(PermissionDenied):
        call_talk(crew, draft, [writer], when, uuid.uuid4())
    talk = call_talk(writer, draft, [crew], when, uuid.uuid4())
    with pytest.raises(PermissionDenied):
        change_talk(crew, talk, [crew], when, 0)
    with pytest.raises(PermissionDenied):
        call_off(crew, talk)
