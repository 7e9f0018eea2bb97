"""What is done once the answer is on its way."""

from __future__ import annotations

import logging
import time
from threading import Event, current_thread, main_thread
from typing import TYPE_CHECKING, Any

import pytest
from django.core import mail
from django.core.mail.backends.locmem import EmailBackend
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from review.log import Act
from review.serving.afterwards import afterwards
from tests.factories import make_person

if TYPE_CHECKING:
    from review.people.models import Person

PATIENCE = 30


@pytest.fixture(autouse=True)
def in_its_own_thread(settings: Any) -> None:
    settings.AFTERWARDS_AT_ONCE = False


class SlowPost(EmailBackend):
    """Hands mail in only when it is let go."""

    let_go = Event()

    def send_messages(self, messages: Any) -> int:
        assert self.let_go.wait(PATIENCE)
        return super().send_messages(messages)


def until(what: Any) -> None:
    started = time.monotonic()
    while not what():
        assert time.monotonic() - started < PATIENCE
        time.sleep(0.01)


def test_nobody_waits_for_it() -> None:
    go, done = Event(), Event()

    def work() -> None:
        assert go.wait(PATIENCE)
        assert current_thread() is not main_thread()
        done.set()

    afterwards(work)
    assert not done.is_set()
    go.set()
    assert done.wait(PATIENCE)


def test_what_goes_wrong_in_it_is_said_and_stops_nothing(caplog: pytest.LogCaptureFixture) -> None:
    done = Event()
    with caplog.at_level(logging.ERROR):
        afterwards(lambda: 1 / 0)
        afterwards(done.set)
        assert done.wait(PATIENCE)
    assert "could not be done afterwards" in caplog.text


@pytest.fixture
def known(transactional_db: None) -> Person:
    return make_person("Ada Wren")


def test_the_answer_waits_for_no_mail(known: Person, settings: Any) -> None:
    settings.EMAIL_BACKEND = f"{__name__}.SlowPost"
    SlowPost.let_go.clear()
    answer = Client().post(reverse("account_reset_password"), {"email": known.email})
    assert (answer.status_code, mail.outbox) == (302, [])
    SlowPost.let_go.set()
    until(lambda: mail.outbox)
    assert mail.outbox[0].to == [known.email]
    assert "http://testserver/account/password/forgotten/" in str(mail.outbox[0].body)


@pytest.mark.parametrize(
    ("name", "form"), [("account_reset_password", {"email": "{}"}), ("account_login", {"login": "{}", "password": "x"})]
)
def test_an_answer_costs_the_same_whether_an_address_is_somebody_s_or_not(
    known: Person, name: str, form: dict[str, str]
) -> None:
    """The same questions are put to the database before the answer, and no mail is made."""

    def asked(email: str) -> list[str]:
        filled = {field: value.format(email) for field, value in form.items()}
        with CaptureQueriesContext(connection) as captured:
            Client().post(reverse(name), filled)
        return [query["sql"].split(" ")[0] for query in captured]

    known.set_password("mended nets by lamp")
    known.save()
    assert asked(known.email) == asked("nobody@example.org") != []


def test_a_wrong_password_is_logged_afterwards_with_the_address_it_came_from(known: Person) -> None:
    form = {"login": known.email, "password": "a guess by somebody"}
    Client(REMOTE_ADDR="192.0.2.44").post(reverse("account_login"), form)
    until(Act.objects.exists)
    act = Act.objects.get()
    assert (act.verb, act.person, act.address) == (Act.Verb.FAILED_TO_SIGN_IN, known, "192.0.2.44")
