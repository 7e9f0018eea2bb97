"""The thread of the running server that sends its mail, now and then, for as long as it runs."""

from __future__ import annotations

import logging
from contextlib import contextmanager
from threading import Event, Thread
from typing import TYPE_CHECKING

from django.db import close_old_connections, connections

from review.mail.sending import send_due
from review.mail.site import mail_is_on

if TYPE_CHECKING:
    from collections.abc import Iterator

    from review.mail.sending import Compose

LOOKS_EVERY = 10.0  # seconds
LOOKS_AT_LEAST_EVERY = 300.0  # where the mail server is not there, the pause doubles up to this
FINISHING_LASTS = 10.0  # seconds for the letter that is under way when the server stops

logger = logging.getLogger(__name__)


@contextmanager
def mail_sent_meanwhile(compose: Compose) -> Iterator[None]:
    """Send what is due while the block lasts; nothing where the environment names no mail server."""
    if not mail_is_on():
        yield
        return
    over = Event()
    thread = Thread(target=_send_until, args=(over, compose), name="postman", daemon=True)
    thread.start()
    try:
        yield
    finally:
        over.set()
        thread.join(FINISHING_LASTS)


def _send_until(over: Event, compose: Compose) -> None:
    pause = LOOKS_EVERY
    while not over.wait(pause):
        pause = LOOKS_EVERY if _goes_well(compose) else min(2 * pause, LOOKS_AT_LEAST_EVERY)


def _goes_well(compose: Compose) -> bool:
    """Whether nothing stood in the way of a round. What goes wrong is said in the terminal, and the next is tried."""
    try:
        close_old_connections()
        return send_due(compose)
    except Exception:
        logger.exception("Mail could not be sent for now.")
        return False
    finally:
        connections.close_all()
