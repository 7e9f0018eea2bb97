"""The Mail screen: a member's choice, what a server without mail says, and for writers what did not arrive."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse
from django.utils import timezone

from review.log import Act
from review.mail.acts import pace_of
from review.mail.models import Letter, Occasion, Pace, PieceOfNews

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


def page_of(member: Member) -> str:
    return reverse("mail", args=[member.production.public_id])


@pytest.mark.parametrize("pace", Pace.values)
def test_a_member_chooses_how_mail_comes(crew: Member, cast: Member, signed_in: SignIn, pace: str) -> None:
    client = signed_in(crew)
    assert pace_of(crew.pk) == Pace.AT_ONCE
    page = client.post(page_of(crew), {"pace": pace}, follow=True)
    assert pace_of(crew.pk) == pace
    assert pace_of(cast.pk) == Pace.AT_ONCE
    chosen = BeautifulSoup(page.text, "html.parser").select("input[name=pace][checked]")
    assert [str(radio["value"]) for radio in chosen] == [pace]
    assert Act.objects.filter(verb=Act.Verb.CHOSE_MAIL).count() == (pace != Pace.AT_ONCE)


def test_a_choice_that_is_none_changes_nothing(crew: Member, signed_in: SignIn) -> None:
    response = signed_in(crew).post(page_of(crew), {"pace": "hourly"})
    assert response.status_code == 422
    assert "Choose one of these." in response.text


def test_a_server_without_mail_says_so(writer: Member, crew: Member, signed_in: SignIn, settings: Any) -> None:
    settings.EMAIL_HOST = ""
    for member, words in ((writer, "EMAIL_HOST"), (crew, "Whoever runs the server can have it sent")):
        page = signed_in(member).get(page_of(member)).text
        assert "This server sends no mail." in page
        assert words in page


def given_up(member: Member, why: str) -> Letter:
    letter = Letter.objects.create(
        production=member.production, member=member, given_up_at=timezone.now(), why=why, tries=3
    )
    PieceOfNews.objects.create(
        production=member.production, member=member, occasion=Occasion.REPLIED, about=letter.public_id, letter=letter
    )
    return letter


def test_writers_see_what_did_not_arrive_and_send_it_again(
    writer: Member, crew: Member, signed_in: SignIn, settings: Any
) -> None:
    settings.EMAIL_HOST = "mail.example.org"
    letter = given_up(crew, "The mail server refused the recipient: 550 nobody")
    page = signed_in(writer).get(page_of(writer)).text
    assert "550 nobody" in page
    assert "Somebody replied to them" in page
    assert crew.person.email not in page
    assert "550 nobody" not in signed_in(crew).get(page_of(crew)).text
    again = reverse("mail-again", args=[writer.production.public_id, letter.public_id])
    page = signed_in(writer).post(again, follow=True).text
    assert "on its way again" in page
    assert "550 nobody" not in page
    letter.refresh_from_db()
    assert (letter.given_up_at, letter.tries) == (None, 0)
    assert "nothing was sent again" in signed_in(writer).post(again, follow=True).text


def test_what_is_tried_again_is_shown(writer: Member, crew: Member, signed_in: SignIn, settings: Any) -> None:
    settings.EMAIL_HOST = "mail.example.org"
    Letter.objects.create(production=crew.production, member=crew, tries=1, why="451 Later")
    assert "451 Later" in signed_in(writer).get(page_of(writer)).text


def test_its_queries_do_not_grow_with_the_letters(
    writer: Member, crew: Member, signed_in: SignIn, django_assert_max_num_queries: Any
) -> None:
    for _ in range(5):
        given_up(crew, "550")
    client = signed_in(writer)
    client.get(page_of(writer))
    with django_assert_max_num_queries(9):
        client.get(page_of(writer))
