"""Where letters come from and lead to: whether this server sends mail, as whom, and by which address it is opened."""

from __future__ import annotations

from email.utils import parseaddr

from django.conf import settings


def mail_is_on() -> bool:
    """Whether the environment names a mail server."""
    return bool(settings.EMAIL_HOST)


def opened_at(path: str) -> str:
    """The address of a page of this server, for whoever is told of it by mail: nobody asks for it while it is sent."""
    return f"{settings.SITE_ADDRESS.rstrip('/')}{path}"


def is_by_https() -> bool:
    return str(settings.SITE_ADDRESS).startswith("https://")


def sender_domain() -> str:
    """The domain that letters are sent from, and so that of their Message-IDs (RFC 5322, 3.6.4)."""
    return parseaddr(settings.DEFAULT_FROM_EMAIL)[1].rpartition("@")[2] or "localhost"
