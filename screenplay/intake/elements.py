"""The elements of a typed script, told by where their lines stand, with breaks of pages undone.

Beside what the places say, a cue is upper case, a heading begins with a setting or has its number in both margins, and
a transition ends to the right; what is left is action.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from screenplay.fountain.cues import is_upper, name_and_extensions, same_name
from screenplay.fountain.headings import SETTING
from screenplay.intake.places import LEAST_INDENT, NEAR
from screenplay.intake.rejoining import goes_on
from screenplay.intake.sheets import WIDE_GAP, TypedLine
from screenplay.model import Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from screenplay.intake.places import Block, Places
    from screenplay.intake.rejoining import Habits

_MORE = re.compile(r"\(?(?i:more)\)?")
_CONTINUED = re.compile(r"(?i:cont(?:inued|['’]?d|inuing|\.)?)\.?")
_TRANSITION = re.compile(r"[^a-z]*(?:TO:|OUT\.?|IN:|OUT:|BLACK\.?|BLACK:|WHITE\.?)")
_LONGEST_CUE = 60
_LEAST_LINES = 2  # of a broken action, on each side of the break
_MOST_SPARE = 2  # rows that a sheet may lack and still be full
_EMPTY = TypedLine(0)


@dataclass(slots=True)
class Found:
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
class Reading:
    """Elements found so far, block by block.

    `action` has the habits of lines of action. `heading_gap` is the number of blank lines that only headings have
    before them, 0 where nothing tells. `spare` is how many rows each sheet has less than the fullest.
    """

    places: Places
    action: Habits
    heading_gap: int
    spare: Mapping[int, int]
    found: list[Found] = field(default_factory=list)

    def read(self, blocks: Sequence[Block]) -> list[Found]:
        for block in blocks:
            self._read_block(block)
        return self.found

    def _read_block(self, block: Block) -> None:
        if side := self._side_going_on(block):
            self._speech(block, block.first, block.lines[1:], side)
        elif sides := two_sides(block):
            self._pair(block, *sides)
        elif self._is_speech(block):
            self._speech(block, block.first, block.lines[1:])
        elif self._is_heading(block):
            self._heading(block)
        elif self._is_transition(block):
            self.found.append(Found(Kind.TRANSITION, block.page, list(block.lines)))
        elif self._is_centered(block):
            self._centered(block)
        elif self._stands_as_dialogue(block):
            self._dialogue_without_cue(block)
        else:
            self._action(block, block.lines)

    @property
    def _last(self) -> Found | None:
        return self.found[-1] if self.found else None

    def _is_speech(self, block: Block) -> bool:
        places, cue = self.places, block.first
        if places.dialogue is None or places.cue is None or len(block.lines) < 2 or cue.scene:
            return False
        under = block.lines[1]
        if (
            under.left < places.dialogue - NEAR
            or cue.left - places.dialogue < LEAST_INDENT
            or len(cue.text) > _LONGEST_CUE
        ):
            return False
        if _MORE.fullmatch(cue.text) or abs(under.left - cue.left) <= NEAR:
            return False
        return is_upper(cue.text) or abs(cue.left - places.cue) <= NEAR

    def _speech(self, block: Block, cue: TypedLine, lines: Sequence[TypedLine], side: Found | None = None) -> None:
        said, more = _without_more(lines)
        last = side or self._last
        if last and last.cue and _name(cue) == last.name and self._is_said_again(block, cue, last):
            last.lines += said
            last.goes_on = more
        else:
            self.found.append(Found(Kind.CHARACTER, block.page, said, cue, goes_on=more))

    def _is_said_again(self, block: Block, cue: TypedLine, last: Found) -> bool:
        """Whether a cue repeats the one of a speech that a page's end has broken."""
        return last.goes_on or (block.begins_sheet and is_continued(cue))

    def _pair(self, block: Block, left: list[TypedLine], right: list[TypedLine]) -> None:
        before = self.found[-2:]
        self._speech(block, left[0], left[1:], before[0] if _is_pair(before) else None)
        began = len(self.found)
        self._speech(block, right[0], right[1:], before[1] if _is_pair(before) else None)
        if len(self.found) > began:
            self.found[-1].dual = True
            for side in self.found[-2:]:
                side.beside = True

    def _side_going_on(self, block: Block) -> Found | None:
        """The one of two speeches side by side that goes on by itself at the top of a sheet."""
        if not (block.begins_sheet and _is_pair(self.found[-2:]) and is_continued(block.first)):
            return None
        name = _name(block.first)
        return next((side for side in self.found[-2:] if side.goes_on and side.name == name), None)

    def _is_heading(self, block: Block) -> bool:
        first = block.first
        if first.scene:
            return True
        if abs(first.left - self.places.action) > NEAR:
            return False
        return bool(SETTING.match(first.text)) or self._is_set_off(block)

    def _is_set_off(self, block: Block) -> bool:
        """Whether an upper-case line has the blank lines before it that only headings have here."""
        is_alone = len(block.lines) == 1 or block.lines[1].text.isupper()
        return (
            0 < self.heading_gap <= block.gap and is_alone and is_upper(block.first.text) and not _is_transition(block)
        )

    def _heading(self, block: Block) -> None:
        lines = [block.first]
        for line in block.lines[1:]:
            if line.left > self.places.action + NEAR or line.scene or not goes_on(lines[-1], line, self.action):
                break
            lines.append(line)
        self.found.append(Found(Kind.SCENE_HEADING, block.page, lines))
        if len(block.lines) > len(lines):
            self._action(block, block.lines[len(lines) :])

    def _is_transition(self, block: Block) -> bool:
        places, line = self.places, block.first
        if len(block.lines) > 1 or line.left < places.action + LEAST_INDENT:
            return False
        if self._is_in_the_middle(line):
            return bool(is_upper(line.text) and line.text.endswith("TO:"))
        ends_right = line.right >= places.right - 2 * NEAR and line.left > places.middle
        return is_upper(line.text) and (_is_transition(block) or ends_right or line.left > places.middle + 10)

    def _is_in_the_middle(self, line: TypedLine) -> bool:
        return abs((line.left + line.right) / 2 - self.places.middle) <= NEAR

    def _is_centered(self, block: Block) -> bool:
        edge = self.places.action + LEAST_INDENT
        return all(line.left >= edge and self._is_in_the_middle(line) for line in block.lines)

    def _centered(self, block: Block) -> None:
        found = Found(Kind.CENTERED, block.page, list(block.lines))
        found.doubts.append((block.first, "It stands in the middle of the lines, so it was read as centered."))
        self.found.append(found)

    def _stands_as_dialogue(self, block: Block) -> bool:
        dialogue = self.places.dialogue
        return dialogue is not None and all(self._is_said(line, dialogue) for line in block.lines)

    def _is_said(self, line: TypedLine, dialogue: float) -> bool:
        if abs(line.left - dialogue) <= NEAR:
            return True
        parenthetical = self.places.parenthetical
        return parenthetical is not None and abs(line.left - parenthetical) <= NEAR and line.text[0] == "("

    def _dialogue_without_cue(self, block: Block) -> None:
        last = self._last
        if last and last.cue:
            said, more = _without_more(block.lines)
            if not block.begins_sheet and not last.goes_on:
                last.lines.append(_EMPTY)
                last.doubts.append(
                    (block.first, "It stands like speech without a cue: read as going on after a blank line.")
                )
            last.lines += said
            last.goes_on = more
        else:
            found = Found(Kind.LYRIC, block.page, list(block.lines))
            found.doubts.append((block.first, "It stands like speech, but nobody’s cue is above it: read as a lyric."))
            self.found.append(found)

    def _action(self, block: Block, lines: Sequence[TypedLine]) -> None:
        last = self._last
        if block.begins_sheet and last and last.kind is Kind.ACTION and self._goes_on_from(last, block):
            last.lines += lines
        else:
            self.found.append(Found(Kind.ACTION, block.page, list(lines)))

    def _goes_on_from(self, last: Found, block: Block) -> bool:
        """Whether an action at the top of a sheet is the rest of the one at the foot of the sheet before.

        A page that breaks an action is full, but for one row where only two were left to go on with (C).
        """
        before, after = last.lines[-1], block.first
        spare = self.spare.get(block.page - 1, 0)
        if len(last.lines) < _LEAST_LINES or len(block.lines) < _LEAST_LINES or spare > _MOST_SPARE:
            return False
        if after.left > self.places.action + NEAR or not goes_on(before, after, self.action):
            return False
        if after.text[0].islower() or before.text[-1] not in '.!?:”"':
            return True
        if spare > (len(block.lines) == _LEAST_LINES):
            return False
        last.doubts.append((after, "A page ends before it, and a sentence: read as going on in the same paragraph."))
        return True


