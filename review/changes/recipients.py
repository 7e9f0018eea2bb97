"""Whom there is a change sheet for: each department, and each character who speaks."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.utils.text import slugify

from review.changes.department_rules import EVERYTHING
from review.notes.models import Subject
from review.people.models import Department
from screenplay.fountain import same_name
from screenplay.script import characters_of

if TYPE_CHECKING:
    from review.changes.notes_at_changes import NoteAcrossDrafts
    from screenplay.comparing import Comparison
    from screenplay.names import CueNames


@dataclass(frozen=True, slots=True)
class Recipient:
    """Whom a sheet is for: a department, or a character by the names they have in either draft, the newest first;
    `cues` are those that were merged into one of them."""

    slug: str
    name: str
    department: str = ""
    names: tuple[str, ...] = ()
    cues: tuple[str, ...] = ()

    @property
    def has_everything(self) -> bool:
        return self.department in EVERYTHING

    def wrote(self, note: NoteAcrossDrafts) -> bool:
        """Whether a note is theirs, or is about them; one brought in for somebody else is not its bringer's."""
        author = None if note.note.said_by else note.note.author
        if self.department:
            return author is not None and author.department == self.department
        about = note.note.character if note.note.subject == Subject.CHARACTER else ""
        return self.is_called(author.character if author else "") or self.is_called(about)

    def is_named(self, name: str) -> bool:
        """Whether a draft has them under this name."""
        return name in self.names

    def is_called(self, name: str) -> bool:
        return bool(name) and any(same_name(name) == same_name(each) for each in (*self.names, *self.cues))


def departments() -> list[Recipient]:
    return [Recipient(slugify(each.value), each.label, department=each.value) for each in Department]


def characters_between(comparison: Comparison, cue_names: CueNames) -> tuple[Recipient, ...]:
    """Those who speak in either draft, in the order of the new one's, most words first."""
    before = {rename.new: rename.old for rename in comparison.renames if rename.kind == "character"}
    names = {same_name(each.name): each.name for each in characters_of(comparison.new)}
    gone = [each.name for each in characters_of(comparison.old) if each.name not in before.values()]
    names |= {same_name(name): name for name in gone if same_name(name) not in names}
    taken: dict[str, int] = defaultdict(int, {whose.slug: 1 for whose in departments()})
    found = []
    for name in names.values():
        slug = slugify(name, allow_unicode=True) or "unnamed"
        taken[slug] += 1
        once = slug if taken[slug] == 1 else f"{slug}-{taken[slug]}"
        theirs = tuple(filter(None, (name, before.get(name, ""))))
        cues = tuple(cue for each in theirs for cue in cue_names.names_of(each))
        found.append(Recipient(once, name, names=theirs, cues=cues))
    return tuple(found)
