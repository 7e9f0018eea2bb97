"""The marked words of a draft as a member sees them: with the scenes of each, and words that may want a mark."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.scripts import laid_out, read_script
from review.scenes.said_of_scenes import marked_words_found, marked_words_of
from screenplay.breakdown import suggestions

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.drafts.models import Draft
    from review.scenes.breakdown import BreakdownRow
    from review.scenes.models import MarkedWord
    from screenplay.breakdown import FoundMarkedWord, SoughtWord, Suggestion
    from screenplay.script import Scene


@dataclass(frozen=True, slots=True)
class StandingWord:
    """A marked word, with each scene of the draft that it stands in, None before the first, with where in it that is
    first."""

    marked: MarkedWord
    found: tuple[tuple[BreakdownRow | None, FoundMarkedWord], ...]


@dataclass(frozen=True, slots=True)
class SuggestedWord:
    """Words that may want a mark, and the scene that they first stand in, None before the first."""

    row: BreakdownRow | None
    suggestion: Suggestion


def standing_words(draft: Draft, rows: Sequence[BreakdownRow]) -> list[StandingWord]:
    """The marked words of the draft's production, with where they stand in its scenes, which are `rows`."""
    row_of = {row.needs.ordinal: row for row in rows}
    found_of: dict[SoughtWord, dict[int, FoundMarkedWord]] = defaultdict(dict)
    for each in marked_words_found(draft):
        found_of[each.sought].setdefault(each.scene, each)
    return [
        StandingWord(word, tuple((row_of.get(scene), each) for scene, each in found_of[word.as_sought].items()))
        for word in draft.production.marked_words.filter(withdrawn_at=None)
    ]


def scenes_with(draft: Draft, marked: MarkedWord) -> list[Scene]:
    """The scenes of a draft that a marked word stands in."""
    met = {each.scene for each in marked_words_found(draft) if each.sought == marked.as_sought}
    return [scene for scene in laid_out(draft).scenes if scene.ordinal in met]


def suggested_words(draft: Draft, rows: Sequence[BreakdownRow]) -> list[SuggestedWord]:
    """Words of the draft in capitals that nobody has marked."""
    row_of = {row.needs.ordinal: row for row in rows}
    found = suggestions(read_script(draft), marked_words_of(draft))
    return [SuggestedWord(row_of.get(one.scene), one) for one in found]
