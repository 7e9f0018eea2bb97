"""The screens that the top bar leads a member to, and which of them an address belongs to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django import template
from django.urls import reverse

from review.access import Deed, may

if TYPE_CHECKING:
    from review.people.models import Member

register = template.Library()

# Label, address, the names that an address of the section begins with, and what one may do who is led there.
SECTIONS: tuple[tuple[str, str, tuple[str, ...], Deed], ...] = (
    ("Home", "home", ("home",), Deed.READ),
    ("Script", "script-current", ("script", "note-new"), Deed.READ),
    ("Readings", "readings", ("reading", "question", "answer", "scene-purposes", "talk"), Deed.READ),
    ("Notes", "notes", ("note", "decide", "place"), Deed.READ),
    ("Changes", "changes", ("change", "revised"), Deed.READ),
    ("Next draft", "working", ("working", "to-do", "draft-restore"), Deed.REWRITE),
    ("Voices", "voices-current", ("voice",), Deed.READ),
    ("Scenes", "scenes-current", ("scenes",), Deed.READ),
    ("Papers", "papers", ("paper",), Deed.READ),
    ("Drafts", "drafts", ("draft",), Deed.READ),
    ("Search", "search", ("search",), Deed.READ),
    ("People", "people", ("people", "invite", "member", "security", "settings", "scene-numbers", "locked"), Deed.READ),
)


@dataclass(frozen=True, slots=True)
class Section:
    label: str
    address: str
    is_current: bool


@register.simple_tag
def sections(member: Member, url_name: str) -> list[Section]:
    """The sections open to a member, in the order of the bar; the one that the page belongs to is current."""
    current = section_of(url_name)
    return [
        Section(label, reverse(name, args=[member.production.public_id]), label == current)
        for label, name, _, deed in SECTIONS
        if may(member, deed)
    ]


def section_of(url_name: str) -> str:
    """The label of the section that a page belongs to: that with the longest beginning of its name; "" for none."""
    found = [
        (len(beginning), label)
        for label, _, beginnings, _ in SECTIONS
        for beginning in beginnings
        if url_name.startswith(beginning)
    ]
    return max(found, default=(0, ""))[1]
