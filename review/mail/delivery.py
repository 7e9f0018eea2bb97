"""Handing one letter to the mail server (RFC 5321), and what is known of it when that fails."""

from __future__ import annotations

import re
import smtplib
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING

from django.conf import settings
from django.core.mail.backends.smtp import EmailBackend

from review.mail.models import MOST_WHY

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

OK, FORWARDS = 250, 251  # RFC 5321, 4.2.3
REFUSED_FOR_GOOD = 500  # RFC 5321, 4.2.1: what begins with a 5 will not be otherwise another time
ANSWERS_WITHIN = 600.0  # seconds after a text's end: RFC 5321, 4.5.3.2.6, so that nothing is sent twice
ANY_ADDRESS = re.compile(r"<?[^\s<>@]+@[^\s<>@]+>?")


class NotTaken(Exception):
    """The mail server surely did not take a letter; `for_good` where another try would be no use."""

    def __init__(self, why: str, *, for_good: bool = False) -> None:
        super().__init__(why)
        self.for_good = for_good


class NotReached(NotTaken):
    """There is no line to the mail server, or it broke before the letter's text left."""


class MayHaveArrived(Exception):
    """The line broke while the mail server had the text: whether it took it is not known."""


class InOtherHands(Exception):
    """Another sender has handed this letter over meanwhile."""


@contextmanager
def line_to_mail_server() -> Iterator[smtplib.SMTP]:
    """A line to the mail server that the environment names. Raises NotReached where there is none to be had."""
    backend = EmailBackend()
    try:
        backend.open()
    except smtplib.SMTPResponseException as refusal:
        raise NotReached(_said("The mail server does not let this one in", refusal)) from None
    except OSError as error:
        raise NotReached(f"The mail server could not be reached ({type(error).__name__}).") from None
    line = backend.connection
    assert line is not None
    try:
        yield line
    finally:
        backend.close()


def hand_over(line: smtplib.SMTP, sender: str, recipient: str, text: bytes, may_leave: Callable[[], bool]) -> None:
    """Hand a text over. `may_leave` is asked right before it leaves: InOtherHands is raised where it says no.

    Raises NotTaken where the mail server answers that it does not take it, NotReached where it does not answer before
    the text leaves, and MayHaveArrived where it does not answer then.
    """
    try:
        _wait_at_most(line, settings.EMAIL_TIMEOUT)
        line.ehlo_or_helo_if_needed()
        _expect(line, line.mail(sender), "to send in this server’s name", is_about_letter=False)
        _expect(line, line.rcpt(recipient), "the recipient")
        if not may_leave():
            line.rset()
            raise InOtherHands
    except OSError as error:
        raise NotReached(f"The line to the mail server broke ({type(error).__name__}).") from None
    try:
        _wait_at_most(line, ANSWERS_WITHIN)
        answer: tuple[int, bytes | str] = line.data(text)
    except smtplib.SMTPDataError as refusal:
        answer = refusal.smtp_code, refusal.smtp_error
    except OSError as error:
        raise MayHaveArrived from error
    _expect(line, answer, "the text")


def _wait_at_most(line: smtplib.SMTP, seconds: float) -> None:
    if line.sock is not None:
        line.sock.settimeout(seconds)


def _expect(line: smtplib.SMTP, answer: tuple[int, bytes | str], what: str, *, is_about_letter: bool = True) -> None:
    """Raise NotTaken unless the mail server agrees, for good only of what is about the letter. The line is then ready
    for another."""
    code, words = answer
    if code in {OK, FORWARDS}:
        return
    with suppress(OSError):
        line.rset()
    refused = _said(f"The mail server refused {what}", smtplib.SMTPResponseException(code, words))
    raise NotTaken(refused, for_good=is_about_letter and code >= REFUSED_FOR_GOOD)


def _said(sentence: str, refusal: smtplib.SMTPResponseException) -> str:
    """What the mail server said, without the addresses in it."""
    words = refusal.smtp_error
    text = words.decode(errors="replace") if isinstance(words, bytes) else str(words)
    told = " ".join(ANY_ADDRESS.sub("…", text).replace("\0", "").split())
    return f"{sentence}: {refusal.smtp_code} {told}"[:MOST_WHY]
