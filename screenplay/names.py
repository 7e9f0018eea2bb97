"""Who is who in a script: the names that are one's, such as a character's cues, and where somebody is named in what is
told of a scene."""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from itertools import accumulate, takewhile
from typing import TYPE_CHECKING, Any, NamedTuple, Self, TypeVar

from screenplay.contracted_s import OF_SOMEBODY_THERE, follows_is_or_has
from screenplay.fountain import JOINING_WORDS, plain, same_name
from screenplay.model import Block, Kind, Screenplay, Speech
from screenplay.words import STOPS, words_and_stops

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence

_LETTERS = re.compile(r"[^\W_]+")
_POSSESSIVE = re.compile(r"['’]s$")
_QUOTES = "'‘"
_APOSTROPHE = re.compile(r"['’](?:s\b)?", re.IGNORECASE)
_BESIDE = 3  # words: "Desmond's burnt left hand"
_LONGEST_NAME = 6  # words
MOST_NAME = 120  # characters of a name of which something is said
SAME_LETTERS, NAME_WITHIN = "the same letters", "one name within the other"


class SameName(ValueError):
    """Raised where something is said of a name and itself, or of a name and none."""


Said = TypeVar("Said", bound="SaidNames")


@dataclass(frozen=True, slots=True)
class SaidNames:
    """Which names are one's, as a writer has it: `merged` has names, each with the one that it goes by; `apart` has
    pairs of names that look alike and are two's. Names are spelled in any case."""

    merged: tuple[tuple[str, str], ...] = ()
    apart: frozenset[frozenset[str]] = frozenset()

    @classmethod
    def of(cls, plain_data: Mapping[str, Any]) -> Self:
        """What `as_plain_data` gave."""
        merged = tuple(sorted(plain_data.get("merged", {}).items()))
        return cls(merged, frozenset(frozenset(pair) for pair in plain_data.get("apart", [])))

    @property
    def as_plain_data(self) -> dict[str, Any]:
        """The same as what JSON holds."""
        return {"merged": dict(self.merged), "apart": self.pairs_apart}

    @property
    def pairs_apart(self) -> list[list[str]]:
        """What is kept apart, in the order of the alphabet."""
        return sorted(sorted(pair) for pair in self.apart)

    @property
    def kept_apart(self) -> frozenset[frozenset[str]]:
        """What is kept apart, by the names it goes by, each as all spellings of it share."""
        return frozenset(frozenset(same_name(self.name_of(each)) for each in pair) for pair in self.apart)

    @property
    def merged_alone(self) -> Self:
        """The same without what is kept apart, which changes nothing of what is counted."""
        return replace(self, apart=frozenset())

    def spelled(self, name: str) -> str:
        """A name as it is kept."""
        return " ".join(name.split())

    def name_of(self, name: str) -> str:
        """What a name goes by: itself where nothing else was said."""
        return self._name_by_spelling.get(same_name(name), name)

    def names_of(self, name: str) -> tuple[str, ...]:
        """The names that were merged into a name."""
        return tuple(other for other, into in self.merged if same_name(into) == same_name(name))

    def are_one(self, one: str, other: str) -> bool:
        """Whether two names are one's by their spelling alone."""
        return same_name(one) == same_name(other)

    def are_apart(self, one: str, other: str) -> bool:
        """Whether the writer said that two names are two's, by whatever names those went."""
        return frozenset({same_name(self.name_of(one)), same_name(self.name_of(other))}) in self.kept_apart

    def with_one(self, other: str, name: str) -> Self:
        """The same once a name is `name`'s too; what was merged into it comes along. Raises SameName where the two are
        one already, or one is empty."""
        other, name = self.spelled(other), self.spelled(name)
        if not other or not name or self.are_one(other, name):
            raise SameName
        rest = self.without(other)
        found = _settled(_with_merged(rest, rest.name_of(other), rest.name_of(name)))
        if same_name(found.name_of(other)) != same_name(found.name_of(name)):
            raise SameName
        apart = (pair for pair in found.apart if len({same_name(found.name_of(each)) for each in pair}) > 1)
        return replace(found, apart=frozenset(apart))

    def with_two(self, other: str, name: str) -> Self:
        """The same once a name goes by itself, and is not `name`'s. Raises SameName where the two are spelled alike, or
        one is empty."""
        other, name = self.spelled(other), self.spelled(name)
        if not other or not name or same_name(other) == same_name(name):
            raise SameName
        said = self.without(other)
        return said if said.are_apart(other, name) else replace(said, apart=said.apart | {frozenset({other, name})})

    def without(self, name: str) -> Self:
        """The same without what was said a name goes by."""
        spellings = {same_name(name), same_name(self._merged_as(name))}
        return replace(self, merged=tuple(pair for pair in self.merged if same_name(pair[0]) not in spellings))

    @property
    def _name_by_spelling(self) -> Mapping[str, str]:
        return _by_spelling(self.merged)

    def _merged_as(self, name: str) -> str:
        """What a name is called in `merged`, if it is there."""
        return name


