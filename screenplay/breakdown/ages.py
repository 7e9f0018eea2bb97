"""What a sentence says of somebody's age: in years, or that somebody whom it calls a stepson or a girl is grown up."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from screenplay.breakdown.list_files import list_file, plain_words
from screenplay.breakdown.person_words import is_person

if TYPE_CHECKING:
    from screenplay.breakdown.sentences import Sentence

OF_AGE = 18  # years: who is younger is a child
_SO_OLD = re.compile(r"([^\W_]+(?:-[^\W_]+)?)-(year|month|week)s?-olds?")
WORDS = plain_words("grammar", "children", "words")
KIN = plain_words("grammar", "children", "kin")
_BEFORE_AGE = plain_words("grammar", "children", "before_age")
_AFTER_AGE = plain_words("grammar", "children", "after_age")
_BOTH = plain_words("grammar", "children", "both")
_GROWN = plain_words("grammar", "children", "grown")
_AFTER_SO_OLD = plain_words("grammar", "children", "after_so_old") | plain_words("grammar", "someone", "where")
_OF_SEVERAL = plain_words("grammar", "children", "of_several")
_BEFORE_SEVERAL = plain_words("grammar", "children", "before_several")
_GIVINGS = plain_words("grammar", "children", "givings")
_DONE_TO_THINGS = plain_words("grammar", "children", "done_to_things")
_BEFORE_DOING = plain_words("grammar", "someone", "before_doing") | {"been", "being", "not", "never", "also", "was"}
_IS = frozenset({"is", "was", "isn't"})
_ONE = frozenset({"a", "an", "one", "another", "each", "every", "this", "that"})
_OF_ONE_OR_SEVERAL = frozenset({"the", "his", "her", "its", "their", "my", "your", "our"})
_OPENS_A_CLAUSE = plain_words("grammar", "someone", "opens_a_clause") | {"and", "or"}
_WHERE = plain_words("grammar", "someone", "where")
_OBJECTS = plain_words("grammar", "uses", "objects")
_THINGS_IN_ING = plain_words("grammar", "children", "things_in_ing")
_NO_VERB = ("ss", "us", "is")
_LONGEST_DESCRIPTION = 3  # words behind an age: "a ten-year-old red-haired girl"
_NOT_THE_SAME = plain_words("grammar", "children", "not_the_same")
_UNDER_TWENTY = {word: number for number, word in enumerate(list_file("grammar")["numbers"]["to_twenty"].split())}
_TENS = {word: 10 * tens for tens, word in enumerate(list_file("grammar")["numbers"]["others"].split()[:7], start=3)}
_TENS["twenty"] = _UNDER_TWENTY["twenty"]
_IN_A_YEAR = {"month": 12, "week": 52}
LONGEST_NAME = 5  # words
_DECADE = re.compile(r"(?:early-|mid-|late-)?(?:[2-9]0s|(?:twen|thir|for|fif|six|seven|eigh|nine)ties)")
_AGE_FOLLOWS = re.compile(r"[\s\"“”'’*_]*[,(–—:-][\s\"“”'’*_,(–—:-]*")  # after TAXI #3# or KITCHEN / 3 none does
_UNITS = frozenset({"year", "years", "month", "months", "week", "weeks"})
_MEASURES = tuple("'’:%\"”′″/")  # of 7:30, 10%, 6' and the like: what they end is no age
_BEFORE_GROWN = frozenset({"a", "an", "now", "already", "fully", "quite", "almost"})
_HIS = frozenset({"his", "her", "their"})
_MAN_OF = (("man", "of"), ("woman", "of"))


def number_of(word: str) -> int | None:
    """How many a word says, below a thousand in digits and below a hundred in letters: 40, forty, forty-two."""
    if digits := re.fullmatch(r"(\d{1,3})(?:ish)?", word):
        return int(digits[1])
    tens, dash, ones = word.partition("-")
    if dash:
        one = _UNDER_TWENTY.get(ones, 0)
        return _TENS[tens] + one if tens in _TENS and 0 < one < 10 else None
    return _UNDER_TWENTY.get(word, _TENS.get(word))


def years_of(word: str) -> int | None:
    """The years in "nine-year-old", whole ones in "twenty-month-old"; None in any other word."""
    told = _SO_OLD.fullmatch(word)
    return _in_years(number_of(told[1]), told[2]) if told else None


def _in_years(number: int | None, unit: str) -> int | None:
    return number // _IN_A_YEAR.get(unit, 1) if number is not None else None


def is_somebody_so_old(sentence: Sentence, at: int) -> bool:
    """Whether an age such as "nine-year-old" is that of somebody: it stands alone, as what does or is something, or
    before a word for a person; a nine-year-old car, and a twelve-year-old scar, are none."""
    if sentence.words[at].endswith("olds") or sentence.is_possessive(at):
        return True
    for after in range(at + 1, min(at + 1 + _LONGEST_DESCRIPTION, len(sentence.words))):
        if sentence.stops_after(after - 1):
            break
        if is_person(sentence.words[after]):
            return True
        if sentence.words[after] in _AFTER_SO_OLD or _is_done(sentence, after):
            is_next = after == at + 1 or sentence.words[after - 1].endswith("ly")
            return is_next and not _are_several(sentence, at, after) and not _is_done_to_a_thing(sentence, after)
    return at + 1 == len(sentence.words) or sentence.stops_after(at)


def _is_done(sentence: Sentence, at: int) -> bool:
    """Whether a word behind an age may say what somebody does: cries, clutching a doll, dressed as a pirate."""
    word = sentence.words[at]
    if word.endswith("s"):
        return not word.endswith(_NO_VERB)
    is_last = at + 1 == len(sentence.words) or sentence.stops_after(at)
    goes_on = is_last or sentence.words[at + 1] in _AFTER_SO_OLD
    return goes_on and word.endswith(("ed", "ing")) and word not in _THINGS_IN_ING


def _are_several(sentence: Sentence, at: int, after: int) -> bool:
    """Whether a word in -s behind an age is no doing but several things of that age, by what several do, or where
    somebody does something to them: the nine-year-old curtains hang; she draws the nine-year-old curtains."""
    words = sentence.words
    if not words[after].endswith("s") or words[after] in _AFTER_SO_OLD or not _ONE.isdisjoint(words[at - 1 : at]):
        return False
    follows = after + 1 < len(words) and not sentence.stops_after(after)
    if follows and words[after + 1] in _OF_SEVERAL and words[after] not in _BEFORE_SEVERAL:
        return True
    return _is_object(sentence, at)


def _is_object(sentence: Sentence, at: int) -> bool:
    """Whether something is done to what "the" begins before a word: she draws the …; not "beside the …"."""
    words, the = sentence.words, at - 1
    if the < 2 or words[the] not in _OF_ONE_OR_SEVERAL:
        return False
    start = the
    while start > 0 and not sentence.stops_after(start - 1) and words[start - 1] not in _OPENS_A_CLAUSE:
        start -= 1
    said = words[start:the]
    if len(said) < 2 or said[0] in _WHERE or "who" in said:
        return False
    return said[-1] not in _WHERE | _GIVINGS and not said[-1].endswith("ing")


def _is_done_to_a_thing(sentence: Sentence, at: int) -> bool:
    """Whether what is done to who is so old is done to things alone: is poured, has been carefully parked."""
    words = sentence.words
    done = at + 1
    if words[at] not in _IS and words[at : at + 2] != ("has", "been"):
        return False
    while done < len(words) - 1 and (words[done] in _BEFORE_DOING or words[done].endswith("ly")):
        done += 1
    if done == len(words) or words[done] not in _DONE_TO_THINGS:
        return False
    follows = words[done + 1 : done + 3]  # a child is parked in front of a television, and served a bowl of soup
    return _OBJECTS.isdisjoint(follows[:1]) and follows != ("in", "front")


class Age(NamedTuple):
    """Somebody's age in whole years, and as it is told: 9, or 4 months."""

    years: int
    told: str


