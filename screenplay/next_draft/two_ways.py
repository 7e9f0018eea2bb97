"""The better of two ways to where a note is now: from draft to draft, or straight from the draft it was put on."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rapidfuzz.distance import Indel

from screenplay.fountain import same_name
from screenplay.next_draft.carrying import SpanFate, SpanFateKind
from screenplay.script import chosen_text, chosen_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.model import Screenplay

NEARLY = 0.999  # the most that two stretches can be alike and not the same


def better_span(chain: SpanFate, direct: SpanFate, own: Sequence[str], script: Screenplay) -> SpanFate:
    """The better of two placements in a draft: one from draft to draft, one from the draft that it was put on itself.

    `own` are the words there, as `chosen_words` gives them, `script` the draft that both are in. The same words beat
    others, others beat none; of two with others, the one that has more in common with its own words wins. Where both
    are as good, it is the one by the chain. Where it is known by the chain, that is where it is, and if not by the
    chain, where it is known straight from the draft that it was put on. Its fate is told against its own words, and so
    against the draft that it was put on: words that changed and changed back are as they were.
    """
    if direct.span == chain.span:
        return direct
    if chain.is_known or chain.span is None or direct.span is None:
        return _against(own, direct if chain.span is None else chain, script)
    if direct.is_known:
        return _against(own, direct, script)
    ranked = [(_likeness(own, chosen_words(script, found)), found) for found in (chain.span, direct.span)]
    (by_chain, _), (by_itself, _) = ranked
    return _against(own, direct if by_itself > by_chain else chain, script)


def better_character(chain: SpanFate, direct: SpanFate, name: str) -> SpanFate:
    """As `better_span`, for a character who was called `name` in the draft that the note was put on.

    Whoever speaks by the chain is that character, whatever their name: somebody else may have got the old one. Only
    where nobody does is it whom the drafts' own comparison finds.
    """
    found = direct if chain.span is None else chain
    if found.span is None:
        return found
    is_same = same_name(found.character) == same_name(name)
    return replace(found, fate=SpanFateKind.KEPT if is_same else SpanFateKind.REWORDED)


def _likeness(own: Sequence[str], words: Sequence[str]) -> float:
    """How much of two stretches is the same, word by word in order: from 0 to 1, which only equal ones have."""
    if list(own) == list(words):
        return 1.0
    one, other = (" ".join(lines).split() for lines in (own, words))
    return min(Indel.normalized_similarity(one, other), NEARLY)


def _against(own: Sequence[str], placement: SpanFate, script: Screenplay) -> SpanFate:
    """The placement with its fate told against these words. Found on a way that told of a rewording, they moved."""
    if placement.span is None:
        return placement
    same = " ".join(own) == chosen_text(script, placement.span)
    fate = placement.fate if placement.fate is not SpanFateKind.REWORDED else SpanFateKind.MOVED
    return replace(placement, fate=fate if same else SpanFateKind.REWORDED)
