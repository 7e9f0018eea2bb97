"""How much was found, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from review.search.found import FoundTexts
    from review.search.found_on_papers import FoundOnPapers


def said_in_words(found: FoundTexts | None, on_papers: FoundOnPapers | None) -> str:
    """Such as: 2 lines, 1 note and 3 places in world papers; empty where nothing was found."""
    told = []
    if found:
        told += [
            _counted(found.lines, "line", "lines", is_more=found.more_lines),
            _counted(found.notes, "note", "notes", is_more=found.more_said),
            _counted(found.replies, "reply", "replies", is_more=found.more_said),
        ]
    if on_papers:
        places = len(on_papers.texts)
        told.append(_counted(places, "place in world papers", "places in world papers", is_more=on_papers.has_more))
    *before, last = [each for each in told if each] or [""]
    return f"{', '.join(before)} and {last}" if before else last


def _counted(count: int, one: str, many: str, *, is_more: bool) -> str:
    return f"{count}{' or more' if is_more else ''} {one if count == 1 else many}" if count else ""
