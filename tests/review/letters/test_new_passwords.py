"""The letter to whoever has forgotten their password: among the others, made when it is sent, never twice."""

from __future__ import annotations

import re
from datetime import timedelta
from typing import TYPE_CHECKING

import pytest
from django.core import mail as printed
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from review.letters.composing import compose
from review.log import Act
from review.mail.acts import choose_pace, wants_no_mail
from review.mail.models import Letter, Pace, PieceOfNews, StoppedAddress, hash_address
from review.mail.sending import PAUSES, send_due
from review.mail.stopping import stop_address
from tests.mail_server import body_of

if TYPE_CHECKING:
    from review.people.models import Member
    from tests.mail_server import MailServer

pytestmark = pytest.mark.django_db
LINK = re.compile(r"https://script\.example\.org(/account/password/forgotten/\S+)")


def ask(email: str) -> None:
    assert Client().post(reverse("account_reset_password"), {"email": email}).status_code == 302


def test_its_link_lets_them_choose_one_and_stands_in_no_table(crew: Member, post: MailServer) -> None:
    ask(crew.person.email.upper())
    assert printed.outbox == []
    assert send_due(compose)
    letter = post.letter()
    assert letter["Subject"] == "Fairhand: Choose a new password"
    assert "Slack Water" not in body_of(letter)
    (path,) = LINK.findall(body_of(letter))
    assert path.split("-", 1)[1].strip("/") not in str([*Letter.objects.values(), *PieceOfNews.objects.values()])
    assert Letter.objects.get().address == ""
    assert "Choose a new password" in Client().get(path, follow=True).text


def test_it_is_tried_again_and_comes_once_however_often_it_is_asked_for(crew: Member, post: MailServer) -> None:
    post.answers.append("451 Later")
    for _ in range(2):
        ask(crew.person.email)
    send_due(compose)
    assert post.taken == []
    assert Letter.objects.get().due_at > timezone.now() + PAUSES[0] / 2
    ask(crew.person.email)
    Letter.objects.update(due_at=timezone.now())
    send_due(compose)
    send_due(compose)
    assert post.went_to == [crew.person.email]


def test_none_goes_to_an_address_that_nobody_has_nor_a_day_after_it_was_asked_for(
    crew: Member, post: MailServer
) -> None:
    ask("nobody@example.org")
    assert not Letter.objects.exists()
    ask(crew.person.email)
    Letter.objects.update(created_at=timezone.now() - timedelta(days=1, minutes=1))
    send_due(compose)
    assert post.taken == []
    assert Letter.objects.get().let_go_at is not None


def test_whoever_asks_again_waits_for_no_pause_nor_for_a_letter_that_is_too_old(crew: Member, post: MailServer) -> None:
    post.answers += ["451 Later", "451 Later"]
    for age in (timedelta(0), timedelta(days=1, minutes=1)):
        ask(crew.person.email)
        send_due(compose)
        assert post.taken == []
        Letter.objects.update(created_at=timezone.now() - age)
    ask(crew.person.email)
    send_due(compose)
    assert post.went_to == [crew.person.email]
    assert Letter.objects.count() == 2


def test_its_way_out_stops_even_this_until_they_want_mail_again(crew: Member, post: MailServer) -> None:
    ask(crew.person.email)
    send_due(compose)
    path = stop_address(Letter.objects.get()).removeprefix("https://script.example.org")
    assert "a new password for your address" in " ".join(Client().get(path).text.split())
    assert "a writer can make you a link" in Client().post(path).text
    assert wants_no_mail(crew.person.email)
    ask(crew.person.email)
    assert Letter.objects.count() == 1
    choose_pace(crew, Pace.DAILY)
    ask(crew.person.email)
    assert Letter.objects.count() == 2


def test_to_want_mail_again_is_something_new_though_it_comes_as_before(crew: Member) -> None:
    StoppedAddress.objects.create(address_hash=hash_address(crew.person.email))
    assert choose_pace(crew, Pace.AT_ONCE)
    assert Act.objects.get().verb == Act.Verb.CHOSE_MAIL
    assert not choose_pace(crew, Pace.AT_ONCE)
