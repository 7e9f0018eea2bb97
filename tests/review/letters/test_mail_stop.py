"""The way out that each letter carries. Source: RFC 8058, One-Click Functionality for List Email Headers."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from django.test import Client
from django.urls import reverse

from review.mail.acts import pace_of, wants_no_mail
from review.mail.envelopes import LetterText
from review.mail.models import Letter, Pace, hash_address
from review.mail.sending import send_due
from review.masking import mask

if TYPE_CHECKING:
    from review.people.models import Member
    from tests.mail_server import MailServer

pytestmark = pytest.mark.django_db

ONE_CLICK = "List-Unsubscribe=One-Click"  # 3.2: the body of the request, as the header names it


def way_out(letter: Letter, post: MailServer) -> str:
    """The path in the header of the letter as it arrived."""
    send_due(lambda _: LetterText("Slack Water", "Words."))
    address = str(post.letter()["List-Unsubscribe"]).strip("<>")
    assert post.letter()["List-Unsubscribe-Post"] == ONE_CLICK
    return address.removeprefix("https://script.example.org")


@pytest.fixture
def path(crew: Member, post: MailServer) -> str:
    return way_out(Letter.objects.create(production=crew.production, member=crew), post)


def outsider() -> Client:
    """A mail program: with no cookie, and strict about forged requests."""
    return Client(enforce_csrf_checks=True)


@pytest.mark.parametrize("sort", ["application/x-www-form-urlencoded", "multipart/form-data; boundary=b"])
def test_one_request_stops_the_mail(crew: Member, cast: Member, path: str, sort: str) -> None:
    """3.2: of either form; 3.1: and it is not led on to another address."""
    whole = '--b\r\nContent-Disposition: form-data; name="List-Unsubscribe"\r\n\r\nOne-Click\r\n--b--\r\n'
    response = outsider().post(path, whole if "boundary" in sort else ONE_CLICK, content_type=sort)
    assert response.status_code == 200
    assert "sessionid" not in response.cookies
    assert (pace_of(crew.pk), pace_of(cast.pk)) == (Pace.NONE, Pace.AT_ONCE)


def test_opening_it_changes_nothing_and_shows_a_button_that_does(crew: Member, path: str) -> None:
    client = outsider()
    page = client.get(path)
    assert pace_of(crew.pk) == Pace.AT_ONCE
    assert 'name="List-Unsubscribe" value="One-Click"' in page.text
    assert crew.person.email not in page.text
    assert "No more mail" in client.post(path, {"List-Unsubscribe": "One-Click"}).text
    assert pace_of(crew.pk) == Pace.NONE


def test_it_opens_nothing_else(crew: Member, path: str) -> None:
    client = outsider()
    client.post(path, {"List-Unsubscribe": "One-Click"})
    home = reverse("home", args=[crew.production.public_id])
    assert client.get(home).headers["Location"].startswith(reverse("account_login"))
    assert client.get(home + "mail/").status_code == 302


def test_a_token_that_was_made_up_stops_nothing(crew: Member, path: str) -> None:
    letter, _, signed = path.strip("/").rpartition("/")[2].partition(".")
    other = Letter.objects.create(production=crew.production, member=crew)
    for token in ("x", letter, f"{other.public_id}.{signed}", f"{letter}.{signed}x"):
        response = outsider().post(reverse("mail-stop", args=[token]), {"List-Unsubscribe": "One-Click"})
        assert response.status_code == 404
        assert "This link stops nothing" in response.text
    assert pace_of(crew.pk) == Pace.AT_ONCE


def test_whoever_is_no_member_is_written_to_no_more(writer: Member, post: MailServer) -> None:
    address = "ida@example.org"
    letter = Letter.objects.create(production=writer.production, address=address, address_hash=hash_address(address))
    path = way_out(letter, post)
    assert "still opens" in outsider().get(path).text
    outsider().post(path, {"List-Unsubscribe": "One-Click"})
    assert wants_no_mail(address)


def test_its_address_is_in_no_log(path: str) -> None:
    assert mask(f"Refused: {path}") == "Refused: /mail/stop/…/"
