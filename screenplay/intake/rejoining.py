"""Which lines of a typed text are one line that was broken to fit its measure, and which were begun anew.

A line that would have had room for the next one's first word was ended on purpose. One without that room went on,
unless the text is verse: where many lines end on purpose, and most begin with a capital letter, so may one that
happens to be full.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import median
from typing import TYPE_CHECKING

from screenplay.intake.verse import Verse, steps_within
from screenplay.page import columns_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from screenplay.intake.typed_pages import TypedLine, TypedWord

_LEAST_GOING_ON = 20
_BY_HAND = 0.02  # of the lines that go on, those that do so with room to spare
_HAND = 8  # columns
_VERSE_SHARE = 0.15  # of the steps from line to line within speeches, those that begin anew
_ROUNDS = 3  # of counting; more change hardly a line
_TAIL = 0.6  # of the measure
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
    stand close on both sides of its long dashes, and whether a hand broke its lines, a little before they were full.
    `breaks_prose` says that small letters begin lines of their own in verse, and `space` is the width between two
    words, in columns: measured where there is verse, which has many lines to show its measure; elsewhere 1, with some
    slack in it where letters differ in width."""

    right: float
    space: float = 1.0
    verse: Verse | None = None
    close_dashes: bool = False
    by_hand: bool = False
    breaks_prose: bool = False


def find_habits(paragraphs: Iterable[Sequence[TypedLine]], right: float) -> Habits:
    """The habits of lines of one kind, given as the runs in which they follow each other."""
    paragraphs = list(paragraphs)
    steps = [step for lines in paragraphs for step in pairwise(lines)]
    words = [word.text for before, _ in steps for word in before.words]
    within, beside = (sum(bool(dash.search(word)) for word in words) for dash in (_DASH_WITHIN, _DASH_BESIDE))
    habits = Habits(right, close_dashes=within >= beside)
    anew = sum(_begins_anew(before, after, habits) for before, after in steps)
    if not steps or anew / len(steps) < _VERSE_SHARE:
        by_hand = _is_by_hand(habits, steps)
        return replace(habits, right=right - _HAND * by_hand, by_hand=by_hand)
    habits = replace(habits, space=_space(paragraphs))
    habits = replace(habits, breaks_prose=_breaks_prose(paragraphs, habits))
    return replace(habits, verse=_verse(paragraphs, habits))


def _verse(paragraphs: Sequence[Sequence[TypedLine]], habits: Habits) -> Verse:
    """What is known of the lines of verse: counted in them as they seem to be, then as that count parts them."""
    pieces = [_pieces(lines, habits) for lines in paragraphs]
    within = steps_within(line for lines in paragraphs for line in lines)
    verse = Verse(inside=within.copy())
    verse.count(_with_tails(paragraphs, habits) if habits.breaks_prose else pieces)
    for _ in range(_ROUNDS):
        known, verse = replace(habits, verse=verse), Verse(inside=within.copy())
        verse.count(_joined(lines, known) for lines in pieces)
    return verse


def _breaks_prose(paragraphs: Sequence[Sequence[TypedLine]], habits: Habits) -> bool:
    """Whether prose between the verse was broken on purpose too, in lines that this measure mostly has room for.

    It shows in lines that end with room to spare before a small letter. Where the measure is narrower than most lines
    are long, a full line goes on before a small letter all the same.
    """
    steps = [step for lines in paragraphs for step in pairwise(lines) if _begins_small(step[1])]
    fit = sum(not _is_full(before, after, habits) for before, after in steps)
    wholes = [piece for lines in paragraphs for piece in _pieces(lines, habits)]
    long = sum(len(piece) > 1 for piece in wholes)
    return fit > _VERSE_SHARE * len(steps) and long * 2 < len(wholes)


def _with_tails(paragraphs: Sequence[Sequence[TypedLine]], habits: Habits) -> list[list[list[TypedLine]]]:
    """The lines as groups, each a full line with what is short under it and begins small.

    Prose that was broken on purpose ends short too, in the last line of what is said. So where a greater share of the
    short lines is last than of the others, the last ones are taken for lines of their own.
    """
    tails = [[_is_tail(*step, habits) for step in pairwise(lines)] for lines in paragraphs]
    short = sum(map(sum, tails))
    last = sum(are_tails[-1] for are_tails in tails if are_tails)
    others = sum(map(len, paragraphs)) - short
    if last * others > short * len(paragraphs):
        tails = [[*are_tails[:-1], False] if are_tails else [] for are_tails in tails]
    return [_grouped(lines, are_tails) for lines, are_tails in zip(paragraphs, tails, strict=True)]


def _is_tail(before: TypedLine, line: TypedLine, habits: Habits) -> bool:
    is_short = line.right - line.left < _TAIL * (habits.right - line.left)
    return is_short and not _begins_with_capital(line) and goes_on(before, line, habits)


def _grouped(lines: Sequence[TypedLine], belong: Sequence[bool]) -> list[list[TypedLine]]:
    """The lines as groups; for each but the first, whether it belongs to the one before it."""
    groups = [[line] for line in lines[:1]]
    for line, belongs in zip(lines[1:], belong, strict=True):
        if belongs:
            groups[-1].append(line)
        else:
            groups.append([line])
    return groups


