"""Where what happened lately can be seen: the page that an act of the log leads a member to."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from django.urls import reverse

from review.access import Deed, may
from review.log import Act
from review.readers.models import Reading

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from review.people.models import Member

Verb = Act.Verb


@dataclass(frozen=True)
class LinksKnown:
    """What there is for a member to be led to; one query each, for what is asked of it."""

    member: Member

    @cached_property
    def drafts(self) -> frozenset[int]:
        """The numbers of the drafts that stand."""
        return frozenset(self.member.production.drafts.standing().values_list("number", flat=True))

    @cached_property
    def readings(self) -> frozenset[str]:
        """The public ids of the readings that there are for them."""
        return frozenset(Reading.objects.known_to(self.member).values_list("public_id", flat=True))

    def address(self, name: str, *parts: object) -> str:
        return reverse(name, args=[self.member.production.public_id, *parts])


def where_it_happened(known: LinksKnown, act: Act, times: int) -> str:
    """The address of the page where an act can be seen, or several of its sort of which it is the last; empty where
    there is none for this member."""
    tell = WHERE.get(act.verb)
    return tell(known, act, times) if tell else ""


def _note(known: LinksKnown, act: Act, times: int) -> str:
    """The note itself; several stand on the notes screen, where it is among them."""
    if times == 1:
        return known.address("note", act.about)
    return f"{known.address('notes')}?state=all&author=all&sort=newest&at={act.about}#note-{act.about}"


def _reply(known: LinksKnown, act: Act, times: int) -> str:
    return f"{known.address('note', act.details['note'])}#reply-{act.about}" if "note" in act.details else ""


def _written_in(known: LinksKnown, act: Act, times: int) -> str:
    return known.address("note", act.about) if times == 1 else f"{known.address('notes')}?state=written&author=all"


def _draft(known: LinksKnown, act: Act, times: int) -> str:
    number = act.details.get("number")
    return known.address("script", number) if times == 1 and number in known.drafts else known.address("drafts")


def _reading(known: LinksKnown, act: Act, times: int) -> str:
    if times > 1 or act.about not in known.readings:
        return known.address("readings")
    return known.address("reading-readers" if known.member.is_writer else "reading", act.about)


def _settings(known: LinksKnown, act: Act, times: int) -> str:
    return known.address("settings") if may(known.member, Deed.SET_UP) else ""


def _paper(known: LinksKnown, act: Act, times: int) -> str:
    return known.address("paper", act.about) if times == 1 else known.address("papers")


def _on_paper(known: LinksKnown, act: Act, times: int) -> str:
    """The paper, at the note where the log has both; else all papers."""
    if times > 1 or "paper" not in act.details:
        return known.address("papers")
    return f"{known.address('paper', act.details['paper'])}#note-{act.details.get('note', act.about)}"


def _to(name: str) -> Callable[[LinksKnown, Act, int], str]:
    return lambda known, act, times: known.address(name)


WHERE: Mapping[str, Callable[[LinksKnown, Act, int], str]] = {
    Verb.LOCKED_NUMBERS: _to("drafts"),
    Verb.UNLOCKED_NUMBERS: _to("drafts"),
    Verb.LOCKED_PAGES: _to("drafts"),
    Verb.UNLOCKED_PAGES: _to("drafts"),
    Verb.CHANGED_SETTINGS: _settings,
    Verb.JOINED: _to("people"),
    Verb.PUBLISHED_DRAFT: _draft,
    Verb.WITHDREW_DRAFT: _draft,
    Verb.PUT_DRAFT_UP_AGAIN: _draft,
    Verb.OPENED_READING: _reading,
    Verb.CLOSED_READING: _reading,
    Verb.REOPENED_READING: _reading,
    Verb.LEFT_NOTE: _note,
    Verb.REPLIED: _reply,
    Verb.DECIDED: _note,
    Verb.WROTE_IN: _written_in,
    Verb.PLACED_NOTE: _note,
    Verb.PUT_UP_PAPER: _paper,
    Verb.LEFT_PAPER_NOTE: _on_paper,
    Verb.REPLIED_ON_PAPER: _on_paper,
    Verb.DECIDED_ON_PAPER: _on_paper,
}
