"""Whether it is somebody who does what a word says: she falls, Nell falls, the boy on the quay slips and falls; not the
lamp, the rain or the evening.

A somebody is a pronoun, a word for a person or a trade, a noun that the script uses of people, or a name that it has.
So is what has a trade's ending, which a tool has as often, where it falls from what people fall from. A word with a
capital that only begins a sentence is none: any word does.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.breakdown.list_files import plain_words
from screenplay.breakdown.person_words import is_person, may_be_person
from screenplay.breakdown.sentences import is_number

if TYPE_CHECKING:
    from collections.abc import Container

    from screenplay.breakdown.known_people import KnownPeople
    from screenplay.breakdown.sentences import Sentence

_FIRST_WORDS = 3  # of a clause, among which stands who does what comes behind "and"
_PRONOUNS = plain_words("grammar", "someone", "somebody")
_ONE_ALONE = frozenset({"he", "she"})
_NO_ARTICLE = plain_words("grammar", "someone", "no_article")
_ARTICLES = frozenset({"the", "a", "an"})
_BEFORE_A_NOUN = _ARTICLES | frozenset({"another", "his", "her", "their", "our", "my", "this", "that"})
_BEFORE_DOING = plain_words("grammar", "someone", "before_doing")
_OPENS_A_CLAUSE = plain_words("grammar", "someone", "opens_a_clause")
_HOW_MANY = plain_words("grammar", "someone", "how_many")
_WHERE = plain_words("grammar", "someone", "where")
_FALLS_FROM = plain_words("work", "work", "falls_from")
_WHENCE = frozenset({"from", "off", "out", "down", "over", "through"})


def is_by_someone(sentence: Sentence, at: int, people: KnownPeople) -> bool:
    """Whether somebody does what the word says; in a line cut short, Falls, and in "Falling, she …" too. `people` are
    those whom the script has."""
    words = sentence.words
    before = at - 1
    while before >= 0 and not sentence.stops_after(before) and words[before] in _BEFORE_DOING:
        before -= 1
    if before < 0:
        return words[at].endswith("s") or _is_done_by_who_follows(sentence, at, people)
    if sentence.breaks_after(before):
        return False
    if sentence.stops_after(before) or words[before] == "and" or words[before + 1] == "then":
        return _goes_on(sentence, before, at, people)
    return _is_somebody(sentence, _head(sentence, before), at, people)


def _is_done_by_who_follows(sentence: Sentence, at: int, people: KnownPeople) -> bool:
    """Falling, she; Falling, the boy."""
    after = at + 1
    if not sentence.words[at].endswith("ing") or not sentence.stops_after(at) or after == len(sentence.words):
        return False
    if sentence.words[after] in _ARTICLES:
        after = min(after + 1, len(sentence.words) - 1)
    return _is_somebody(sentence, after, at, people)


def _goes_on(sentence: Sentence, before: int, at: int, people: KnownPeople) -> bool:
    """Whether somebody began the clause in which it is done next: she slips and falls; not "she looks up as the lamp
    wobbles and falls", nor "she sees it tip and fall"."""
    start = _clause_start(sentence, before, _OPENS_A_CLAUSE)
    while start < before and sentence.words[start] in _BEFORE_DOING:
        start += 1
    if sentence.words[start] in _WHERE:
        start = next((each + 1 for each in range(start, before) if sentence.stops_after(each)), start)
    for each in range(start, min(start + _FIRST_WORDS, before)):
        if _is_somebody(sentence, each, at, people):
            return sentence.words[each] not in _ONE_ALONE or sentence.words[at].endswith("s")
        if sentence.words[each] in _WHERE:
            return False
    return False


def _head(sentence: Sentence, before: int) -> int:
    """The word for who or what does it, of those that stand before it: "boy", of "the boy on the quay", and "roofers",
    of "two of the roofers on it"."""
    start = _clause_start(sentence, before, _OPENS_A_CLAUSE | {"and"})
    parted = [each for each in range(start, before) if sentence.stops_after(each)]
    start = parted[-1] + 1 if parted else start
    if sentence.words[start] in _WHERE:
        return before
    where = (each for each in range(start + 1, before) if sentence.words[each] in _WHERE)
    head = next(where, before + 1) - 1
    is_some_of_them = sentence.words[head + 1] == "of" and _is_how_many(sentence.words[head])
    return next(where, before + 1) - 1 if is_some_of_them else head


def _is_how_many(word: str) -> bool:
    return word in _HOW_MANY or is_number(word)


def _clause_start(sentence: Sentence, before: int, openers: Container[str]) -> int:
    """The first word of the clause in which a word stands: what follows an opener, or more than a comma."""
    for each in range(before, 0, -1):
        if sentence.words[each - 1] in openers or sentence.breaks_after(each - 1):
            return each
    return 0


def _is_somebody(sentence: Sentence, at: int, doing: int, people: KnownPeople) -> bool:
    """Whether a word stands for somebody who may do what another says: she, Nell, the boy; not The Patience."""
    word = sentence.words[at]
    if sentence.is_possessive(at):
        return False
    if word in _PRONOUNS or is_person(word):
        return True
    if not sentence.is_capital(at) or (sentence.is_all_capitals(at) and _follows(_ARTICLES, sentence, at)):
        is_used_so = word in people.nouns or (may_be_person(word) and _is_from_a_height(sentence, doing))
        return is_used_so and _is_a_noun(sentence, at)
    if word in _NO_ARTICLE or _follows(_ARTICLES, sentence, at):
        return False
    return word in people.names or at > 0 or sentence.is_all_capitals(at)


def _is_from_a_height(sentence: Sentence, doing: int) -> bool:
    """Whether it is done from where people fall: off the scaffold, down the stairs; not off the table by the stairs."""
    is_whence = False
    for before in range(doing, len(sentence.words) - 1):
        word = sentence.words[before + 1]
        if sentence.stops_after(before):
            return False
        if word in _WHENCE or word in _WHERE:
            is_whence = word in _WHENCE or (is_whence and word == "of")
        elif is_whence and (word in _FALLS_FROM or word.removesuffix("s") in _FALLS_FROM):
            return True
    return False


def _follows(words: Container[str], sentence: Sentence, at: int) -> bool:
    return at > 0 and not sentence.stops_after(at - 1) and sentence.words[at - 1] in words


def _is_a_noun(sentence: Sentence, at: int) -> bool:
    """Whether "the" or the like stands before a word, or before another that says which: the old verger, two monks."""
    for before in range(at - 1, max(at - 3, -1), -1):
        if sentence.stops_after(before):
            return False
        if sentence.words[before] in _BEFORE_A_NOUN or is_number(sentence.words[before]):
            return True
    return False
