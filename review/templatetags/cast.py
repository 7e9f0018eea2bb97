"""The script's characters, for where one of them is asked for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django import template

from review.drafts.scripts import read_script
from screenplay.fountain import same_name
from screenplay.names import AS_WRITTEN, CueNames
from screenplay.script import characters_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from review.people.models import Member

register = template.Library()


@dataclass(frozen=True, slots=True)
class Speakers:
    """Everybody who speaks in the current draft, which is called `draft`, by name; nobody before the first."""

    names: tuple[str, ...] = ()
    draft: str = ""
    cue_names: CueNames = AS_WRITTEN

    def __iter__(self) -> Iterator[str]:
        return iter(self.names)

    def named(self, name: str) -> str | None:
        """Their name as the script has it, however it was typed."""
        sought = same_name(self.cue_names.name_of(name))
        return next((one for one in self.names if same_name(one) == sought), None)

    def meant_by(self, name: str) -> str:
        """Who it may be where nobody speaks under a name: the one of whose name it has every word, or whose name has
        every word of it; "" where somebody does speak under it, and where that is nobody's or several's."""
        if self.named(name):
            return ""
        sought = _words(name)
        found = [one for one in self.names if sought <= _words(one) or _words(one) <= sought]
        return found[0] if len(found) == 1 else ""


def _words(name: str) -> set[str]:
    return set(same_name(name).split())


@register.simple_tag
def cast_names(member: Member) -> Speakers:
    current = member.production.drafts.current()
    if current is None:
        return Speakers()
    names = sorted(one.name for one in characters_of(read_script(current)))
    return Speakers(tuple(names), f"draft {current.number}", member.production.names)


@register.filter
def as_in_script(name: str, speakers: Speakers) -> str:
    """A character's name as the script has it; of nobody in it, as it was typed."""
    return speakers.named(name) or name


@register.filter
def unheard(name: str, speakers: Speakers) -> str:
    """That nobody speaks under a name, as a sentence; "" where somebody does, and where there is no draft yet."""
    if not name or not speakers.draft or speakers.named(name):
        return ""
    told = f"Nobody speaks under {name} in {speakers.draft}."
    meant = speakers.meant_by(name)
    return f"{told} Is it {meant}?" if meant else told


@register.filter
def meant_in_script(name: str, speakers: Speakers) -> str:
    """The name in the script that may be meant by one under which nobody speaks; "" where none is."""
    return speakers.meant_by(name) if name else ""
