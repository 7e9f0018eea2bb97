"""The marked words of a draft as a member sees them: with the scenes of each, and words that may want a mark."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.scripts import laid_out, read_script
from review.scenes.said_of_scenes import marked_words_of, places_marked
from screenplay.breakdown import suggestions

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.drafts.models import Draft
    from review.scenes.breakdown import BreakdownRow
    from review.scenes.models import DepartmentMark
    from screenplay.breakdown import MarkedPlace, MarkedWord, Suggestion
    from screenplay.script import Scene


@dataclass(frozen=True, slots=True)
class StandingMark:
    """A marked word, with each scene of the draft that it stands in, None before the first, and its first place in
    it."""

    mark: DepartmentMark
    places: tuple[tuple[BreakdownRow | None, MarkedPlace], ...]


@dataclass(frozen=True, slots=True)
class SuggestedMark:
    """Words that may want a mark, and the scene that they first stand in, None before the first."""

    row: BreakdownRow | None
    suggestion: Suggestion


def standing_marks(draft: Draft, rows: Sequence[BreakdownRow]) -> list[StandingMark]:
    """The marked words of the draft's production, with where they stand in its scenes, which are `rows`."""
    row_of = {row.needs.ordinal: row for row in rows}
    places_of: dict[MarkedWord, dict[int, MarkedPlace]] = defaultdict(dict)
    for place in places_marked(draft):
        places_of[place.mark].setdefault(place.scene, place)
    return [
        StandingMark(mark, tuple((row_of.get(scene), place) for scene, place in places_of[mark.as_word].items()))
        for mark in draft.production.marks.filter(withdrawn_at=None)
    ]


def scenes_with(draft: Draft, mark: DepartmentMark) -> list[Scene]:
    """The scenes of a draft that a marked word stands in."""
    met = {place.scene for place in places_marked(draft) if place.mark == mark.as_word}
    return [scene for scene in laid_out(draft).scenes if scene.ordinal in met]


def suggested_marks(draft: Draft, rows: Sequence[BreakdownRow]) -> list[SuggestedMark]:
    """Words of the draft in capitals that nobody has marked."""
    row_of = {row.needs.ordinal: row for row in rows}
    found = suggestions(read_script(draft), marked_words_of(draft))
    return [SuggestedMark(row_of.get(one.scene), one) for one in found]
