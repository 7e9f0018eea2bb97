"""The notes in pages: a scene's are together on one, where they are no more than a page takes."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from review.notes.models import Subject

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from review.notes_screen.filters import NoteRow
    from screenplay import LaidOut

NOTES_A_PAGE = 60
CHARACTERS, BEFORE, GONE = "Characters", "Before the first scene", "What is gone"


@dataclass(frozen=True, slots=True)
class NotePage:
    """Some of the notes, in script order: `number` counts from 1, and `begins_behind` how many notes come before. It is
    called by what they are on."""

    number: int
    begins_behind: int
    rows: tuple[NoteRow, ...]
    name: str

    @property
    def first(self) -> int:
        return self.begins_behind + 1

    @property
    def last(self) -> int:
        return self.begins_behind + len(self.rows)


@dataclass(frozen=True, slots=True)
class NotePages:
    """All pages, one at least, and the one that is shown."""

    pages: tuple[NotePage, ...]
    shown: NotePage

    @property
    def notes(self) -> int:
        return self.pages[-1].last

    @property
    def before(self) -> NotePage | None:
        return self.pages[self.shown.number - 2] if self.shown.number > 1 else None

    @property
    def after(self) -> NotePage | None:
        return self.pages[self.shown.number] if self.shown.number < len(self.pages) else None


def note_pages(script: LaidOut, rows: Sequence[NoteRow], *, at: str = "", number: str = "") -> NotePages:
    """The notes in pages, with the page shown that has the note that `at` names, else the one of this number."""
    pages: list[NotePage] = []
    names: list[str] = []
    behind = 0
    for part in _parts(script, rows) if rows else [()]:
        name = _name(script, part)
        names.append(name)
        further = f", part {names.count(name)}" if names.count(name) > 1 else ""
        pages.append(NotePage(len(pages) + 1, behind, part, f"{name}{further}"))
        behind += len(part)
    wanted = int(number) if number.isascii() and number.isdigit() and len(number) < 7 else 1
    shown = pages[min(max(wanted, 1), len(pages)) - 1]
    has_it = (page for page in pages if any(row.public_id == at for row in page.rows))
    return NotePages(tuple(pages), next(has_it, shown) if at else shown)


def _parts(script: LaidOut, rows: Sequence[NoteRow]) -> Iterator[tuple[NoteRow, ...]]:
    part: tuple[NoteRow, ...] = ()
    for _, together in groupby(rows, key=lambda row: _place(script, row)):
        group = tuple(together)
        if part and len(part) + len(group) > NOTES_A_PAGE:
            yield part
            part = ()
        part += group
        while len(part) > NOTES_A_PAGE:
            yield part[:NOTES_A_PAGE]
            part = part[NOTES_A_PAGE:]
    yield part


def _place(script: LaidOut, row: NoteRow) -> str | int:
    """What a note is on: a scene's ordinal, 0 before the first; or else a name."""
    if row.first_line is None:
        return GONE
    return f"{CHARACTERS} {row.character}" if row.subject == Subject.CHARACTER else _scene(script, row.first_line)


def _scene(script: LaidOut, line: int) -> int:
    return script.script.scene_of[line - 1]


def _name(script: LaidOut, rows: Sequence[NoteRow]) -> str:
    """By its scenes, from the first to the last; by what else it has where it has none."""
    places = [_place(script, row) for row in rows]
    ordinals = [place for place in places if isinstance(place, int)]
    if not ordinals:
        return GONE if GONE in places else CHARACTERS
    first, last = (_label(script, ordinal) for ordinal in (ordinals[0], ordinals[-1]))
    if first == last:
        return f"Scene {first}" if ordinals[0] else BEFORE
    return f"Scenes {first} to {last}" if ordinals[0] else f"Up to scene {last}"


def _label(script: LaidOut, ordinal: int) -> str:
    return (script.scenes[ordinal - 1].number or str(ordinal)) if ordinal else ""
