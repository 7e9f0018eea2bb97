"""Which lines of a typed text are one line that was broken to fit its measure, and which were begun anew.

A line that would have had room for the next one's first word was ended on purpose. One without that room went on,
unless the text is verse: where many lines end on purpose, and most begin with a capital letter, so may one that
happens to be full.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from screenplay.intake.verse import Verse
from screenplay.wrap import columns_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from screenplay.intake.sheets import TypedLine

_LEAST_GOING_ON = 20
_BY_HAND = 0.02  # of the lines that go on, those that do so with room to spare
_HAND = 8  # columns
_VERSE_SHARE = 0.15  # of the steps from line to line within speeches, those that begin anew
_LEAST_ANEW = 2  # steps within a speech that make it verse in a text that is not
_ROUNDING = 0.2  # columns: places in a PDF are not whole
_LETTERS = re.compile(r"[^\W\d_]")
# Short words that begin lines of verse and are no names (from memory, M).
_BEGINS_A_LINE = re.compile(
    r"(?i:and|but|or|nor|for|so|the|a|an|to|of|in|on|with|from|as|at|by|if|when|where|while|who|what|that|this|there|then"
    r"|till|until|though|yet|not|no|her|his|my|your|our|their|he|she|it|we|they|you)(?:['’]\w+)?,?"
)
_ENDS_SENTENCE = re.compile(r"[.!?…:]['\"”’)\]]*$")
_DASH_WITHIN = re.compile(r"\w(--+|–|—)\w")
_DASH_BESIDE = re.compile(r"\w(--+|–|—)$")


@dataclass(frozen=True, slots=True)
class Habits:
    """How a text breaks its lines: where a line ends at most, what is known of its lines if it is verse, whether words
    stand close on both sides of its long dashes, and whether a hand broke its lines, a little before they were full."""

    right: float
    verse: Verse | None = None
    close_dashes: bool = False
    by_hand: bool = False


def find_habits(paragraphs: Iterable[Sequence[TypedLine]], right: float) -> Habits:
    """The habits of lines of one kind, given as the runs in which they follow each other."""
    paragraphs = list(paragraphs)
    steps = [step for lines in paragraphs for step in pairwise(lines)]
    words = [word.text for before, _ in steps for word in before.words]
    within, beside = (sum(bool(dash.search(word)) for word in words) for dash in (_DASH_WITHIN, _DASH_BESIDE))
    habits = Habits(right, close_dashes=within >= beside)
    anew = sum(_begins_anew(before, after, right) for before, after in steps)
    if not steps or anew / len(steps) < _VERSE_SHARE:
        by_hand = _is_by_hand(right, steps)
        return replace(habits, right=right - _HAND * by_hand, by_hand=by_hand)
    verse = Verse()
    verse.count(_sure_lines(lines, habits) for lines in paragraphs)
    return replace(habits, verse=verse)


def goes_on(before: TypedLine, after: TypedLine, habits: Habits) -> bool:
    """Whether `after` may be the rest of `before`: for certain if it begins with a small letter."""
    if _is_full(before, after, habits.right):
        return True
    return habits.by_hand and _begins_small(after) and not _ENDS_SENTENCE.search(before.words[-1].text)


def rejoined(lines: Sequence[TypedLine], habits: Habits) -> list[list[TypedLine]]:
    """The lines as groups, each of them one line of the source."""
    groups: list[list[TypedLine]] = []
    is_song = habits.verse is None and _is_song(lines, habits)
    for piece in _pieces(lines, habits):
        if not groups or not goes_on(groups[-1][-1], piece[0], habits) or is_song:
            groups.append(piece)
        elif habits.verse is None or habits.verse.goes_on(groups[-1], piece):
            groups[-1] += piece
        else:
            groups.append(piece)
    return groups


def _pieces(lines: Sequence[TypedLine], habits: Habits) -> list[list[TypedLine]]:
    """The lines as groups that surely are of one line each, though some may be only a part of it."""
    groups: list[list[TypedLine]] = []
    for line in lines:
        if groups and goes_on(groups[-1][-1], line, habits) and not _begins_with_capital(line):
            groups[-1].append(line)
        else:
            groups.append([line])
    return groups


def _sure_lines(lines: Sequence[TypedLine], habits: Habits) -> list[list[TypedLine]]:
    """Those of the lines that are whole for certain, with the lines around them begun anew."""
    pieces = _pieces(lines, habits)
    is_joint = [goes_on(before[-1], after[0], habits) for before, after in pairwise(pieces)]
    around = zip([False, *is_joint], [*is_joint, False], strict=True) if pieces else ()
    return [piece for piece, (before, after) in zip(pieces, around, strict=True) if not before and not after]


def is_song(lines: Sequence[TypedLine], habits: Habits) -> bool:
    """Whether lines within a text that is no verse are: three of them or more, each begun anew with a capital."""
    return habits.verse is None and _is_song(lines, habits)


def _is_song(lines: Sequence[TypedLine], habits: Habits) -> bool:
    """Whether lines are begun anew with a capital more than once; one after a comma counts where one other is."""
    steps = list(pairwise(lines))
    anew = sum(_begins_anew(before, after, habits.right) for before, after in steps)
    unlikely = sum(_is_unlikely(before, after) for before, after in steps if _is_full(before, after, habits.right))
    return anew > 0 and anew + unlikely >= _LEAST_ANEW


def _is_unlikely(before: TypedLine, after: TypedLine) -> bool:
    """Whether a capital letter stands after a comma though it begins no name."""
    word = after.words[0].text
    return before.words[-1].text[-1] == "," and word[0].isupper() and bool(_BEGINS_A_LINE.fullmatch(word))


def _begins_anew(before: TypedLine, after: TypedLine, right: float) -> bool:
    return not _is_full(before, after, right) and _begins_with_capital(after)


def text_of(lines: Sequence[TypedLine], habits: Habits) -> str:
    """Lines as one: a space where each was broken, none after a dash that the break came after, nor in East Asian
    text."""
    parts = [lines[0].text]
    for before, line in pairwise(lines):
        parts += ["" if _is_close(before, line, habits) else " ", line.text]
    return "".join(parts)


def _is_close(before: TypedLine, after: TypedLine, habits: Habits) -> bool:
    end, start = before.words[-1].text, after.words[0].text
    if columns_of(end[-1]) == 2 and columns_of(start[0]) == 2:
        return True
    if len(before.words) == 1 and before.right >= habits.right and len(end) + len(start) > habits.right - before.left:
        return True
    if len(end) < 2 or not start[0].isalnum() or not (end[-2].isalnum() or end[-2] == end[-1]):
        return False
    return end[-1] == "-" if end[-2].isalnum() else end[-1] in "-–—" and habits.close_dashes


def _is_full(before: TypedLine, after: TypedLine, right: float) -> bool:
    """Whether a line has no room for the next one's first word."""
    word = after.words[0].text
    first = columns_of(word[0])
    if first == 2:
        return before.right + first > right + _ROUNDING
    return before.right + 1 + after.first_width > right + _ROUNDING


def _is_by_hand(right: float, steps: Sequence[tuple[TypedLine, TypedLine]]) -> bool:
    """Whether lines were broken a little before they were full.

    It shows where more of the lines that go on in small letters had just enough room than had much of it.
    """
    spare = [right - before.right - 1 - after.first_width for before, after in steps if _begins_small(after)]
    near = sum(0 <= columns < _HAND for columns in spare)
    far = sum(_HAND <= columns < 3 * _HAND for columns in spare)
    return len(spare) >= _LEAST_GOING_ON and near > max(far, _BY_HAND * len(spare))


def _begins_small(line: TypedLine) -> bool:
    return line.words[0].text[0].islower()


def _begins_with_capital(line: TypedLine) -> bool:
    """Whether the first letter of a line is not a small one."""
    for word in line.words[:2]:
        if letter := _LETTERS.search(word.text[:40]):
            return not letter[0].islower()
    return False
