"""The lines that notes are on, as they are shown beside them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from review.drafts.printed_lines import printed_lines
from review.notes.lines import source_lines
from screenplay.fountain import runs
from screenplay.model import Heading, Run, Speech

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from review.cards.note_card import NoteCard
    from screenplay import Kind, Screenplay, Span
    from screenplay.model import Element

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
    """The lines that notes are on, of which the first is `first_line`; `lines_left_out` is how many are not shown."""

    first_line: int
    lines: tuple[ScriptLine, ...]
    lines_left_out: int


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


class LinesBeside:
    """The lines of a script as they are shown beside the notes on them."""

    def __init__(self, script: Screenplay) -> None:
        self.script = script
        self.around = LinesAround(script)
        self.texts = source_lines(script.text)

    def of(self, cards: Sequence[NoteCard]) -> SharedLines:
        """The lines that notes are on, from the first to the last, with some around them; of a long stretch as many as
        show where it is."""
        spans = [card.stands.at for card in cards if card.stands.at]
        first = self.around.opening(min(span.first_line for span in spans))
        last = max(span.last_line for span in spans)
        shown = min(last, first + MOST_SHOWN_LINES - 1)
        after = self.around.after(last) if shown == last else ()
        numbers = [*self.around.before(first), *range(first, shown + 1), *after]
        lines = tuple(
            ScriptLine(
                number=number,
                kind=self.script.kinds[number - 1],
                texts=_noted_texts(self.around.runs_of(number), _noted(spans, number, len(self.texts[number - 1]))),
                is_around=not first <= number <= last,
            )
            for number in numbers
        )
        return SharedLines(min(span.first_line for span in spans), lines, last - shown)


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
