"""The lists of `cautions.toml` as they are searched, all in one pass."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple

from screenplay.breakdown.entries import Entries, read_entries
from screenplay.breakdown.inflections import inflected, noun_forms, verb_forms
from screenplay.breakdown.list_files import list_file

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from screenplay.breakdown.entries import Entry, Match
    from screenplay.breakdown.sentences import Sentence


class WordRole(StrEnum):
    """What an entry of a list is there for, by the list's name in the file, whose header says how each counts."""

    THINGS = "things"
    DOINGS = "doings"
    TO_SOMEONE = "to_someone"
    BY_SOMEONE = "by_someone"
    OUTDOORS = "outdoors"
    FAINT = "faint"
    NEVER = "never"
    NOT_AFTER = "not_after"
    IN_THE_WET = "in_the_wet"
    WET = "wet"
    WET_OUTDOORS = "wet_outdoors"
    PLACES = "places"
    OUTDOOR_PLACES = "outdoor_places"
    INDOOR_PLACES = "indoor_places"
    INDOOR_PLACES_UNLESS = "indoor_places_unless"
    THESE = "these"
    BESIDE = "beside"
    BESIDE_BY_SOMEONE = "beside_by_someone"
    THEN = "then"
    SOMEWHERE = "somewhere"
    SOMEONE_SOMEWHERE = "someone_somewhere"
    NOT_THESE = "not_these"
    NOT_BESIDE = "not_beside"


class Tag(NamedTuple):
    """Whose entry it is: the caution's key, what it is there for, and of which of its pairs of lists, from 0."""

    key: str
    role: WordRole
    pair: int = 0


@dataclass(frozen=True, slots=True)
class Lists:
    """All lists in one. `by_night` are the cautions that hold for scenes at night alone, `far_too` those that hold for
    what is seen far off as well."""

    names: Mapping[str, str]
    by_night: frozenset[str]
    far_too: frozenset[str]
    entries: Entries

    def matches(self, sentence: Sentence) -> Iterator[tuple[Tag, Match]]:
        """Where any entry stands in a sentence, and whose it is."""
        for match in self.entries.matches(sentence):
            if isinstance(match.entry.tag, Tag):
                yield match.entry.tag, match


_FORMS: dict[WordRole, Callable[[str], frozenset[str]]] = {
    WordRole.THINGS: noun_forms,
    WordRole.DOINGS: verb_forms,
    WordRole.TO_SOMEONE: verb_forms,
    WordRole.BY_SOMEONE: verb_forms,
    WordRole.OUTDOORS: noun_forms,
    WordRole.THESE: noun_forms,
    WordRole.BESIDE: verb_forms,
    WordRole.BESIDE_BY_SOMEONE: verb_forms,
    WordRole.THEN: verb_forms,
    WordRole.SOMEWHERE: verb_forms,
    WordRole.SOMEONE_SOMEWHERE: verb_forms,
    WordRole.PLACES: noun_forms,
    WordRole.OUTDOOR_PLACES: noun_forms,
    WordRole.INDOOR_PLACES: noun_forms,
}
_PAIRS: dict[str, dict[str, WordRole]] = {
    "together": {
        "these": WordRole.THESE,
        "beside": WordRole.BESIDE,
        "by_someone": WordRole.BESIDE_BY_SOMEONE,
        "then": WordRole.THEN,
        "somewhere": WordRole.SOMEWHERE,
        "someone_somewhere": WordRole.SOMEONE_SOMEWHERE,
    },
    "not_together": {"these": WordRole.NOT_THESE, "beside": WordRole.NOT_BESIDE},
}


@cache
def caution_lists() -> Lists:
    """The lists of the file, in its order."""
    told = list_file("cautions")
    return Lists(
        names={key: caution["name"] for key, caution in told.items()},
        entries=Entries(entry for key, caution in told.items() for entry in _entries(key, caution)),
        by_night=frozenset(key for key, caution in told.items() if caution.get("by_night")),
        far_too=frozenset(key for key, caution in told.items() if caution.get("far_too")),
    )


def caution_names() -> Mapping[str, str]:
    """What each kind of caution is called, by its key, in the order in which they are told."""
    return caution_lists().names


def _entries(key: str, caution: Mapping[str, Any]) -> Iterator[Entry]:
    for name, told in caution.items():
        if name in _PAIRS:
            for pair, lists in enumerate(told):
                for each, words in lists.items():
                    yield from _read(words, Tag(key, _PAIRS[name][each], pair))
        elif name not in {"name", "by_night", "far_too"}:
            yield from _read(told, Tag(key, WordRole(name)))


def _read(told: str, tag: Tag) -> tuple[Entry, ...]:
    return read_entries(told, tag, _FORMS.get(tag.role, inflected))
