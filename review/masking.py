"""Keeps the secrets that stand in addresses out of the logs."""

from __future__ import annotations

import logging
import re

# What lets somebody in: an invitation, a sign-in link, a link to choose a new password.
SECRET = re.compile(r"(/(?:join|in|password/forgotten)/)(?!sent/|changed/)[^/\s?&#'\"]+", re.IGNORECASE)


def mask(text: str) -> str:
    """The text with the secret of every address in it left out."""
    return SECRET.sub(r"\1…", text)


class SecretAddresses(logging.Filter):
    """Rewrites what is logged; it stands at the handlers, so that it sees what every logger says."""

    def filter(self, record: logging.LogRecord) -> bool:
        record.msg, record.args = mask(record.getMessage()), None
        return True
