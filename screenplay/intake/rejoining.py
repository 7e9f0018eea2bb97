"""Which lines of a typed text are one line that was broken to fit its measure, and which were begun anew.

A line that would have had room for the next one's first word was ended on purpose. One without that room went on,
unless the text is verse: where many lines of a kind end on purpose, each of them begins with a capital letter, and
then so does a line that happens to have been full before.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from screenplay.wrap import columns_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from screenplay.intake.sheets import TypedLine

_LEAST_GOING_ON = 20
_ALL_BUT_FEW = 0.01
_VERSE_SHARE = 0.15  # of the steps from line to line within speeches, those that begin anew
_LETTERS = re.compile(r"[^\W\d_]")
_ENDS_SENTENCE = re.compile(r"[.!?…:;,]['\"”’)\]]*$|[-–—]$")
_DASH_WITHIN = re.compile(r"\w(--+|–|—)\w")
_DASH_BESIDE = re.compile(r"\w(--+|–|—)$")


@dataclass(frozen=True, slots=True)
class Habits:
    """How a text breaks its lines: where a line ends at most, whether it is verse, the words that it writes with a
    capital letter in the middle of a line, and whether words stand close on both sides of its long dashes."""

    right: float
    is_verse: bool = False
    capitals: frozenset[str] = frozenset()
    close_dashes: bool = False


def find_habits(paragraphs: Iterable[Sequence[TypedLine]], right: float) -> Habits:
    """The habits of lines of one kind, given as the runs in which they follow each other."""
    steps = [step for lines in paragraphs for step in pairwise(lines)]
    right = _softened(right, steps)
    anew = sum(not _is_full(before, after, right) and _begins_with_capital(after) for before, after in steps)
    words = [word.text for before, _ in steps for word in before.words]
    within, beside = (sum(bool(dash.search(word)) for word in words) for dash in (_DASH_WITHIN, _DASH_BESIDE))
    return Habits(
        right=right,
        is_verse=len(steps) > 0 and anew / len(steps) >= _VERSE_SHARE,
        capitals=_capitals(line for step in steps for line in step),
        close_dashes=within >= beside,
    )


def goes_on(before: TypedLine, after: TypedLine, habits: Habits, *, in_verse: bool = False) -> bool:
    """Whether `after` is the rest of `before`; `in_verse` says that the lines around them are verse."""
    if not _is_full(before, after, habits.right):
        return False
    if not (habits.is_verse and in_verse) or not _begins_with_capital(after):
        return True
    return _bare(after.words[0].text) in habits.capitals and not _ENDS_SENTENCE.search(before.words[-1].text)


def rejoined(lines: Sequence[TypedLine], habits: Habits) -> list[list[TypedLine]]:
    """The lines as groups, each of them one line of the source."""
    in_verse = habits.is_verse and _is_in_verse(lines, habits)
    groups: list[list[TypedLine]] = []
    for line in lines:
        if groups and goes_on(groups[-1][-1], line, habits, in_verse=in_verse):
            groups[-1].append(line)
        else:
            groups.append([line])
    return groups


def _is_in_verse(lines: Sequence[TypedLine], habits: Habits) -> bool:
    """Whether some of these lines begin anew with a capital, or they are too few to tell."""
    steps = list(pairwise(lines))
    anew = sum(not _is_full(before, after, habits.right) for before, after in steps)
    return anew > 0 or len(steps) <= 2


def text_of(lines: Sequence[TypedLine], habits: Habits) -> str:
    """Lines as one: a space where each was broken, none after a dash that the break came after, nor in East Asian
    text."""
    text = lines[0].text
    for before, line in pairwise(lines):
        text += ("" if _is_close(before, line, habits) else " ") + line.text
    return text


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


_ROUNDING = 0.2  # columns: places in a PDF are not whole


def _softened(right: float, steps: Sequence[tuple[TypedLine, TypedLine]]) -> float:
    """The edge drawn in so far that hardly a line that surely goes on, in small letters, seems to have had room."""
    needed = sorted(
        before.right + 1 + after.first_width for before, after in steps if after.words[0].text[0].islower()
    )
    if len(needed) < _LEAST_GOING_ON:
        return right
    return min(right, needed[int(len(needed) * _ALL_BUT_FEW)] - 2 * _ROUNDING)


def _begins_with_capital(line: TypedLine) -> bool:
    """Whether the first letter of a line is not a small one."""
    for word in line.words[:2]:
        if letter := _LETTERS.search(word.text[:40]):
            return not letter[0].islower()
    return False


def _capitals(lines: Iterable[TypedLine]) -> frozenset[str]:
    """The words that have a capital letter more often than not, after a word that ends no sentence."""
    capital: Counter[str] = Counter()
    small: Counter[str] = Counter()
    for line in lines:
        for before, word in pairwise(line.words):
            bare = _bare(word.text)
            if not _ENDS_SENTENCE.search(before.text[-4:]):
                (capital if bare[:1].isupper() else small)[bare] += 1
    return frozenset(word for word, count in capital.items() if count > small[word.lower()])


def _bare(word: str) -> str:
    return word.strip(".,;:!?'\"“”‘’()[]…-–—")[:40]