def age_after(sentence: Sentence, end: int) -> Age | None:
    """The age after a name and a comma, a dash or a parenthesis, None where none is."""
    if end >= len(sentence.words) or not _AGE_FOLLOWS.fullmatch(sentence.gaps[end - 1]):
        return None
    if _is_grown_after(sentence, end):
        return Age(OF_AGE, "")
    at = end
    while at < len(sentence.words) - 1 and sentence.words[at] in _BEFORE_AGE:
        at += 1
    if (years := years_of(sentence.words[at])) is not None:
        of_months = not sentence.words[at].rstrip("s").endswith("year-old")
        return Age(years, sentence.as_written(at, at + 1) if of_months else str(years))
    if sentence.gaps[at][:1] in _MEASURES:
        return None
    follows = at + 1 < len(sentence.words) and not sentence.stops_after(at)
    unit = sentence.words[at + 1] if follows else ""
    if (unit and unit not in _AFTER_AGE) or (unit in _UNITS and _goes_on(sentence, at + 1)):
        return None
    years = _in_years(number_of(sentence.words[at]), unit.removesuffix("s"))
    if years is None:
        return None
    return Age(years, sentence.as_written(at, at + 2) if unit.removesuffix("s") in _IN_A_YEAR else str(years))


def _is_grown_after(sentence: Sentence, end: int) -> bool:
    """Whether an age behind a name is told as a decade, or of a man or a woman: EIRIK (40s), now in his forties."""
    words, at = sentence.words, end
    while at < len(words) - 1 and words[at] in _BEFORE_GROWN and not sentence.stops_after(at):
        at += 1
    if words[at : at + 2] in _MAN_OF:
        return (number_of("".join(words[at + 2 : at + 3])) or 0) >= OF_AGE
    if words[at] == "in" and not _HIS.isdisjoint(words[at + 1 : at + 2]):
        at += 2
    is_last = at + 1 >= len(words) or sentence.stops_after(at)
    return at < len(words) and is_last and _DECADE.fullmatch(words[at]) is not None


