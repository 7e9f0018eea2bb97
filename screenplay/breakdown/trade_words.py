"""Which words of a text stand on the lists of `trades.toml`, and so may concern a department.

What is found are words, never needs: a list misses what it does not name, and knows no meaning. Whoever shows what was
found has to say so.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from screenplay.breakdown.inflections import inflected, noun_forms
from screenplay.breakdown.list_files import list_file
from screenplay.breakdown.sentences import may_be_thing, sentences_of
from screenplay.words import words

if TYPE_CHECKING:
    from collections.abc import Container, Iterable, Iterator, Mapping


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
class _TradeLists:
    """`forms` has every inflected form with the lists it is on, `phrases` those that begin with a word. Of `things`, by
    form and list, a form counts only as a thing, and not behind these words."""

    keys: tuple[str, ...]
    forms: Mapping[str, tuple[str, ...]]
    things: Mapping[tuple[str, str], frozenset[str]]
    phrases: Mapping[str, tuple[_Phrase, ...]]


def trade_words_in(texts: Iterable[str]) -> tuple[ListedWords, ...]:
    """The words in some texts that may concern a department, by department, in the order of the lists. No phrase runs
    from one text into the next."""
    lists = _lists()
    met: dict[str, dict[str, None]] = {}
    for text in texts:
        for key, word in _matches(lists, text):
            met.setdefault(key, {})[word] = None
    return tuple(ListedWords(key, tuple(met[key])) for key in lists.keys if key in met)


@cache
def _lists() -> _TradeLists:
    told = list_file("trades")
    forms: dict[str, tuple[str, ...]] = {}
    things: dict[tuple[str, str], frozenset[str]] = {}
    phrases: dict[str, tuple[_Phrase, ...]] = {}
    for key, entry in told.items():
        for word in entry.get("things", "").split():
            not_after = frozenset(entry.get("not_after", {}).get(word, "").split())
            things |= {(form, key): not_after for form in noun_forms(word)}
        as_things = {form for form, of in things if of == key}
        for form in sorted({form for word in entry["words"].split() for form in inflected(word)} | as_things):
            forms[form] = (*forms.get(form, ()), key)
        for phrase in entry.get("phrases", ()):
            read = _Phrase(phrase, _plain_words(phrase), key)
            phrases[read.words[0]] = (*phrases.get(read.words[0], ()), read)
    return _TradeLists(tuple(told), forms, things, phrases)


def _plain_words(text: str) -> list[str]:
    return [word.casefold().replace("’", "'").removesuffix("'s") for word in words(text)]


def _matches(lists: _TradeLists, text: str) -> Iterator[tuple[str, str]]:
    told = _plain_words(text)
    for at, word in enumerate(told):
        for key in lists.forms.get(word, ()):
            if (word, key) not in lists.things or _is_thing(text, word, lists.things[word, key]):
                yield key, word
        for phrase in lists.phrases.get(word, ()):
            if told[at : at + len(phrase.words)] == phrase.words:
                yield phrase.key, phrase.text


def _is_thing(text: str, word: str, not_after: Container[str]) -> bool:
    """Whether a word of a text may stand for a thing anywhere in it."""
    return any(
        each == word
        and may_be_thing(sentence, at, ())
        and not (at and not sentence.stops_after(at - 1) and sentence.words[at - 1] in not_after)
        for sentence in sentences_of(text)
        for at, each in enumerate(sentence.words)
    )
