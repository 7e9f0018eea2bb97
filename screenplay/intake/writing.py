"""The elements of a typed script written as Fountain, and what was guessed in them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.intake import forcing, styles
from screenplay.intake.rejoining import is_song, joined_text, joined_words, rejoined
from screenplay.model import Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from screenplay.intake.breaks import LineBreaks
    from screenplay.intake.element_columns import ElementColumns
    from screenplay.intake.elements import TypedElement
    from screenplay.intake.rejoining import Habits
    from screenplay.intake.typed_pages import TypedLine

_BLANK_IN_SPEECH = "  "
_ITALICS = (
    "It is all in italics, which the words were given, here and further on: where somebody sings, put ~ before each"
    " line instead."
)
_LEAST_INDENT = 2  # of a line of action, in columns


@dataclass(frozen=True, slots=True)
class Guess:
    """Something that was not certain: `line` is a line of the Fountain text, `source_line` the line it came from, of
    the text or of the PDF's page `page`; all count from 1. `what` is that line's text, `why` a sentence."""

    line: int
    page: int
    source_line: int
    what: str
    why: str


class FountainWriter:
    """Fountain as it is being written: its lines, and the guesses in them."""

    def __init__(self, breaks: LineBreaks, columns: ElementColumns) -> None:
        self.breaks = breaks
        self.columns = columns
        self.lines: list[str] = []
        self.guesses: list[Guess] = []
        self._italics_told = False

    @property
    def text(self) -> str:
        return "".join(f"{line}\n" for line in self.lines)

    def title(self, page: Sequence[TypedLine], entries: Sequence[str]) -> None:
        self.lines += entries
        line = next(line for line in page if line.words)
        self.guess(1, 1, line, "The first page was read as a title page: see that each line stands at its key.")

    def add(self, found: TypedElement) -> None:
        if self.lines:
            self.lines.append("")
        first = len(self.lines) + 1
        self.lines += self._speech(found) if found.cue else self._block(found)
        for line, why in found.doubts:
            self.guess(first, found.page, line, why)
        for line in found.lines:
            if "[[" in line.text:
                self.guess(first, found.page, line, "Two brackets begin a note in Fountain: they were set apart.")

    def guess(self, at: int, page: int, line: TypedLine, why: str) -> None:
        self.guesses.append(Guess(at, page, line.number, line.text, why))

    def _block(self, found: TypedElement) -> list[str]:
        if found.kind is Kind.SCENE_HEADING:
            return forcing.heading(_literal(found.lines, self.breaks.action), found.lines[0].scene)
        if found.kind is Kind.TRANSITION:
            return forcing.transition(_literal(found.lines, self.breaks.action))
        if found.kind is Kind.CENTERED:
            return forcing.centered([_marked([line], self.breaks.action) for line in found.lines])
        if found.kind is Kind.LYRIC:
            return forcing.lyric(_texts(styles.sung(found.lines), self.breaks.dialogue))
        return forcing.action(list(self._action(found.lines)))

    def _action(self, lines: Sequence[TypedLine]) -> Iterator[str]:
        for group in rejoined(lines, self.breaks.action):
            indent = round(group[0].left - self.columns.action)
            yield " " * (indent if indent >= _LEAST_INDENT else 0) + _marked(group, self.breaks.action)

    def _speech(self, found: TypedElement) -> list[str]:
        assert found.cue is not None
        cue = forcing.cue(forcing.literal(found.cue.text), dual=found.dual)
        return [cue, *(line for lines in _parts(found.lines) for line in self._said(lines, found))]

    def _said(self, lines: Sequence[TypedLine], found: TypedElement) -> list[str]:
        """Lines of a speech that are all dialogue, or all one parenthetical, or a blank one."""
        if not lines[0].words:
            return [_BLANK_IN_SPEECH]
        if lines[0].text[0] == "(" and lines[-1].text[-1] == ")":
            return [_parenthetical(lines, self.breaks.parenthetical)]
        habits = self.breaks.dialogue if not found.beside else self.breaks.of_side(found.lines)
        are_sung = styles.are_in_italics(lines) and len(rejoined(lines, habits)) > 1
        if not are_sung and not is_song(lines, habits):
            self._tell_italics(lines, found)
            return _texts(lines, habits)
        looks = "are all in italics and end short" if are_sung else "end short, each begun with a capital"
        found.doubts.append((lines[0], f"Its lines {looks}: they were read as lyrics."))
        return forcing.lyric(_texts(styles.sung(lines), habits))

    def _tell_italics(self, lines: Sequence[TypedLine], found: TypedElement) -> None:
        """Say once of a script that what is said in italics may be sung."""
        if not self._italics_told and styles.are_in_italics(lines):
            self._italics_told = True
            found.doubts.append((lines[0], _ITALICS))


def _texts(lines: Sequence[TypedLine], habits: Habits) -> list[str]:
    return [_marked(group, habits) for group in rejoined(lines, habits)]


def _literal(lines: Sequence[TypedLine], habits: Habits) -> str:
    return forcing.literal(joined_text(lines, habits))


def _marked(lines: Sequence[TypedLine], habits: Habits) -> str:
    """Lines as one of Fountain, with the emphasis that they were set with."""
    return styles.marked(joined_words(lines, habits))


def _parenthetical(lines: Sequence[TypedLine], habits: Habits) -> str:
    """A parenthetical with the emphasis of words within it: marks around it all would make it dialogue (F11)."""
    text = _marked(lines, habits)
    return text if text[0] == "(" and text[-1] == ")" else _literal(lines, habits)


def _parts(lines: Sequence[TypedLine]) -> Iterator[list[TypedLine]]:
    """A speech's lines parted into parentheticals, blank lines and the dialogue between them.

    A line that begins with a parenthesis is a parenthetical up to the line that ends with the one closing it.
    """
    part: list[TypedLine] = []
    index = 0
    while index < len(lines):
        line = lines[index]
        length = _parenthetical_length(lines, index) if line.words else 1
        if length:
            if part:
                yield part
            part = []
            yield list(lines[index : index + length])
            index += length
        else:
            part.append(line)
            index += 1
    if part:
        yield part


_LONGEST_PARENTHETICAL = 12  # lines


def _parenthetical_length(lines: Sequence[TypedLine], first: int) -> int:
    """How many lines from here are one parenthetical; 0 for none."""
    if lines[first].text[0] != "(":
        return 0
    depth = 0
    for length, line in enumerate(lines[first : first + _LONGEST_PARENTHETICAL], 1):
        if not line.words or (length > 1 and abs(line.left - lines[first].left) > 2):
            return 0
        depth += line.text.count("(") - line.text.count(")")
        if depth <= 0:
            return length if line.text[-1] == ")" else 0
    return 0