def _goes_on(sentence: Sentence, unit: int) -> bool:
    """Whether years are no age for what follows them: eight months pregnant, ten years older, twelve years ago."""
    is_last = unit + 1 == len(sentence.words) or sentence.stops_after(unit)
    return not is_last and sentence.words[unit + 1] not in ("old", "of", "and")


def grown_up(sentence: Sentence, start: int, end: int) -> bool | None:
    """Whether an age beside a word for a child says that it is none any more: her stepson, 40; a girl of twenty-two.
    None where no age is said."""
    words = sentence.words
    if end < len(words) and words[end] in KIN and not sentence.stops_after(end - 1):
        end += 1
    if words[end - 1] not in WORDS | KIN:
        return None
    if words[end - 1].endswith("s") or words[end - 1] == "children":
        of_all = end < len(words) and words[end] in _BOTH
        of_each = age_after(sentence, end) if of_all else None
        age = _age_told(sentence, end) if of_each is None else of_each.years
        return None if age is None else age >= OF_AGE
    age = _age_behind(sentence, end)
    if age is None:
        age = _age_before(sentence, start, end)
    return None if age is None else age >= OF_AGE


def _age_behind(sentence: Sentence, end: int) -> int | None:
    """The age after "stepson", or after the name that follows it."""
    words = sentence.words
    name_end = end
    while name_end < min(len(words), end + LONGEST_NAME) and sentence.is_capital(name_end):
        name_end += 1
        if sentence.stops_after(name_end - 1):
            break
    for at in (end, name_end):
        if (age := age_after(sentence, at)) is not None:
            return age.years
    if end + 1 < len(words) and not sentence.stops_after(end - 1) and words[end] in ("of", "aged"):
        return number_of(words[end + 1])
    return _age_told(sentence, end)


def _age_told(sentence: Sentence, end: int) -> int | None:
    """An age told in other words, right behind: her stepson in his thirties; her stepson, a man of forty, a grown man.

    Farther on the sentence may be about anybody: the boy helps an elderly woman.
    """
    words, at = sentence.words, end
    if sentence.stops_after(end - 1):
        while at < len(words) - 1 and words[at] in _BEFORE_GROWN and not sentence.stops_after(at):
            at += 1
        if at < len(words) and (words[at] in _GROWN or _DECADE.fullmatch(words[at])):
            return OF_AGE
        if words[at : at + 2] in _MAN_OF and at + 2 < len(words):
            return number_of(words[at + 2])
    in_theirs = words[at : at + 1] == ("in",) and not _HIS.isdisjoint(words[at + 1 : at + 2])
    return OF_AGE if in_theirs and at + 2 < len(words) and _DECADE.fullmatch(words[at + 2]) else None


def _age_before(sentence: Sentence, start: int, end: int) -> int | None:
    """The age in "her forty-year-old stepson", and in "MARTIN, 40, her stepson"."""
    words = sentence.words
    at = start
    while at > max(0, start - 3) and not sentence.stops_after(at - 1):
        at -= 1
        if words[at] in _NOT_THE_SAME:
            return None
        if (years := years_of(words[at])) is not None:
            return years
    belongs = words[at] in _HIS or sentence.is_possessive(at)
    # "Her stepson on her hip" is of somebody else than AGNES, 40.
    ends = end == len(words) or (sentence.stops_after(end - 1) and words[end] != "and")
    is_apposition = 2 <= at < start and belongs and sentence.stops_after(at - 1) and ends and words[end - 1] in KIN
    if is_apposition and sentence.stops_after(at - 2) and sentence.is_capital(at - 2):
        return number_of(words[at - 1])
    return None