@lru_cache(maxsize=8)
def _by_spelling(merged: tuple[tuple[str, str], ...]) -> Mapping[str, str]:
    return {same_name(other): name for other, name in merged}


def _with_merged(said: Said, other: str, name: str) -> Said:
    """The same with one more name merged. Raises SameName where it is that one already."""
    if said.are_one(other, name):
        raise SameName
    return replace(said, merged=tuple(sorted([*said.merged, (other, name)])))


def _settled(said: Said) -> Said:
    """The same with each name, and what it goes by, as the others have them, so that it makes no difference which is
    followed first. Raises SameName where that has no end."""
    for _ in range(len(said.merged) + 1):
        before = said
        for other, name in before.merged:
            rest = said.without(other)
            one, into = rest.name_of(other), rest.name_of(name)
            said = rest if same_name(one) == same_name(into) else _with_merged(rest, one, into)
        if said == before:
            return said
    raise SameName


class CueNames(SaidNames):
    """Which cues are one character's, as a writer has it."""

    __slots__ = ()


AS_WRITTEN = CueNames()


class AlikeNames(NamedTuple):
    """Two names that may be one's: the one met more often, the other, and why."""

    name: str
    other: str
    why: str


def with_names(script: Screenplay, names: CueNames) -> Screenplay:
    """The script with its speeches under the names of `names`, so that every count of it is by character. Its text, its
    lines and what they print stay."""
    if not names.merged:
        return script
    spoken_by = cache(names.name_of)
    elements = tuple(
        element._replace(name=spoken_by(element.name)) if isinstance(element, Speech) else element
        for element in script.elements
    )
    return replace(script, elements=elements)


def alike_cues(script: Screenplay, names: CueNames = AS_WRITTEN) -> tuple[AlikeNames, ...]:
    """Cues that may be one character's and of which nothing was said: the same letters with other spaces (MA RA), a
    voice or another thing of somebody (MARA'S VOICE), a name with more words about it (YOUNG MARA). Found by letters,
    not by meaning: MARA'S MOTHER is found too."""
    cues = (element.name for element in script.elements if isinstance(element, Speech) and element.lines)
    return alike_names(cues, names, why_alike)


def alike_names(met: Iterable[str], names: SaidNames, why: Callable[[str, str], str]) -> tuple[AlikeNames, ...]:
    """Those of the names met, once or more, that may be one's by what `why` says of two, and of which nothing was
    said."""
    times: dict[str, int] = defaultdict(int)
    spelled: dict[str, str] = {}
    for name in met:
        times[same_name(name)] += 1
        spelled.setdefault(same_name(name), name)
    said, apart = {same_name(name) for name, _ in names.merged}, names.kept_apart
    found = (name for name in times.keys() - said if len(spelled[name]) <= MOST_NAME)
    ranked = sorted(found, key=lambda name: (-times[name], name))
    return tuple(
        AlikeNames(spelled[name], spelled[other], told)
        for name, other in _with_letters_in_common(ranked)
        if frozenset({name, other}) not in apart and (told := why(name, other))
    )


