"""Sending what is due: one letter after another, each by one sender, and never twice.

A letter is taken in hand before anything else (`_take_in_hand`), and right before its text leaves it is marked as
handed over, by whoever has it in hand and by nobody else. A sender that dies before that has sent nothing, and another
takes the letter up. One that dies after it, before the mail server's answer is noted, leaves a letter that may have
arrived: it is not sent again by itself, but given up, and said so to the writers, who can send it again.
"""

from __future__ import annotations

import logging
import uuid
from datetime import timedelta
from email.utils import parseaddr
from functools import partial
from typing import TYPE_CHECKING, Any

from django.conf import settings
from django.db.models import F
from django.utils import timezone

from review.mail.delivery import InOtherHands, MayHaveArrived, NotReached, NotTaken, hand_over, line_to_mail_server
from review.mail.envelopes import LetterText, as_message, in_ascii, travels_to
from review.mail.gathering import gather
from review.mail.models import Letter
from review.mail.site import mail_is_on

if TYPE_CHECKING:
    import smtplib
    from collections.abc import Callable
    from datetime import datetime

    Compose = Callable[[Letter], LetterText | None]

# Between two tries of a letter: about four days in all, after which RFC 5321, 4.5.4.1, has mail given up.
PAUSES = (
    *(timedelta(minutes=minutes) for minutes in (1, 5, 30)),
    *(timedelta(hours=hours) for hours in (2, 6, 12, 24, 24, 24)),
)
IN_HAND = timedelta(minutes=5)
HANDED_OVER = timedelta(minutes=15)  # longer than the mail server is given to answer
NOT_KNOWN = "It was handed to the mail server, and no answer was noted: it may have arrived."
NOT_WRITTEN = "It could not be written: the server’s terminal says why."

logger = logging.getLogger(__name__)


def send_due(compose: Compose) -> bool:
    """Send every letter that is due, and news that has become due; whether the mail server was there to take them.

    Letters of long ago are cleared as new ones go out.

    `compose` writes a letter as things stand now; None says that nothing is left to tell. It may raise: the letter is
    tried again later, and the others go out.
    """
    if not mail_is_on():
        return True
    now = timezone.now()
    _give_up_unanswered(now)
    gather(now)
    letter = _take_in_hand()
    if letter is None:
        return True
    try:
        with line_to_mail_server() as line:
            _send(line, letter, compose)
            while (another := _take_in_hand()) is not None:
                letter = another
                _send(line, letter, compose)
        Letter.objects.clear_old(now)
    except NotReached as refusal:
        _not_taken(letter, refusal)
        logger.warning("Mail waits. %s", refusal)
        return False
    except MayHaveArrived:
        _give_up(letter, NOT_KNOWN)
        return False
    return True


def _give_up_unanswered(now: datetime) -> None:
    for letter in Letter.objects.unanswered(now):
        _give_up(letter, NOT_KNOWN)


def _take_in_hand() -> Letter | None:
    """A due letter that is this sender's now; None where there is none left."""
    now = timezone.now()
    while (due := Letter.objects.due(now).values_list("pk", "claim").first()) is not None:
        mine = Letter.objects.due(now).filter(pk=due[0], claim=due[1])
        if mine.update(claim=uuid.uuid4(), claimed_until=now + IN_HAND):
            return Letter.objects.select_related("member__person", "production").get(pk=due[0])
    return None


def _send(line: smtplib.SMTP, letter: Letter, compose: Compose) -> None:
    """Send it, unless nothing is left to say, or the mail server says no to it. Raises NotReached, MayHaveArrived."""
    try:
        text = compose(letter)
        message = as_message(letter, text, timezone.now()).as_bytes() if text else b""
        recipient = travels_to(letter)
    except Exception:
        logger.exception("A letter could not be written.")
        _not_taken(letter, NotTaken(NOT_WRITTEN))
        return
    if text is None:
        _finish(letter, let_go_at=timezone.now())
        return
    sender = in_ascii(parseaddr(settings.DEFAULT_FROM_EMAIL)[1])
    try:
        hand_over(line, sender, recipient, message, partial(_mark_handed_over, letter))
    except InOtherHands:
        return
    except NotReached:
        raise
    except NotTaken as refusal:
        _not_taken(letter, refusal)
    else:
        _finish(letter, sent_at=timezone.now(), address="")


def _mark_handed_over(letter: Letter) -> bool:
    """Say that the letter's text leaves now; whether it is still this sender's to send."""
    now = timezone.now()
    still_mine = Letter.objects.waiting().filter(pk=letter.pk, claim=letter.claim)
    return bool(still_mine.update(handed_over_at=now, claimed_until=now + HANDED_OVER))


def _not_taken(letter: Letter, refusal: NotTaken) -> None:
    """Try again after a pause, or give up."""
    if refusal.for_good or letter.tries >= len(PAUSES):
        _give_up(letter, str(refusal))
        return
    due_at = timezone.now() + PAUSES[letter.tries]
    _finish(letter, handed_over_at=None, tries=F("tries") + 1, due_at=due_at, why=str(refusal))


def _give_up(letter: Letter, why: str) -> None:
    _finish(letter, given_up_at=timezone.now(), why=why)
    logger.warning("A letter was given up. %s", why)


def _finish(letter: Letter, **found: Any) -> None:
    """Say what became of a letter, and let it out of hand: unless another sender has it by now."""
    Letter.objects.filter(pk=letter.pk, claim=letter.claim).update(claim=None, claimed_until=None, **found)
