"""The notes in pages: a group, such as a scene's, is on one, where it has no more than a page takes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.notes_screen.arrangement import BEFORE, CHARACTERS, GONE, GroupedRows

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from review.cards.note_rows import NoteRow
    from review.notes_screen.arrangement import GroupName

NOTES_A_PAGE = 60


@dataclass(frozen=True, slots=True)
class NotePage:
    """Some of the notes: `number` counts from 1, and `begins_behind` how many notes come before. It is called by what
    they are grouped by."""

    number: int
    begins_behind: int
    groups: tuple[GroupedRows, ...]
    name: str

    @property
    def rows(self) -> tuple[NoteRow, ...]:
        return tuple(row for group in self.groups for row in group.rows)

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


def note_pages(groups: Sequence[GroupedRows], *, at: str = "", number: str = "") -> NotePages:
    """The notes in pages, with the page shown that has the note that `at` names, else the one of this number."""
    pages: list[NotePage] = []
    names: list[str] = []
    behind = 0
    for part in _parts(groups) if groups else [()]:
        name = _name([group.name for group in part])
        names.append(name)
        further = f", part {names.count(name)}" if names.count(name) > 1 else ""
        pages.append(NotePage(len(pages) + 1, behind, part, f"{name}{further}"))
        behind = pages[-1].last
    wanted = int(number) if number.isascii() and number.isdigit() and len(number) < 7 else 1
    shown = pages[min(max(wanted, 1), len(pages)) - 1]
    has_it = (page for page in pages if any(row.public_id == at for row in page.rows))
    return NotePages(tuple(pages), next(has_it, shown) if at else shown)


def _parts(groups: Sequence[GroupedRows]) -> Iterator[tuple[GroupedRows, ...]]:
    part: list[GroupedRows] = []
    room = NOTES_A_PAGE
    for group in groups:
        if part and len(group.rows) > room:
            yield tuple(part)
            part, room = [], NOTES_A_PAGE
        rows = group.rows
        while len(rows) > NOTES_A_PAGE:
            yield (GroupedRows(group.name, rows[:NOTES_A_PAGE]),)
            rows = rows[NOTES_A_PAGE:]
        part.append(GroupedRows(group.name, rows))
        room -= len(rows)
    yield tuple(part)


def _name(names: Sequence[GroupName]) -> str:
    """By its scenes, from the first to the last; by what else it has where it has none."""
    if not names:
        return ""
    scenes = [name for name in names if name.scene or name.title == BEFORE]
    if not scenes:
        return _name_without_scenes(names)
    first, last = scenes[0].label, scenes[-1].label
    if first == last:
        return f"Scene {first}" if first else BEFORE
    return f"Scenes {first} to {last}" if first else f"Up to scene {last}"


def _name_without_scenes(names: Sequence[GroupName]) -> str:
    titles = [GONE if name.is_gone else CHARACTERS if name.character else name.title for name in names]
    return titles[0] if titles[0] == titles[-1] else f"{titles[0]} to {titles[-1]}"
