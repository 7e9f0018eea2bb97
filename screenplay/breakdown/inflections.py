"""The forms of an English word: plural, third person, past and -ing, regular ones and those listed in `forms.toml`."""

from __future__ import annotations

from functools import cache

from screenplay.breakdown.list_files import list_file

_VOWELS = "aeiou"
_SHORTEST_INFLECTED = 3


@cache
def inflected(word: str) -> frozenset[str]:
    """A word with its plain English inflections: plural or third person, past and -ing. Makes some that nobody says."""
    return noun_forms(word) | verb_forms(word)


@cache
def noun_forms(word: str) -> frozenset[str]:
    """A noun and its plural: knife and knives."""
    if not _is_inflected(word):
        return frozenset({word})
    return frozenset({word, *(_irregular("nouns").get(word) or (_with_s(word),))})


@cache
def verb_forms(word: str) -> frozenset[str]:
    """A verb in every form it has: swim, swims, swimming, swam, swum."""
    forms = {word, *_irregular("verbs").get(word, ())}
    if _is_inflected(word):
        forms |= {_with_s(word), f"{_stem(word)}ed", f"{_stem_for_ing(word)}ing"}
    return frozenset(forms)


def _is_inflected(word: str) -> bool:
    return len(word) >= _SHORTEST_INFLECTED and word.isalpha()


@cache
def _irregular(which: str) -> dict[str, tuple[str, ...]]:
    return {word: tuple(forms.split()) for word, forms in list_file("forms")[which].items()}


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
