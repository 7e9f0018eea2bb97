"""The elements of a typed script, told by where their lines stand, with breaks of pages undone.

Beside what the columns say, a cue is upper case, a heading begins with a setting or has its number in both margins, and
a transition ends to the right; what is left is action.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from screenplay.fountain import SETTING, is_upper, name_and_extensions, same_name
from screenplay.intake.element_columns import LEAST_INDENT, NEAR_IN_COLUMNS
from screenplay.intake.rejoining import goes_on
from screenplay.intake.side_by_side import speeches_apart
from screenplay.intake.typed_pages import TypedLine
from screenplay.model import Kind

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from screenplay.intake.element_columns import ElementColumns, TypedBlock
    from screenplay.intake.rejoining import Habits

_MORE = re.compile(r"\(?(?i:more)\)?")
_CONTINUED = re.compile(r"(?i:cont(?:inued|['’]?d|inuing|\.)?)\.?")
_TRANSITION = re.compile(r"[^a-z]*(?:TO:|OUT\.?|IN:|OUT:|BLACK\.?|BLACK:|WHITE\.?)")
_LONGEST_CUE = 60
_LEAST_LINES = 2  # of a broken action, on each side of the break
_ENDS = '.!?:…”"'  # of a sentence, and of what is said in one
_MOST_SPARE = 2  # rows that a page may lack and still be full
_EMPTY = TypedLine(0)


@dataclass(slots=True)
class TypedElement:
    """An element as it is being put together. `lines` are a speech's without its cue; an empty one among them is a
    blank line in it. `goes_on` says that (MORE) stood under them. `beside` is for each of two speeches side by side,
    `dual` for the second."""

    kind: Kind
    page: int
    lines: list[TypedLine]
    cue: TypedLine | None = None
    dual: bool = False
    beside: bool = False
    goes_on: bool = False
    doubts: list[tuple[TypedLine, str]] = field(default_factory=list)

    @property
    def name(self) -> str:
        return _name(self.cue) if self.cue else ""


def _name(cue: TypedLine) -> str:
    """Whose cue it is, spelled as names are compared."""
    return same_name(name_and_extensions(cue.text)[0])


@dataclass(slots=True)
class ElementReader:
    """Elements found so far, block by block.

    `action` has the habits of lines of action. `heading_gap` is the number of blank lines that only headings have
    before them, 0 where nothing tells. `spare` is how many rows each page has less than the fullest.
    """

    columns: ElementColumns
    action: Habits
    heading_gap: int
    spare: Mapping[int, int]
    found: list[TypedElement] = field(default_factory=list)

    def read(self, blocks: Sequence[TypedBlock]) -> list[TypedElement]:
        for block in blocks:
            self._read_block(block)
        return self.found

    def _read_block(self, block: TypedBlock) -> None:
        if side := self._side_going_on(block):
            self._speech(block, block.first, block.lines[1:], side)
        elif speeches := speeches_apart(block):
            self._pair(block, *speeches)
        elif self._is_speech(block):
            self._speech(block, block.first, block.lines[1:])
        elif self._is_heading(block):
            self._heading(block)
        elif self._is_transition(block):
            self.found.append(TypedElement(Kind.TRANSITION, block.page, list(block.lines)))
        elif self._is_centered(block):
            self._centered(block)
        elif self._stands_as_dialogue(block):
            self._dialogue_without_cue(block)
        else:
            self._action(block, block.lines)

    @property
    def _last(self) -> TypedElement | None:
        return self.found[-1] if self.found else None

    def _is_speech(self, block: TypedBlock) -> bool:
        columns, cue = self.columns, block.first
        if columns.dialogue is None or columns.cue is None or len(block.lines) < 2 or cue.scene:
            return False
        under = block.lines[1]
        if (
            under.left < columns.dialogue - NEAR_IN_COLUMNS
            or cue.left - columns.dialogue < LEAST_INDENT
            or len(cue.text) > _LONGEST_CUE
        ):
            return False
        if _MORE.fullmatch(cue.text) or abs(under.left - cue.left) <= NEAR_IN_COLUMNS:
            return False
        return is_upper(cue.text) or abs(cue.left - columns.cue) <= NEAR_IN_COLUMNS

    def _speech(
        self, block: TypedBlock, cue: TypedLine, lines: Sequence[TypedLine], side: TypedElement | None = None
    ) -> None:
        said, more = _without_more(lines)
        last = side or self._last
        if last and last.cue and _name(cue) == last.name and self._is_said_again(block, cue, last):
            last.lines += said
            last.goes_on = more
        else:
            self.found.append(TypedElement(Kind.CHARACTER, block.page, said, cue, goes_on=more))

    def _is_said_again(self, block: TypedBlock, cue: TypedLine, last: TypedElement) -> bool:
        """Whether a cue repeats the one of a speech that a page's end has broken."""
        return last.goes_on or (block.begins_page and is_continued(cue))

    def _pair(self, block: TypedBlock, left: list[TypedLine], right: list[TypedLine]) -> None:
        before = self.found[-2:]
        self._speech(block, left[0], left[1:], before[0] if _is_pair(before) else None)
        began = len(self.found)
        self._speech(block, right[0], right[1:], before[1] if _is_pair(before) else None)
        if len(self.found) > began:
            self.found[-1].dual = True
            for side in self.found[-2:]:
                side.beside = True

    def _side_going_on(self, block: TypedBlock) -> TypedElement | None:
        """The one of two speeches side by side that goes on by itself at the top of a page."""
        if not (block.begins_page and _is_pair(self.found[-2:]) and is_continued(block.first)):
            return None
        name = _name(block.first)
        return next((side for side in self.found[-2:] if side.goes_on and side.name == name), None)

    def _is_heading(self, block: TypedBlock) -> bool:
        first = block.first
        if first.scene:
            return True
        if abs(first.left - self.columns.action) > NEAR_IN_COLUMNS:
            return False
        return bool(SETTING.match(first.text)) or self._is_set_off(block)

    def _is_set_off(self, block: TypedBlock) -> bool:
        """Whether an upper-case line has the blank lines before it that only headings have here."""
        is_alone = len(block.lines) == 1 or block.lines[1].text.isupper()
        return (
            0 < self.heading_gap <= block.gap and is_alone and is_upper(block.first.text) and not _is_transition(block)
        )

    def _heading(self, block: TypedBlock) -> None:
        lines = [block.first]
        for line in block.lines[1:]:
            if (
                line.left > self.columns.action + NEAR_IN_COLUMNS
                or line.scene
                or not goes_on(lines[-1], line, self.action)
            ):
                break
            lines.append(line)
        self.found.append(TypedElement(Kind.SCENE_HEADING, block.page, lines))
        if len(block.lines) > len(lines):
            self._action(block, block.lines[len(lines) :])

    def _is_transition(self, block: TypedBlock) -> bool:
        columns, line = self.columns, block.first
        if len(block.lines) > 1 or line.left < columns.action + LEAST_INDENT:
            return False
        if self._is_in_the_middle(line):
            return bool(is_upper(line.text) and line.text.endswith("TO:"))
        ends_right = line.right >= columns.right - 2 * NEAR_IN_COLUMNS and line.left > columns.middle
        return is_upper(line.text) and (_is_transition(block) or ends_right or line.left > columns.middle + 10)

    def _is_in_the_middle(self, line: TypedLine) -> bool:
        return abs((line.left + line.right) / 2 - self.columns.middle) <= NEAR_IN_COLUMNS

    def _is_centered(self, block: TypedBlock) -> bool:
        edge = self.columns.action + LEAST_INDENT
        return all(line.left >= edge and self._is_in_the_middle(line) for line in block.lines)

    def _centered(self, block: TypedBlock) -> None:
        found = TypedElement(Kind.CENTERED, block.page, list(block.lines))
        found.doubts.append((block.first, "It stands in the middle of the lines, so it was read as centered."))
        self.found.append(found)

    def _stands_as_dialogue(self, block: TypedBlock) -> bool:
        dialogue = self.columns.dialogue
        return dialogue is not None and all(self._is_said(line, dialogue) for line in block.lines)

    def _is_said(self, line: TypedLine, dialogue: float) -> bool:
        if abs(line.left - dialogue) <= NEAR_IN_COLUMNS:
            return True
        parenthetical = self.columns.parenthetical
        return parenthetical is not None and abs(line.left - parenthetical) <= NEAR_IN_COLUMNS and line.text[0] == "("

    def _dialogue_without_cue(self, block: TypedBlock) -> None:
        last = self._last
        if last and last.cue:
            said, more = _without_more(block.lines)
            if not block.begins_page and not last.goes_on:
                last.lines.append(_EMPTY)
                last.doubts.append(
                    (block.first, "It stands like speech without a cue: read as going on after a blank line.")
                )
            last.lines += said
            last.goes_on = more
        else:
            found = TypedElement(Kind.LYRIC, block.page, list(block.lines))
            found.doubts.append((block.first, "It stands like speech, but nobody’s cue is above it: read as a lyric."))
            self.found.append(found)

    def _action(self, block: TypedBlock, lines: Sequence[TypedLine]) -> None:
        last = self._last
        if block.begins_page and last and last.kind is Kind.ACTION and self._goes_on_from(last, block):
            last.lines += lines
        else:
            self.found.append(TypedElement(Kind.ACTION, block.page, list(lines)))

    def _goes_on_from(self, last: TypedElement, block: TypedBlock) -> bool:
        """Whether an action at the top of a page is the rest of the one at the foot of the page before.

        A page that breaks an action is full, but for one row where only two were left to go on with (C). A browser that
        prints pages too long for its paper breaks them anywhere; a sentence that goes on is one all the same.
        """
        before, after = last.lines[-1], block.first
        if after.left > self.columns.action + NEAR_IN_COLUMNS or not goes_on(before, after, self.action):
            return False
        if after.text[0].islower() and before.text[-1] not in _ENDS:
            return True
        spare = self.spare.get(block.page - 1, 0)
        if len(last.lines) < _LEAST_LINES or len(block.lines) < _LEAST_LINES or spare > _MOST_SPARE:
            return False
        if after.text[0].islower() or before.text[-1] not in _ENDS:
            return True
        if spare > (len(block.lines) == _LEAST_LINES):
            return False
        last.doubts.append((after, "A page ends before it, and a sentence: read as going on in the same paragraph."))
        return True


def is_continued(cue: TypedLine) -> bool:
    """Whether a cue says that its speech goes on."""
    return any(_CONTINUED.fullmatch(extension) for extension in name_and_extensions(cue.text)[1])


def _is_transition(block: TypedBlock) -> bool:
    return len(block.lines) == 1 and bool(_TRANSITION.fullmatch(block.first.text))


def _is_pair(found: Sequence[TypedElement]) -> bool:
    return len(found) == 2 and found[1].dual


def _without_more(lines: Sequence[TypedLine]) -> tuple[list[TypedLine], bool]:
    """What is said, and whether (MORE) stands under it."""
    if lines and _MORE.fullmatch(lines[-1].text):
        return list(lines[:-1]), True
    return list(lines), False
