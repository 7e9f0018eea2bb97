"""Where English speech contracts a verb or its "not", and where it could have and did not.

The rules are pairs of a word and what contracts with it, and count both ways: "it's" is counted as contracted because
"it is" is counted as a place that could have been, and "won't you" because "will you not" is. What has no full form
here is not counted at all: "goin'", "gonna", "o'clock", "'em", "appear'd", and after a noun the 's that may be a
possessive. After a word like "nobody" it is one ("nobody's business") unless what follows tells that it is a verb
("nobody's here", "everybody's got one"), and so it is with the full form ("nobody is here").

Some count as contracted alone: "ain't", which stands for several full forms; "'twas", "y'all" and "c'mon", whose full
forms ("it was", "you all", "come on") are hardly ever contracted by those who say them.

A place is one auxiliary verb: "they would have gone", "it is not" and "couldn't've" are one each. A full form counts
only where speech could contract it: not at the end of a clause ("yes, it is", "what they are, and"), and have, has and
had only as auxiliaries, before a participle ("I have gone", "where has he gone"; not "I have a boat", "you have to
go"). Lines are taken one by one. The rules see words, not grammar: "I know what it is to wait" counts, though nobody
contracts it.
"""

from __future__ import annotations

from itertools import repeat
from typing import TYPE_CHECKING, NamedTuple

from screenplay.contracted_s import follows_is_or_has, is_participle
from screenplay.words import token_spans, words_and_stops_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

# What each verb contracts with when it stands after it, and what is then left of the verb.
_AFTER = (
    ("am", "'m", "i"),
    ("are", "'re", "you we they who what where how"),
    ("is", "'s", "he she it that there here who what where when how why"),
    ("did", "'d", "what where when how why"),
    ("will", "'ll", "i you he she it we they that there who what"),
    ("shall", "'ll", "i we"),
    ("would", "'d", "i you he she it we they that there who what where how"),
    ("have", "'ve", "i you we they who what where how why could would should might must"),
    ("has", "'s", "he she it that there who what where how"),
    ("had", "'d", "i you he she it we they that there who"),
    ("us", "'s", "let"),
)
_NEGATED = {
    "are": "aren't",
    "can": "can't",
    "could": "couldn't",
    "dare": "daren't",
    "did": "didn't",
    "do": "don't",
    "does": "doesn't",
    "had": "hadn't",
    "has": "hasn't",
    "have": "haven't",
    "is": "isn't",
    "might": "mightn't",
    "must": "mustn't",
    "need": "needn't",
    "ought": "oughtn't",
    "shall": "shan't",
    "should": "shouldn't",
    "was": "wasn't",
    "were": "weren't",
    "will": "won't",
    "would": "wouldn't",
}
# The older way to contract "it is", "it will", "it would" and "it was", with or without its apostrophe.
_IT_FIRST = frozenset({"tis", "twill", "twould", "twas"})
_ALONE = frozenset({"ain't", "y'all", "c'mon"})


def _set(words: str) -> frozenset[str]:
    return frozenset(words.split())


_AUXILIARY_ONLY = _set("have has had")
_SUBJECTS = _set("i you he she it we they")
_ASKING = _set("who what where when how why")
_INDEFINITE = _set("anybody anyone anything everybody everyone everything nobody nothing somebody someone something")
_END_OF_CLAUSE = _set("and or but than")

_HOSTS = {**dict.fromkeys((*_NEGATED, "cannot"), _set("")), **{verb: _set(hosts) for verb, _, hosts in _AFTER}}
_INDEFINITE_S = frozenset(f"{word}'s" for word in _INDEFINITE)
_CONTRACTED = frozenset(
    {host + left for _, left, hosts in _AFTER for host in hosts.split()} | {*_NEGATED.values()} | _IT_FIRST | _ALONE
)
_VERBS = frozenset(_HOSTS)
TOLD_BY_THEIR_NEIGHBOURS = _VERBS | _INDEFINITE_S  # whether they contract, or could have, is
_FOLLOWS_INDEFINITE = {"is": follows_is_or_has, "has": is_participle}
_STRAIGHT = {ord(apostrophe): "'" for apostrophe in "’ʼ＇"}


