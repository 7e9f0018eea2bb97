"""The running server sends its mail by itself, as long as it runs, whatever goes wrong in a round."""

from __future__ import annotations

import threading
import time
from typing import TYPE_CHECKING, Any

import pytest

from review.mail import postman
from review.mail.envelopes import LetterText
from review.mail.models import Letter
from review.mail.postman import mail_sent_meanwhile
from review.mail.sending import send_due

if TYPE_CHECKING:
    from review.people.models import Member
    from tests.mail_server import MailServer

pytestmark = pytest.mark.django_db(transaction=True)
PATIENCE = 20  # seconds


def test_what_is_due_goes_out_while_it_runs(crew: Member, post: MailServer, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(postman, "LOOKS_EVERY", 0.02)
    troubles = iter([RuntimeError("the disk was full")])

    def first_a_trouble(compose: Any) -> bool:
        for trouble in troubles:
            raise trouble
        return send_due(compose)

    monkeypatch.setattr(postman, "send_due", first_a_trouble)
    Letter.objects.create(production=crew.production, member=crew)
    with mail_sent_meanwhile(lambda _: LetterText("Slack Water", "Words.")):
        until = time.monotonic() + PATIENCE
        while not post.taken and time.monotonic() < until:
            time.sleep(0.02)
    assert len(post.taken) == 1
    assert "postman" not in {thread.name for thread in threading.enumerate()}
    assert Letter.objects.get().sent_at is not None


def test_without_a_mail_server_nothing_runs(settings: Any) -> None:
    settings.EMAIL_HOST = ""
    with mail_sent_meanwhile(lambda _: None):
        assert "postman" not in {thread.name for thread in threading.enumerate()}
