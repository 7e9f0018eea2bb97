"""A line of action as sentences of words, and whether a word is used there for a thing or for something done.

The kind of use is told by plain rules from the words beside it, not by meaning: "ducks under the bar" after a name is
done, "two ducks" is a thing. Where the neighbours say neither, a word may be both.
"""

from __future__ import annotations

import itertools
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.breakdown.list_files import plain_words

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

# An age is one word however it is typed: nine-year-old, nine year old, 9-year old.
_SO_OLD = r" (?=[ymwo])(?:(?:year|month|week)[ -]olds?\b|(?:(?<=-year )|(?<=-month )|(?<=-week ))olds?\b)"
_WORD = re.compile(rf"\b[Oo]n to\b|[^\W_]+(?:['’\-‐‑][^\W_]+)*(?i:{_SO_OLD})?")
_ENDS = re.compile(r"[.!?…]")
_LONGEST = 120  # words: what goes on for longer is cut, so that no line takes long
_QUOTES = re.compile(r"[\"“”]")
_ABBREVIATIONS = plain_words("grammar", "uses", "abbreviations")
_BEFORE_THINGS = plain_words("grammar", "uses", "before_things")
_BEFORE_DOINGS = plain_words("grammar", "uses", "before_doings")
_OBJECTS = plain_words("grammar", "uses", "objects")
_ONWARD = plain_words("grammar", "uses", "onward")
_PEOPLE = plain_words("grammar", "someone", "people")
_NO_NAME = plain_words("grammar", "children", "no_name")
_AGED = _PEOPLE | plain_words("grammar", "children", "words") | plain_words("grammar", "children", "kin")
_BEFORE_AN_AGE = frozenset({"of", "aged"})
_NUMBERS = plain_words("grammar", "numbers", "to_twenty") | plain_words("grammar", "numbers", "others")


@dataclass(frozen=True, slots=True)
class Sentence:
    """`words` are plain: in small letters, without 's. `texts` are as written, `gaps` what stands after each of them,
    and `quoted` says whether each stands in quotation marks."""

    words: tuple[str, ...]
    texts: tuple[str, ...]
    gaps: tuple[str, ...]
    quoted: tuple[bool, ...]

    def stops_after(self, at: int) -> bool:
        """Whether a comma or another mark stands between a word and the next."""
        return bool(self.gaps[at].strip("\"“”' *_"))

    def breaks_after(self, at: int) -> bool:
        """Whether more than a comma stands there: a dash, a colon, a semicolon."""
        return bool(self.gaps[at].strip("\"“”' *_,"))

    def is_capital(self, at: int) -> bool:
        return self.texts[at][0].isupper()

    def is_possessive(self, at: int) -> bool:
        """Whether it is somebody's: a word that ends in 's."""
        return self.texts[at].endswith(("'s", "’s"))

    def as_written(self, start: int, end: int) -> str:
        """Some of its words as they stand, in small letters."""
        written = [part for at in range(start, end - 1) for part in (self.texts[at], self.gaps[at])]
        return " ".join("".join((*written, self.texts[end - 1])).lower().split())

    def is_all_capitals(self, at: int) -> bool:
        return self.texts[at].isupper() and len(self.texts[at]) > 1


def sentences_of(text: str) -> Iterator[Sentence]:
    """The sentences of one line."""
    found = list(_WORD.finditer(text))
    start, within = 0, False
    quoted: list[bool] = []
    for at, word in enumerate(found):
        before = text[found[at - 1].end() if at else 0 : word.start()]
        within ^= len(_QUOTES.findall(before)) % 2 == 1
        quoted.append(within)
        gap = text[word.end() : found[at + 1].start() if at + 1 < len(found) else len(text)]
        ends = _ENDS.search(gap) and word[0].casefold() not in _ABBREVIATIONS
        if ends or at + 1 == len(found) or at + 1 - start == _LONGEST:
            yield _sentence(text, found[start : at + 1], quoted[start:], gap)
            start = at + 1


def _sentence(text: str, found: list[re.Match[str]], quoted: list[bool], last_gap: str) -> Sentence:
    gaps = [text[one.end() : after.start()] for one, after in itertools.pairwise(found)]
    return Sentence(
        words=tuple(plain_word(word[0]) for word in found),
        texts=tuple(word[0] for word in found),
        gaps=(*gaps, last_gap),
        quoted=tuple(quoted),
    )


def plain_word(word: str) -> str:
    """A word in small letters, without the 's of a possessive; on to is onto, and nine year old is nine-year-old."""
    plain = word.casefold().replace("’", "'").removesuffix("'s")
    if " " in plain:
        return "onto" if plain == "on to" else plain.replace(" ", "-")
    return plain if plain.isascii() else plain.replace("‐", "-").replace("‑", "-")


def is_number(word: str) -> bool:
    """Whether a word says how many, in digits or in letters: 40, forty, forty-five."""
    return word.isdigit() or (bool(word) and all(part in _NUMBERS for part in word.split("-")))


def may_be_thing(sentence: Sentence, at: int, names: Collection[str]) -> bool:
    """Whether a word could stand for a thing there: it does not where somebody plainly does it."""
    if _follows_thing_word(sentence, at):
        return True
    before = _before(sentence, at)
    if before in _BEFORE_DOINGS and not (before == "to" and sentence.words[at].endswith("s")):
        return False
    after = sentence.words[at + 1] if at + 1 < len(sentence.words) and not sentence.stops_after(at) else ""
    by_name = bool(before) and not sentence.is_capital(at) and _is_named(sentence, at - 1, names)
    by_somebody = before in _PEOPLE or (by_name and _may_agree(sentence, at))
    return not (
        after in _OBJECTS or (by_somebody and not after) or (after in _ONWARD and (by_somebody or before == "and"))
    )


def _is_named(sentence: Sentence, at: int, names: Collection[str]) -> bool:
    """Whether a word is somebody's name there: OLD AGNIESZKA makes no name of "old", nor of "Old" at a sentence's
    start."""
    return sentence.is_all_capitals(at) or (
        sentence.is_capital(at) and sentence.words[at] in names and sentence.words[at] not in _NO_NAME
    )


def _may_agree(sentence: Sentence, at: int) -> bool:
    """Whether a word may be done by the one named before it: Red ducks, Ned and Red duck, but a Red horse does not."""
    return sentence.words[at].endswith("s") or (at > 1 and sentence.words[at - 2] == "and")


def may_be_doing(sentence: Sentence, at: int) -> bool:
    """Whether a word could say what is done there: it does not after a, the, his, two, of, with."""
    return sentence.words[at].endswith("ing") or not _follows_thing_word(sentence, at)


def _follows_thing_word(sentence: Sentence, at: int) -> bool:
    before = _before(sentence, at)
    counts = is_number(before) and not _is_an_age(sentence, at - 1)
    return before in _BEFORE_THINGS or counts or (bool(before) and sentence.is_possessive(at - 1))


def _is_an_age(sentence: Sentence, at: int) -> bool:
    """Whether a number behind "of" is somebody's age, and so counts nothing behind it: a boy of six climbs."""
    return at > 1 and sentence.words[at - 1] in _BEFORE_AN_AGE and sentence.words[at - 2] in _AGED


def _before(sentence: Sentence, at: int) -> str:
    """The word before, "" where there is none or a mark stands between."""
    return sentence.words[at - 1] if at and not sentence.stops_after(at - 1) else ""
