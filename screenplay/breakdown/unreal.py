"""Which words of a sentence name what is not there to be worked with: likenesses, pictures, signs, memories, denials.

They are told by the words of `unreal.toml` that stand beside them, by quotation marks and by capital letters. This is
reading by rule, and can be wrong either way.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from screenplay.breakdown.entries import Entries, read_entries
from screenplay.breakdown.list_files import list_file

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterator, Mapping, Sequence

    from screenplay.breakdown.entries import Match
    from screenplay.breakdown.sentences import Sentence

_REACH_OF_DENIAL = 3  # words
_REACH_OF_NOT = 2
_REACH_OF_MERE = 3


class Seeming(NamedTuple):
    """The places in a sentence of words that are not worked with. `likened` are those of them that name a likeness or a
    picture, so that the same word met again in the scene means it still; `undone` holds for what is done alone. `named`
    are those that are only part of a name, whose bearer may well be there, `far` those that are only seen far off."""

    unreal: frozenset[int]
    likened: frozenset[int]
    undone: frozenset[int]
    named: frozenset[int]
    far: frozenset[int]


def seeming(sentence: Sentence, before: Sentence | None) -> Seeming:
    """What only seems in a sentence; `before` is the sentence before it in the line."""
    met = _met(sentence)
    likened = {at for at, quoted in enumerate(sentence.quoted) if quoted}
    likened.update(_likenesses(sentence, met))
    if (
        before
        and "on_it" in met
        and met["on_it"][0].start == 0
        and not _met(before).keys().isdisjoint(("pictures", "shown"))
    ):
        likened.update(range(len(sentence.words)))
    if any(map(sentence.is_all_capitals, range(len(sentence.words)))):
        likened.update(_lettering(sentence, met, before))
    unreal = likened.union(_told(sentence, met), _denied(sentence, met))
    named = frozenset(_names(sentence))
    far = frozenset(range(len(sentence.words))) if "far_off" in met else frozenset()
    return Seeming(
        unreal=named.union(unreal, far),
        likened=named.union(likened),
        undone=frozenset(_undone(sentence, met)),
        named=named.difference(unreal, far),
        far=frozenset() if "heard" in met else far.difference(unreal, named),
    )


@cache
def _entries() -> Entries:
    return Entries(entry for name, told in list_file("unreal").items() for entry in read_entries(told, name))


def _met(sentence: Sentence) -> dict[Hashable, list[Match]]:
    met: dict[Hashable, list[Match]] = {}
    for match in _entries().matches(sentence):
        met.setdefault(match.entry.tag, []).append(match)
    return met


def _likenesses(sentence: Sentence, met: Mapping[Hashable, Sequence[Match]]) -> Iterator[int]:
    for match in met.get("likeness", ()):
        yield from range(match.end, _clause_end(sentence, match.end - 1))
    for match in met.get("pictures", ()):
        if any(of.start == match.end for of in met.get("picture_of", ())):
            yield from range(match.end, len(sentence.words))
        elif (colon := _colon(sentence, match.end - 1)) is not None:
            yield from range(colon, len(sentence.words))
    for match in met.get("shown", ()):
        yield from range(match.start, len(sentence.words))
    for match in met.get("mere", ()):
        yield from range(match.end, min(match.end + _REACH_OF_MERE, _clause_end(sentence, match.end - 1)))


def _colon(sentence: Sentence, start: int) -> int | None:
    """The word after the next colon, None where there is none."""
    return next((at + 1 for at in range(start, len(sentence.words)) if ":" in sentence.gaps[at]), None)


def _told(sentence: Sentence, met: Mapping[Hashable, Sequence[Match]]) -> Iterator[int]:
    for match in (*met.get("told", ()), *met.get("beyond", ())):
        yield from range(match.start, len(sentence.words))
    if "views" in met:
        yield from range(len(sentence.words))


def _denied(sentence: Sentence, met: Mapping[Hashable, Sequence[Match]]) -> Iterator[int]:
    for match in met.get("denied", ()):
        end = min(match.end + _REACH_OF_DENIAL, _clause_end(sentence, match.end - 1))
        yield from range(match.end, end)


def _undone(sentence: Sentence, met: Mapping[Hashable, Sequence[Match]]) -> Iterator[int]:
    for match in met.get("undone", ()):
        yield from range(match.end, min(match.end + _REACH_OF_NOT, len(sentence.words)))


def _lettering(sentence: Sentence, met: Mapping[Hashable, Sequence[Match]], before: Sentence | None) -> Iterator[int]:
    """Words in capitals that are read on something."""
    capitals = [at for at in range(len(sentence.words)) if sentence.is_all_capitals(at)]
    if 1 < len(capitals) == len(sentence.words) and before and "lettering" in _met(before):
        yield from capitals
    first = min((match.end for match in met.get("lettering", ())), default=len(sentence.words))
    yield from (at for at in capitals if at >= first)


def _names(sentence: Sentence) -> Iterator[int]:
    """Words that stand with others of capital letters, not all in capitals: the Ferry House, Fire Brigade."""
    for at in range(len(sentence.words)):
        if _is_named(sentence, at) and (
            (at and not sentence.stops_after(at - 1) and _is_named(sentence, at - 1) and at > 1)
            or (at + 1 < len(sentence.words) and not sentence.stops_after(at) and _is_named(sentence, at + 1))
        ):
            yield at


def _is_named(sentence: Sentence, at: int) -> bool:
    return sentence.is_capital(at) and not sentence.is_all_capitals(at)


def _clause_end(sentence: Sentence, start: int) -> int:
    """The word before which the clause ends that a word stands in: after the next comma or other mark."""
    for at in range(start, len(sentence.words)):
        if sentence.stops_after(at):
            return at + 1
    return len(sentence.words)