def _with_letters_in_common(names: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Pairs of names of which one has the other's letters, in that order and nothing between, as some of its words or
    as all of them; in the order of the names. Not every two are looked at: a script may have thousands."""
    by_letters: dict[str, list[int]] = defaultdict(list)
    for at, name in enumerate(names):
        by_letters["".join(name.split())].append(at)
    found = {
        (min(at, other), max(at, other))
        for at, name in enumerate(names)
        for letters in _letters_of_words(name)
        for other in by_letters.get(letters, ())
        if other != at
    }
    return ((names[one], names[other]) for one, other in sorted(found))


def _letters_of_words(name: str) -> Iterator[str]:
    """The letters of all words of a name, and of those that stand together in it, as many as a name has; "MARA'S"
    stands for MARA too."""
    words = [_POSSESSIVE.sub("", word) for word in name.split()]
    yield "".join(name.split())
    for start in range(len(words)):
        yield from accumulate(words[start : start + _LONGEST_NAME])


def why_alike(one: str, other: str) -> str:
    """Why two names may be one's by their letters: the same, or one name within the other; "" where nothing says so, or
    the other adds a number alone: ROOM 12 is one of several rooms."""
    name, longer = sorted((one, other), key=lambda each: len(each.split()))
    if "".join(name.split()) == "".join(longer.split()):
        return SAME_LETTERS
    parts = [_POSSESSIVE.sub("", part) for part in longer.split()]
    of = name.split()
    starts = (at for at in range(len(parts) - len(of) + 1) if parts[at : at + len(of)] == of)
    added = (word for at in starts for word in (*parts[:at], *parts[at + len(of) :]))
    return NAME_WITHIN if any(not word.strip("#").isdigit() for word in added) else ""


def action_naming(script: Screenplay, names: Collection[str]) -> Mapping[str, tuple[int, ...]]:
    """The source lines of action that name each of some characters, by the name as given.

    A line names somebody whose name stands in it as words of its own, with a capital letter, or in any letters if the
    name has several words; where YOUNG MARA speaks in the script too, "Young Mara" does not name MARA. Someone who is
    only meant, as "he" or as "the twins", is not found; nor is who merely owns what is there: Desmond's cap, but
    Desmond's hand, and Desmond's asleep. Told by the words that follow, in English.
    """
    found: dict[str, list[int]] = {name: [] for name in names}
    others = _longer_names({*names, *(each.name for each in script.elements if isinstance(each, Speech))})
    sought = [_Sought.of(name, others.get(same_name(name), ())) for name in names if name.strip()]
    by_word: dict[str, list[_Sought]] = defaultdict(list)
    anywhere = [one for one in sought if not one.first_word]
    for one in sought:
        by_word[one.first_word].append(one)
    for line, text in _action(script):
        lowered = set(_LETTERS.findall(text.casefold()))
        near = [one for word in lowered & by_word.keys() for one in by_word[word]]
        for one in (*near, *anywhere):
            if one.stands_in(text):
                found[one.name].append(line)
    return {name: tuple(lines) for name, lines in found.items()}


class _Sought(NamedTuple):
    """A name that is looked for: its first word in small letters, "" where it may stand within other letters; `others`
    are the names of others that it is part of."""

    name: str
    first_word: str
    pattern: re.Pattern[str]
    others: tuple[re.Pattern[str], ...]

    @classmethod
    def of(cls, name: str, others: Iterable[str]) -> _Sought:
        has_case = name.upper() != name.lower()
        first = _LETTERS.findall(name.casefold())[:1] if has_case else []
        return cls(name, "".join(first), _pattern(name), tuple(map(_pattern, others)))

    def stands_in(self, text: str) -> bool:
        in_any_letters = " " in self.name.strip()
        elsewhere = [met.span() for other in self.others for met in other.finditer(text)]
        return any(
            (in_any_letters or met[0][0] == met[0][0].upper())
            and not any(start <= met.start() and met.end() <= end for start, end in elsewhere)
            and not _merely_owns(text, met.start(), met.end())
            for met in self.pattern.finditer(text)
        )


def _pattern(name: str) -> re.Pattern[str]:
    parts = r"\s+".join(map(re.escape, name.split()))
    has_case = name.upper() != name.lower()
    return re.compile(rf"(?<!\w){parts}(?!\w)" if has_case else parts, re.IGNORECASE)


def _longer_names(names: Iterable[str]) -> Mapping[str, Sequence[str]]:
    """The names of others that have all of a name's words and more, by the name: YOUNG MARA and MARA'S MOTHER for MARA,
    but not MARA AND ILSE, which names both."""
    spelled = {same_name(name) for name in names}
    found: dict[str, list[str]] = defaultdict(list)
    for longer in sorted(spelled):
        parts = [_POSSESSIVE.sub("", part) for part in longer.split()]
        if not 1 < len(parts) <= _LONGEST_NAME or not JOINING_WORDS.isdisjoint(parts):
            continue
        shorter = (" ".join(parts[at:end]) for at in range(len(parts)) for end in range(at + 1, len(parts) + 1))
        within = [name for name in shorter if name in spelled and name != longer]
        if within and all(name in max(within, key=len) for name in within):
            for name in within:
                found[name].append(longer)
    return found


def _merely_owns(text: str, start: int, end: int) -> bool:
    """Whether a name that stands there is named for what is its bearer's alone."""
    apostrophe = _APOSTROPHE.match(text, end)
    is_quoted = start > 0 and text[start - 1] in _QUOTES
    if not apostrophe or (len(apostrophe[0]) == 1 and (is_quoted or text[end - 1] not in "sS")):
        return False
    after = words_and_stops(text[apostrophe.end() :].lower())
    near = list(takewhile(lambda word: word not in STOPS, after[:_BESIDE]))
    return not follows_is_or_has(after, 0) and OF_SOMEBODY_THERE.isdisjoint(near)


def _action(script: Screenplay) -> Iterator[tuple[int, str]]:
    for element in script.elements:
        if isinstance(element, Block) and element.kind is Kind.ACTION:
            yield from ((line.line, plain(line)) for line in element.lines)
