"""A letter as it travels: the headers and parts of RFC 5322, and the way out of RFC 8058."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import EmailPolicy
from email.utils import parseaddr
from typing import TYPE_CHECKING

from django.conf import settings

from review.mail.site import is_by_https, sender_domain
from review.mail.stopping import stop_address

if TYPE_CHECKING:
    from datetime import datetime

    from review.mail.models import Letter

MOST_SUBJECT = 150  # characters
WAY_OUT = "List-Unsubscribe"


class WholeAddresses(EmailPolicy):
    """Lays headers out as ever, but for the way out: an address that is longer than a line stands on one all the same
    (RFC 5322, 2.1.1, lets it), since nobody finds it as an encoded word (RFC 2047, 5, wants none there)."""

    def fold(self, name: str, value: str) -> str:
        return f"{name}: {value}{self.linesep}" if name == WAY_OUT else super().fold(name, value)

    def fold_binary(self, name: str, value: str) -> bytes:
        return self.fold(name, value).encode("ascii") if name == WAY_OUT else super().fold_binary(name, value)


POLICY = WholeAddresses(linesep="\r\n", cte_type="7bit")  # whatever the mail servers on the way can do


@dataclass(frozen=True, slots=True)
class LetterText:
    """What a letter says, in plain text: its words are whole without a picture, a font or a server to ask.

    `calendars` are iCalendar objects that go with it, each with its method (RFC 5546).
    """

    subject: str
    body: str
    calendars: tuple[tuple[str, str], ...] = ()


def as_message(letter: Letter, text: LetterText, at: datetime) -> EmailMessage:
    """The letter as it is sent at this moment. Whatever a name or a title holds, no header begins within it."""
    message = EmailMessage(POLICY)
    message["From"] = _address(settings.DEFAULT_FROM_EMAIL)
    message["To"] = Address(_one_line(letter.member.person.name) if letter.member else "", addr_spec=travels_to(letter))
    message["Subject"] = _one_line(text.subject)[:MOST_SUBJECT]
    message["Date"] = at
    message["Message-ID"] = f"<{letter.public_id}@{sender_domain()}>"
    message["Auto-Submitted"] = "auto-generated"  # RFC 3834, 5: no absence is to be answered to it
    message[WAY_OUT] = f"<{stop_address(letter)}>"
    if is_by_https():
        message["List-Unsubscribe-Post"] = "List-Unsubscribe=One-Click"  # RFC 8058, 3.1, wants such an address for it
    message.set_content(text.body, cte="quoted-printable")
    for method, calendar in text.calendars:
        message.add_attachment(
            calendar.encode(), "text", "calendar", params={"method": method, "charset": "utf-8"}, filename="talk.ics"
        )
    return message


def _address(told: str) -> Address:
    name, address = parseaddr(told)
    return Address(_one_line(name), addr_spec=in_ascii(address))


def travels_to(letter: Letter) -> str:
    """The address as any mail server takes it."""
    return in_ascii(letter.recipient)


def in_ascii(address: str) -> str:
    """An address with its domain as DNS has it (RFC 5890)."""
    name, _, domain = address.rpartition("@")
    return f"{name}@{domain.encode('idna').decode()}"


def _one_line(text: str) -> str:
    """The text on one line, of what can be printed alone."""
    return "".join(char for char in " ".join(text.split()) if unicodedata.category(char)[0] != "C")
