"""Which words of a text stand on the lists of `word_lists/`: cautions, and words that concern a department.

What is found are words, never risks or needs: a list misses what it does not name, and knows no meaning. Whoever shows
what was found has to say so.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from screenplay.words import words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

NIGHT = "night"
_FOLDER = Path(__file__).parent / "word_lists"
_VOWELS = "aeiou"
_SHORTEST_INFLECTED = 3
# NELL, 9: a name in capital letters with an age after it (common practice).
_AGE = re.compile(r"\b[^\W\d_]*[A-Z]{2}[^\W\d_]*, (?:aged )?(\d{1,2})\b")


@dataclass(frozen=True, slots=True)
class ListedWords:
    """What of one list stands in a text: the list's key, and the words and phrases, each once."""

    key: str
    words: tuple[str, ...]


class _Phrase(NamedTuple):
    """Words that count only together: as listed, one by one, and the key of their list."""

    text: str
    words: list[str]
    key: str


@dataclass(frozen=True, slots=True)
class _Lists:
    """The lists of one file. `forms` has every inflected form with the lists it is on, `phrases` those that begin with
    a word; `when` are the lists that hold by day or by night alone, `ages_under` those that look at ages."""

    names: Mapping[str, str]
    forms: Mapping[str, tuple[str, ...]]
    phrases: Mapping[str, tuple[_Phrase, ...]]
    when: Mapping[str, str]
    ages_under: Mapping[str, int]


def caution_names() -> Mapping[str, str]:
    """What each list of cautions is called, by its key."""
    return _read("cautions").names


def trade_keys() -> tuple[str, ...]:
    """The departments that have a list of words, by the names of `trade_words_in`."""
    return tuple(_read("trades").names)


def cautions_in(texts: Iterable[str], time: str = "") -> tuple[ListedWords, ...]:
    """The cautions whose words stand in some texts, in the order of the lists. No phrase runs from one text into the
    next. `time` is day or night, "" where it is not known: a list for the night is then left out."""
    return _found(_read("cautions"), texts, time)


def trade_words_in(texts: Iterable[str]) -> tuple[ListedWords, ...]:
    """The words in some texts that may concern a department, by department."""
    return _found(_read("trades"), texts, "")


def inflected(word: str) -> frozenset[str]:
    """A word with its plain English inflections: plural or third person, past and -ing. Makes some that nobody says."""
    if len(word) < _SHORTEST_INFLECTED or not word.isalpha():
        return frozenset({word})
    return frozenset({word, _with_s(word), f"{_stem(word)}ed", f"{_stem_for_ing(word)}ing"})


def _with_s(word: str) -> str:
    if word[-1] == "y" and word[-2] not in _VOWELS:
        return f"{word[:-1]}ies"
    return word + ("es" if word.endswith(("s", "x", "z", "ch", "sh")) else "s")


def _stem(word: str) -> str:
    if word[-1] == "e":
        return word[:-1]
    if word[-1] == "y" and word[-2] not in _VOWELS:
        return f"{word[:-1]}i"
    return _stem_for_ing(word)


def _stem_for_ing(word: str) -> str:
    """stab to stabb, wave to wav; a short word that ends in one vowel and a consonant doubles it."""
    if word[-1] == "e" and word[-2] != "e":
        return word[:-1]
    vowels = sum(letter in _VOWELS for letter in word)
    doubles = vowels == 1 and word[-2] in _VOWELS and word[-1] not in f"{_VOWELS}wxy"
    return word + word[-1] if doubles else word


@cache
def _read(name: str) -> _Lists:
    told: dict[str, dict[str, Any]] = tomllib.loads((_FOLDER / f"{name}.toml").read_text(encoding="utf-8"))
    forms: dict[str, tuple[str, ...]] = {}
    phrases: dict[str, tuple[_Phrase, ...]] = {}
    for key, entry in told.items():
        for form in sorted({form for word in entry["words"].split() for form in inflected(word)}):
            forms[form] = (*forms.get(form, ()), key)
        for phrase in entry.get("phrases", ()):
            read = _Phrase(phrase, _plain_words(phrase), key)
            phrases[read.words[0]] = (*phrases.get(read.words[0], ()), read)
    return _Lists(
        names={key: entry.get("name", key) for key, entry in told.items()},
        forms=forms,
        phrases=phrases,
        when={key: entry["when"] for key, entry in told.items() if "when" in entry},
        ages_under={key: entry["ages_under"] for key, entry in told.items() if "ages_under" in entry},
    )


def _found(lists: _Lists, texts: Iterable[str], time: str) -> tuple[ListedWords, ...]:
    met: dict[str, dict[str, None]] = {}
    for text in texts:
        for key, word in (*_matches(lists, _plain_words(text)), *_ages(lists, text)):
            if lists.when.get(key, time) == time:
                met.setdefault(key, {})[word] = None
    return tuple(ListedWords(key, tuple(met[key])) for key in lists.names if key in met)


def _plain_words(text: str) -> list[str]:
    return [word.casefold().replace("’", "'").removesuffix("'s") for word in words(text)]


def _matches(lists: _Lists, text: list[str]) -> Iterator[tuple[str, str]]:
    for at, word in enumerate(text):
        for key in lists.forms.get(word, ()):
            yield key, word
        for phrase in lists.phrases.get(word, ()):
            if text[at : at + len(phrase.words)] == phrase.words:
                yield phrase.key, phrase.text


def _ages(lists: _Lists, text: str) -> Iterator[tuple[str, str]]:
    for key, under in lists.ages_under.items():
        for match in _AGE.finditer(text):
            if int(match[1]) < under:
                yield key, f"aged {int(match[1])}"