class Contractions(NamedTuple):
    """How many forms are contracted, and how many places could have been and were not."""

    contracted: int
    uncontracted: int


class ContractionSpan(NamedTuple):
    """A place in a line that is contracted, or could have been: from one character up to, and without, another."""

    start: int
    end: int
    is_contracted: bool


def count_in(said: list[str], counts: Mapping[str, int], beside: Iterable[int]) -> Contractions:
    """The contractions in the words of texts and the stops between, as `words_and_stops_of` has them of texts that
    `straight` has been over. `counts` has how often each word comes in it, by which forms are counted that are
    contracted wherever they stand; `beside` are the positions of those that are TOLD_BY_THEIR_NEIGHBOURS."""
    contracted = sum(
        counts[word] * _contracted_in(word)
        for word in (*[word for word in counts if "'" in word], *(_IT_FIRST & counts.keys()))
        if word not in TOLD_BY_THEIR_NEIGHBOURS
    )
    found = [is_contracted for _, is_contracted in _places(said, beside)]
    by_neighbours = sum(found)
    return Contractions(contracted + by_neighbours, len(found) - by_neighbours)


def contraction_spans(line: str) -> list[ContractionSpan]:
    """Where a line contracts or could have, in order; of "I am" and "do not" the place is both words."""
    text = straight(line)
    spans = token_spans(text)
    said = words_and_stops_of([text])
    found: list[ContractionSpan] = []
    told = [at for at, word in enumerate(said) if "'" in word or word in _IT_FIRST or word in TOLD_BY_THEIR_NEIGHBOURS]
    for at, is_contracted in _places(said, told):
        first, last = (at, at) if is_contracted else _words_of(said, at)
        found.append(ContractionSpan(spans[first][0], spans[last][1], is_contracted))
    return found


def straight(text: str) -> str:
    """A text in small letters with straight apostrophes, of the same length."""
    lowered = text.lower()
    if len(lowered) != len(text):
        lowered = "".join(low if len(low := one.lower()) == 1 else one for one in text)
    return lowered.translate(_STRAIGHT) if not lowered.isascii() else lowered


def _places(said: list[str], positions: Iterable[int]) -> Iterator[tuple[int, bool]]:
    """Which of some positions are places, several times those that are several, and whether they are contracted."""
    last = -2  # the place counted last; the verb right after it is part of the same one
    for position in positions:
        word = said[position]
        if word in _VERBS:
            if last != position - 1 and _could_contract(said, position):
                last = position
                yield position, False
        elif word in _INDEFINITE_S:
            if follows_is_or_has(said, position + 1):
                yield position, True
        else:
            yield from repeat((position, True), _contracted_in(word))


def _words_of(said: list[str], position: int) -> tuple[int, int]:
    """The first and the last token of a place that could have contracted at a verb."""
    after = [*said[position + 1 : position + 3]]
    if "not" in after:
        return position, position + 1 + after.index("not")
    return (position if said[position] == "cannot" else max(position - 1, 0)), position


def _contracted_in(word: str) -> int:
    """How many of a word's parts, as hyphens join them, are contracted wherever they stand."""
    return sum(form in _CONTRACTED or form.rpartition("'")[0] in _CONTRACTED for form in word.split("-"))


def _could_contract(said: list[str], position: int) -> bool:
    """Whether the verb at `position` could contract with what stands before it, or with a "not" behind it."""
    before, verb, after = said[position - 1], said[position], said[position + 1]  # TEXT_END is before the first
    if "-" in before or "-" in after:
        before, after = before.rpartition("-")[2], after.partition("-")[0]
    if verb == "cannot" or (after == "not" and verb in _NEGATED):
        return True
    if after in _SUBJECTS and said[position + 2] == "not" and (verb in _NEGATED or verb == "am"):
        return True
    if before in _INDEFINITE:
        return verb in _FOLLOWS_INDEFINITE and _FOLLOWS_INDEFINITE[verb](said, position + 1)
    if before not in _HOSTS[verb] or not after[:1].isalnum() or after in _END_OF_CLAUSE:
        return False
    if verb not in _AUXILIARY_ONLY or (verb == "had" and after == "better"):
        return True
    is_asked = before in _ASKING and after in _SUBJECTS
    return is_participle(said, position + 1 + is_asked)
