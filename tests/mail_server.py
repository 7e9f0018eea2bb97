"""A real mail server for a test, in a thread of its own: it takes letters, refuses them, breaks off, as it is told."""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import dataclass, field
from email import message_from_bytes, policy
from typing import TYPE_CHECKING, Any

from aiosmtpd.controller import Controller

from tests.servers import free_port

if TYPE_CHECKING:
    from collections.abc import Iterator
    from email.message import EmailMessage

TAKEN = "250 Taken"


@dataclass
class MailServer:
    """`refuses` has its answer for a recipient, `answers` what it says to the next texts, one after the other, before
    it takes all. `breaks_off_at` is RCPT or DATA, where it drops the line. `taken` are the letters that it has, and
    `went_to` whom each was for."""

    refuses: dict[str, str] = field(default_factory=dict)
    answers: list[str] = field(default_factory=list)
    breaks_off_at: str = ""
    taken: list[EmailMessage] = field(default_factory=list)
    went_to: list[str] = field(default_factory=list)
    port: int = 0

    async def handle_RCPT(self, server: Any, session: Any, envelope: Any, address: str, options: Any) -> str:  # noqa: N802 - so it is called
        if self.breaks_off_at == "RCPT":
            server.transport.abort()
        if address in self.refuses:
            return self.refuses[address]
        envelope.rcpt_tos.append(address)
        return "250 OK"

    async def handle_DATA(self, server: Any, session: Any, envelope: Any) -> str:  # noqa: N802 - so it is called
        if self.answers:
            return self.answers.pop(0)
        self.taken.append(message_from_bytes(envelope.content, policy=policy.default))
        self.went_to.extend(envelope.rcpt_tos)
        if self.breaks_off_at == "DATA":
            server.transport.abort()
        return TAKEN

    def letter(self) -> EmailMessage:
        """The one letter that it has."""
        (letter,) = self.taken
        return letter

    def words(self) -> str:
        """All that stands in the letters it has."""
        return "\n".join(f"{letter['Subject']}\n{body_of(letter)}" for letter in self.taken)


def body_of(letter: EmailMessage) -> str:
    """The plain text of a letter."""
    part = letter.get_body(("plain",))
    assert part is not None
    return str(part.get_content()).replace("\r\n", "\n")


@contextmanager
def mail_server() -> Iterator[MailServer]:
    taking = MailServer()
    taking.port = free_port()
    controller = Controller(taking, hostname="127.0.0.1", port=taking.port)
    controller.start()
    try:
        yield taking
    finally:
        controller.stop()
