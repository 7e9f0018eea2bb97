"""What a line of the terminal says: when, asked for from where, and what happened; and no secret."""

from __future__ import annotations

import logging
import re

from django.conf import settings

from review.serving.addresses import address_of, asked_from

# What lets somebody in: an invitation, a sign-in link, a link to choose a new password; and what stops their mail.
SECRET = re.compile(r"(/(?:join|in|password/forgotten|mail/stop)/)(?!sent/|changed/)[^/\s?&#'\"]+", re.IGNORECASE)


def mask(text: str) -> str:
    """The text with the secret of every address in it left out."""
    return SECRET.sub(r"\1…", text)


class PlainLines(logging.Formatter):
    """Begins each line with its time and the network address it was asked for from, "-" where nobody asked; and masks
    it as a whole, so that neither what a logger says nor the traceback after it lets anybody in."""

    def __init__(self) -> None:
        super().__init__("%(asctime)s %(asked_from)s %(message)s", "%Y-%m-%d %H:%M:%S")

    def format(self, record: logging.LogRecord) -> str:
        record.asked_from = _address(record) or "-"
        return mask(super().format(record))


def _address(record: logging.LogRecord) -> str:
    """Of the request that is told of, where one is: the last word on it is said when it is over."""
    request = getattr(record, "request", None)
    told = getattr(request, "META", None)
    return address_of(told, behind_proxy=settings.BEHIND_HTTPS) if told else asked_from()