def is_continued(cue: TypedLine) -> bool:
    """Whether a cue says that its speech goes on."""
    return any(_CONTINUED.fullmatch(extension) for extension in name_and_extensions(cue.text)[1])


def _is_transition(block: Block) -> bool:
    return len(block.lines) == 1 and bool(_TRANSITION.fullmatch(block.first.text))


def _is_pair(found: Sequence[Found]) -> bool:
    return len(found) == 2 and found[1].dual


def _without_more(lines: Sequence[TypedLine]) -> tuple[list[TypedLine], bool]:
    """What is said, and whether (MORE) stands under it."""
    if lines and _MORE.fullmatch(lines[-1].text):
        return list(lines[:-1]), True
    return list(lines), False


def two_sides(block: Block) -> tuple[list[TypedLine], list[TypedLine]] | None:
    """The lines of two speeches side by side, each with its cue first; None where the block is no such pair.

    Both begin in the block's first line with upper-case cues, and a gutter runs between them down the block.
    """
    words = block.first.words
    if len(block.lines) < 2 or block.first.scene or not any(word.gap >= WIDE_GAP for word in words):
        return None
    cut = next(index for index, word in enumerate(words) if word.gap >= WIDE_GAP)
    cues = block.first.only(0, cut), block.first.only(cut)
    if not all(is_upper(cue.text) and not any(word.gap >= WIDE_GAP for word in cue.words) for cue in cues):
        return None
    gutter = _gutter(block, cues[0].right, cues[1].left)
    if gutter is None:
        return None
    sides = [list(side) for side in zip(*_parted(block, gutter), strict=True)]
    left, right = ([line for line in side if line.words] for side in sides)
    return (left, right) if len(left) > 1 and len(right) > 1 else None


def _gutter(block: Block, left: float, right: float) -> float | None:
    """A column between the two that no word of the block crosses, with a wide gap around it in every line."""
    for line in block.lines[1:]:
        for before, word in zip((None, *line.words), line.words, strict=False):
            if word.left >= right + NEAR:
                break
            if word.left > left and (before is None or word.gap >= WIDE_GAP):
                right = min(right, word.left)
    crosses = any(word.left < right - NEAR < word.right for line in block.lines for word in line.words)
    return None if crosses or right <= left else right - NEAR


def _parted(block: Block, gutter: float) -> Iterator[tuple[TypedLine, TypedLine]]:
    for line in block.lines:
        cut = sum(word.right <= gutter + NEAR / 2 for word in line.words)
        yield line.only(0, cut), line.only(cut)