def _space(paragraphs: Iterable[Sequence[TypedLine]]) -> float:
    """The usual width between two words, in columns: 1 where letters are all of one width."""
    gaps = [
        after.left - before.right
        for lines in paragraphs
        for line in lines
        for before, after in pairwise(line.words)
        if after.gap == 1
    ]
    return median(gaps) if gaps else 1.0


def goes_on(before: TypedLine, after: TypedLine, habits: Habits) -> bool:
    """Whether `after` may be the rest of `before`: for certain if it begins with a small letter."""
    if _is_full(before, after, habits):
        return True
    return habits.by_hand and _begins_small(after) and not _ENDS_SENTENCE.search(before.words[-1].text)


def rejoined(lines: Sequence[TypedLine], habits: Habits) -> list[list[TypedLine]]:
    """The lines as groups, each of them one line of the source."""
    pieces = _pieces(lines, habits)
    return pieces if habits.verse is None and _is_song(lines, habits) else _joined(pieces, habits)


def _joined(pieces: Sequence[Sequence[TypedLine]], habits: Habits) -> list[list[TypedLine]]:
    """Pieces of lines as whole ones."""
    groups: list[list[TypedLine]] = []
    for piece in pieces:
        if not groups or not goes_on(groups[-1][-1], piece[0], habits):
            groups.append(list(piece))
        elif habits.verse is None or habits.verse.goes_on(groups[-1], piece):
            groups[-1] += piece
        else:
            groups.append(list(piece))
    return groups


def _pieces(lines: Sequence[TypedLine], habits: Habits) -> list[list[TypedLine]]:
    """The lines as groups that are of one line each, for certain or almost, though some may be only a part of it."""
    if habits.breaks_prose:
        return [[line] for line in lines]
    groups: list[list[TypedLine]] = []
    for line in lines:
        if groups and goes_on(groups[-1][-1], line, habits) and not _begins_with_capital(line):
            groups[-1].append(line)
        else:
            groups.append([line])
    return groups


def is_song(lines: Sequence[TypedLine], habits: Habits) -> bool:
    """Whether lines within a text that is no verse are: three of them or more, each begun anew with a capital."""
    return habits.verse is None and _is_song(lines, habits)


def _is_song(lines: Sequence[TypedLine], habits: Habits) -> bool:
    """Whether lines are begun anew with a capital more than once; one after a comma counts where one other is."""
    steps = list(pairwise(lines))
    anew = sum(_begins_anew(before, after, habits) for before, after in steps)
    unlikely = sum(_is_unlikely(before, after) for before, after in steps if _is_full(before, after, habits))
    return anew > 0 and anew + unlikely >= _LEAST_ANEW


def _is_unlikely(before: TypedLine, after: TypedLine) -> bool:
    """Whether a capital letter stands after a comma though it begins no name."""
    word = after.words[0].text
    return before.words[-1].text[-1] == "," and word[0].isupper() and bool(_BEGINS_A_LINE.fullmatch(word))


def _begins_anew(before: TypedLine, after: TypedLine, habits: Habits) -> bool:
    return not _is_full(before, after, habits) and _begins_with_capital(after)


def joined_text(lines: Sequence[TypedLine], habits: Habits) -> str:
    """Lines as one: a space where each was broken, none after a dash that the break came after, nor in East Asian
    text."""
    return "".join(" " * word.gap + word.text for word in joined_words(lines, habits))


def joined_words(lines: Sequence[TypedLine], habits: Habits) -> list[TypedWord]:
    """The words of lines as those of one, `gap` being the number of spaces before each."""
    words = list(lines[0].words)
    for before, line in pairwise(lines):
        words.append(line.words[0]._replace(gap=0 if _is_close(before, line, habits) else 1))
        words += line.words[1:]
    return words


def _is_close(before: TypedLine, after: TypedLine, habits: Habits) -> bool:
    end, start = before.words[-1].text, after.words[0].text
    if columns_of(end[-1]) == 2 and columns_of(start[0]) == 2:
        return True
    if len(before.words) == 1 and before.right >= habits.right and len(end) + len(start) > habits.right - before.left:
        return True
    if len(end) < 2 or not start[0].isalnum() or not (end[-2].isalnum() or end[-2] == end[-1]):
        return False
    return end[-1] == "-" if end[-2].isalnum() else end[-1] in "-–—" and habits.close_dashes


def _is_full(before: TypedLine, after: TypedLine, habits: Habits) -> bool:
    """Whether a line has no room for the next one's first word."""
    word = after.words[0].text
    first = columns_of(word[0])
    if first == 2:
        return before.right + first > habits.right + _ROUNDING
    return before.right + habits.space + after.first_width > habits.right + _ROUNDING


def _is_by_hand(habits: Habits, steps: Sequence[tuple[TypedLine, TypedLine]]) -> bool:
    """Whether lines were broken a little before they were full.

    It shows where more of the lines that go on in small letters had just enough room than had much of it.
    """
    room = habits.right - habits.space
    spare = [room - before.right - after.first_width for before, after in steps if _begins_small(after)]
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
