"""Where notes meet in the script: those on the same lines are shown together, under their scene."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import groupby
from typing import TYPE_CHECKING

from review.drafts.printed_lines import printed_lines
from review.notes.lines import source_lines
from review.notes.models import Subject
from screenplay.fountain import runs
from screenplay.model import Heading, Run, Speech

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from review.cards.note_card import NoteCard
    from review.notes_screen.filters import NoteRow
    from screenplay import Kind, LaidOut, Screenplay, Span
    from screenplay.model import Element
    from screenplay.script import Scene

MOST_SHARED_LINES = 12  # a note on more lines speaks of the whole stretch, not of a spot that others stumble on
MOST_SHOWN_LINES = 14
MOST_LINES_AROUND = 3


@dataclass(frozen=True, slots=True)
class NotedText:
    """Part of a script line in one style, and whether a note is on it."""

    text: str
    is_noted: bool
    style: str = ""


@dataclass(frozen=True, slots=True)
class ScriptLine:
    """A line of the script as shown beside notes; `number` counts from 1. Lines around noted ones help to read."""

    number: int
    kind: Kind
    texts: tuple[NotedText, ...]
    is_around: bool


@dataclass(frozen=True, slots=True)
class SharedLines:
    """Notes on the same lines, with those lines; `lines_left_out` is how many of them are not shown."""

    cards: tuple[NoteCard, ...]
    lines: tuple[ScriptLine, ...]
    lines_left_out: int

    @property
    def authors(self) -> int:
        return len({card.author.pk for card in self.cards})

    @property
    def first_line(self) -> int:
        return min(card.stands.at.first_line for card in self.cards if card.stands.at)


@dataclass(slots=True)
class SceneNotes:
    """The shared lines of a scene; `scene` is None before the first."""

    scene: Scene | None
    shared_lines: list[SharedLines] = field(default_factory=list)

    @property
    def notes(self) -> int:
        return sum(len(shared.cards) for shared in self.shared_lines)


@dataclass(frozen=True, slots=True)
class CharacterNotes:
    """The notes on one character, and the lines where they first speak."""

    name: str
    shared_lines: SharedLines


def by_character(script: Screenplay, rows: Iterable[NoteRow], cards: Mapping[int, NoteCard]) -> list[CharacterNotes]:
    """The notes on characters of the draft, character by character, in the order of the rows."""
    around = LinesAround(script)
    found: dict[str, list[NoteCard]] = {}
    for row in rows:
        if row.subject == Subject.CHARACTER and row.first_line is not None:
            found.setdefault(row.character, []).append(cards[row.pk])
    return [CharacterNotes(name, _shared_lines(script, around, own)) for name, own in found.items()]


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


def by_scene(pages: LaidOut, rows: Sequence[NoteRow], cards: Mapping[int, NoteCard]) -> list[SceneNotes]:
    """The lines of these notes under their scenes, in script order. `cards` holds each note's card by its key."""
    around = LinesAround(pages.script)
    scenes: list[SceneNotes] = []
    for group in sharing_lines(rows):
        scene = _scene_at(pages, group[0].first_line or 1)
        if not scenes or scenes[-1].scene is not scene:
            scenes.append(SceneNotes(scene))
        scenes[-1].shared_lines.append(_shared_lines(pages.script, around, [cards[row.pk] for row in group]))
    return scenes


def _scene_at(pages: LaidOut, line: int) -> Scene | None:
    ordinal = pages.script.scene_of[line - 1]
    return pages.scenes[ordinal - 1] if ordinal else None


class LinesAround:
    """What a line of a script is read with: the speech it belongs to, and the elements next to it in its scene."""

    def __init__(self, script: Screenplay) -> None:
        self.script = script
        self.at = {
            line: at
            for at, element in enumerate(script.elements)
            for line in range(element.first_line, element.last_line + 1)
        }

    def runs_of(self, line: int) -> tuple[Run, ...]:
        """What a line puts on the page, marks taken away; a line that does not print, as it is written."""
        at = self.at.get(line)
        element = self.script.elements[at] if at is not None else None
        printed = next((part for part in printed_lines(element) if part.line == line), None) if element else None
        if printed is not None:
            return runs(printed)
        text = source_lines(self.script.text)[line - 1]
        return (Run(text, 0),) if text else ()

    def opening(self, line: int) -> int:
        """The cue of a speech's line, unless it is far above; any other line is its own."""
        at = self.at.get(line)
        if at is None or not isinstance(self.script.elements[at], Speech):
            return line
        return max(self.script.elements[at].first_line, line - MOST_LINES_AROUND)

    def before(self, line: int) -> range:
        """The last lines of the element before, with the blank ones between."""
        element = self._next_to(line, -1)
        return range(max(element.first_line, line - 1 - MOST_LINES_AROUND), line) if element else range(0)

    def after(self, line: int) -> range:
        """The first lines of the element after, with the blank ones between."""
        element = self._next_to(line, 1)
        return range(line + 1, min(element.last_line, line + 1 + MOST_LINES_AROUND) + 1) if element else range(0)

    def _next_to(self, line: int, step: int) -> Element | None:
        at = self.at.get(line)
        if at is None or not 0 <= at + step < len(self.script.elements):
            return None
        element = self.script.elements[at + step]
        is_near = self.script.scene_of[element.first_line - 1] == self.script.scene_of[line - 1]
        return element if is_near and not isinstance(element, Heading) else None


def _shared_lines(script: Screenplay, around: LinesAround, cards: list[NoteCard]) -> SharedLines:
    spans = [card.stands.at for card in cards if card.stands.at]
    first = around.opening(min(span.first_line for span in spans))
    last = max(span.last_line for span in spans)
    shown = min(last, first + MOST_SHOWN_LINES - 1)
    numbers = [*around.before(first), *range(first, shown + 1), *(around.after(last) if shown == last else ())]
    texts = source_lines(script.text)
    lines = tuple(
        ScriptLine(
            number=number,
            kind=script.kinds[number - 1],
            texts=_noted_texts(around.runs_of(number), _noted(spans, number, len(texts[number - 1]))),
            is_around=not first <= number <= last,
        )
        for number in numbers
    )
    return SharedLines(tuple(cards), lines, last - shown)


def _noted(spans: Iterable[Span], line: int, length: int) -> list[bool]:
    """For each character of the line, whether a note is on it."""
    noted = [False] * length
    for span in spans:
        if span.first_line <= line <= span.last_line:
            start = span.first_char if line == span.first_line else 0
            end = span.last_char if line == span.last_line else length
            noted[start:end] = [True] * len(noted[start:end])
    return noted


def _noted_texts(line: Sequence[Run], noted: Sequence[bool]) -> tuple[NotedText, ...]:
    """The runs of a line, parted where the noted characters of its source begin and end."""
    return tuple(
        NotedText("".join(character for _, character in part), is_noted, _style(run))
        for run in line
        for is_noted, part in groupby(enumerate(run.text, run.start), key=lambda at: noted[at[0]])
    )


def _style(run: Run) -> str:
    """The style sheet's classes for a run: b, i and u, for bold, italic and underlined."""
    return " ".join(name for name, has in (("b", run.bold), ("i", run.italic), ("u", run.underline)) if has)
