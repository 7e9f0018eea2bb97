"""Scene numbers of a locked script: how they follow each other, and the one a scene added between two others gets.

A scene added after 5 is lettered, 5A, the next 5B (common practice in the trade; some productions write A6). What
comes before a number has its letter in front: A1 stands before 1. Between two that leave no room, the letter goes on
the one before, 5AA after 5A and before 5B, or else in front of the one behind, A5A after 5 and before 5A (common
practice, from memory; houses differ). I and O are left out, as they read as 1 and 0 (common practice, from memory).

In reading order: A1, B1, 1, A1A, 1A, 1AA, 1B, 2.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import chain, takewhile
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
# A number's front letters end in a mark above every letter: A1 comes before 1, and AA1 before A1.
_BEFORE_NOTHING = "\U0010ffff"
_NUMBER = re.compile(r"([A-Za-z]*)([0-9]+)([A-Za-z]*)")
_FIRST = "1"


class SceneNumber(NamedTuple):
    """A number and the scene that has it, by its ordinal in the draft from 1; None for a scene that is OMITTED."""

    number: str
    ordinal: int | None


@dataclass(frozen=True, slots=True)
class NumbersByScene:
    """The numbers of a locked script: those of its scenes by ordinal, and those omitted before each and at the end."""

    number_of: dict[int, str]
    omitted_before: dict[int, list[str]]
    omitted_last: list[str]

    @classmethod
    def of(cls, scene_numbers: Sequence[SceneNumber]) -> NumbersByScene:
        number_of: dict[int, str] = {}
        omitted_before: dict[int, list[str]] = {}
        omitted: list[str] = []
        for number, ordinal in scene_numbers:
            if ordinal is None:
                omitted.append(number)
            else:
                number_of[ordinal] = number
                omitted_before[ordinal] = omitted
                omitted = []
        return cls(number_of, omitted_before, omitted)


def reading_order(number: str) -> tuple[int, str, str] | None:
    """A key by which numbers sort as they are read; None for one that is not letters, digits and letters, as `1-2`."""
    parts = _NUMBER.fullmatch(number)
    if not parts:
        return None
    front, digits, end = parts.groups()
    return int(digits), end.upper(), front.upper()[::-1] + _BEFORE_NOTHING


def same_number(number: str) -> str:
    """The spelling by which two numbers are the same one: `12a` and `12A` are."""
    return number.upper()


def is_between(number: str, before: str | None, after: str | None) -> bool:
    """Whether a number is read after one and before another, None for no such other; odd ones stand anywhere."""
    key = reading_order(number)
    low = reading_order(before) if before is not None else None
    high = reading_order(after) if after is not None else None
    return key is None or ((low is None or low < key) and (high is None or key < high))


def number_between(before: str | None, after: str | None, taken: Collection[str]) -> str:
    """The number of a scene added after one and before another, None for none there; it is not among `taken`.

    `taken` are numbers in the spelling of `same_number`. Where the two stand in reading order the new number does so
    between them, whatever else is taken; out of order, as beside a scene that moved, it goes by the one before.
    """
    return next(number for number in _candidates(before, after) if same_number(number) not in taken)


def _candidates(before: str | None, after: str | None) -> Iterator[str]:
    """Numbers that would do, the best first, without end."""
    if before is None:
        return _in_front_of(after) if after is not None else _behind(_FIRST)
    low, high = reading_order(before), reading_order(after) if after is not None else None
    if low is None or high is None or after is None or low >= high:
        return _behind(before)
    between = (takewhile(lambda number: is_between(number, None, after), some) for some in _series_behind(before))
    return chain(chain.from_iterable(between), _in_front_of(after))


def _behind(number: str) -> Iterator[str]:
    return _series_behind(number)[0]


def _series_behind(number: str) -> list[Iterator[str]]:
    """Series of numbers that go on from one: 5A goes on with 5B, 5C …, and with 5AA, 5AB …"""
    parts = _NUMBER.fullmatch(number)
    if not parts:
        return [(number + letters for letters in _letters_after(""))]
    front, digits, end = (part.upper() for part in parts.groups())
    if front:
        return [(letters[::-1] + digits + end for letters in _front_letters_after(front[::-1]))]
    siblings = (digits + letters for letters in _letters_after(end))
    children = (digits + end + letters for letters in _letters_after(""))
    return [siblings, children] if end else [siblings]


def _in_front_of(number: str) -> Iterator[str]:
    """A5, B5 … for 5, each behind the one before it."""
    parts = _NUMBER.fullmatch(number)
    front, rest = (parts[1].upper(), (parts[2] + parts[3]).upper()) if parts else ("", number)
    return ((front[::-1] + letters)[::-1] + rest for letters in _front_letters_after(""))


def _letters_after(letters: str) -> Iterator[str]:
    """A, B … Z, ZA, ZB …: each sorts after the one before."""
    while True:
        later = [letter for letter in LETTERS if letters and letter > letters[-1]]
        letters = letters[:-1] + later[0] if later else letters + LETTERS[0]
        yield letters


def _front_letters_after(letters: str) -> Iterator[str]:
    """A, B … Y, ZA, ZB …: each sorts after the one before also with the mark that ends it, so Z never stands last."""
    while True:
        later = [letter for letter in LETTERS if letters and letter > letters[-1]]
        letters = letters[:-1] + later[0] if later else letters + LETTERS[0]
        if letters[-1] == LETTERS[-1]:
            letters += LETTERS[0]
        yield letters
