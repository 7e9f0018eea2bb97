"""The script's characters, for where one of them is asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django import template

from review.drafts.scripts import read_script
from screenplay.fountain import same_name
from screenplay.script import characters_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from review.people.models import Member

register = template.Library()


@register.simple_tag
def cast_names(member: Member) -> list[str]:
    """Everybody who speaks in the current draft, by name; nobody before the first."""
    current = member.production.drafts.current()
    return sorted(one.name for one in characters_of(read_script(current))) if current else []


@register.filter
def as_in_script(name: str, speakers: Iterable[str]) -> str:
    """A character's name as the script has it, however it was typed; of nobody in it, as it was typed."""
    return next((one for one in speakers if same_name(one) == same_name(name)), name)
