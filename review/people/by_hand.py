"""Messages that a writer sends themselves, ready to copy, of what this server does not tell by mail."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from django.template.loader import render_to_string

from review.people.secrecy import is_this_machine

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.http import HttpRequest

    from review.people.models import Member


def opens_mail(subject: str, words: str) -> str:
    """An address that opens a message to nobody yet in one's own mail program: RFC 6068."""
    return f"mailto:?subject={quote(subject)}&body={quote(words)}"


@dataclass(frozen=True, slots=True)
class MessageByHand:
    """A message to those of these `names`: `key` tells it from others on its page. `is_for_here` says that the address
    in it works on this machine alone."""

    key: str
    title: str
    names: tuple[str, ...]
    subject: str
    words: str
    is_for_here: bool

    @property
    def mail(self) -> str:
        return opens_mail(self.subject, self.words)


def message_by_hand(
    request: HttpRequest,
    by: Member,
    key: str,
    title: str,
    whom: Iterable[Member],
    *,
    leads_to: str,
    template: str,
    **told: Any,
) -> MessageByHand:
    """The message that a template makes of what it is `told`, from a writer to these members, with the address of the
    page that it leads to."""
    names = tuple(sorted(member.name for member in whom if member != by))
    told |= {"by": by, "production": by.production, "address": request.build_absolute_uri(leads_to)}
    words = render_to_string(template, told).strip()
    return MessageByHand(key, title, names, by.production.name, words, is_this_machine(request.get_host()))
