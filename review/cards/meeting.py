"""Where notes meet in the script: which of them share lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.notes.models import Subject

if TYPE_CHECKING:
    from collections.abc import Iterable

    from review.cards.note_rows import NoteRow

MOST_SHARED_LINES = 12  # a note on more lines speaks of the whole stretch, not of a spot that others stumble on


def sharing_lines(rows: Iterable[NoteRow]) -> list[list[NoteRow]]:
    """The rows that stand on lines, gathered where those overlap; a character's do not. Rows come in script order."""
    groups: list[list[NoteRow]] = []
    last_line = 0
    for row in rows:
        if row.first_line is None or row.last_line is None or row.subject == Subject.CHARACTER:
            continue
        if groups and row.first_line <= last_line and _share(groups[-1][0], row):
            groups[-1].append(row)
            last_line = max(last_line, row.last_line)
        else:
            groups.append([row])
            last_line = row.last_line
    return groups


def meeting_notes(rows: Iterable[NoteRow]) -> frozenset[int]:
    """The keys of the notes that share their lines with another."""
    return frozenset(row.pk for group in sharing_lines(rows) if len(group) > 1 for row in group)


def _share(one: NoteRow, other: NoteRow) -> bool:
    """Long notes share lines only with notes on the very same lines."""
    if (one.first_line, one.last_line) == (other.first_line, other.last_line):
        return True
    return _length(one) <= MOST_SHARED_LINES and _length(other) <= MOST_SHARED_LINES


def _length(row: NoteRow) -> int:
    return (row.last_line or 0) - (row.first_line or 0) + 1
