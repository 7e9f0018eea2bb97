"""Where each page of a locked script begins in the next draft.

A page begins with the text that it began with, wherever the lines before it end now. Where that is gone, or stands
somewhere else, the page begins with what follows the last text before it that stayed; so new text goes on the page that
it follows, unless what began the next page went for it. A scene that was cut under the lock begins a page with its
OMITTED. Where nothing of a page is left, it begins where the next one does, and the two run together. (Common practice
in the trade, but for the last two, which are our own reading of it.)
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

from screenplay.comparing import in_order
from screenplay.model import Kind
from screenplay.next_draft.offsets import through_words
from screenplay.page import LockedPage
from screenplay.script import headings_of
from screenplay.what_prints import lines_that_print

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.comparing import Comparison
    from screenplay.model import Screenplay
    from screenplay.page import SceneNumber


class _Content(NamedTuple):
    """Something that prints: a source line, or OMITTED for the scene of a number."""

    line: int | None
    omitted: str = ""


def carry_pages(
    locked: Sequence[LockedPage],
    comparison: Comparison,
    old_numbers: Sequence[SceneNumber] = (),
    new_numbers: Sequence[SceneNumber] = (),
) -> tuple[LockedPage, ...]:
    """What each locked page begins with in `comparison.new`, from what it begins with in `comparison.old`.

    The numbers are those of both drafts' scenes where these are locked too. Every label is in the result, in the same
    order. Laid out by it the new draft has these pages and those added since, which `beginnings` then locks as well.
    """
    return _Carrying(comparison, old_numbers, new_numbers).carried(locked)


class _Carrying:
    def __init__(
        self, comparison: Comparison, old_numbers: Sequence[SceneNumber], new_numbers: Sequence[SceneNumber]
    ) -> None:
        self.comparison = comparison
        self.old, self.new = _contents(comparison.old, old_numbers), _contents(comparison.new, new_numbers)
        self.old_places = {content: at for at, content in enumerate(self.old)}
        self.new_places = {content: at for at, content in enumerate(self.new)}
        self.sources: dict[int, list[int]] = defaultdict(list)
        for fate in comparison.lines:
            for line in fate.new:
                self.sources[line].append(fate.old)
        self.transitions = {line for line, kind in enumerate(comparison.new.kinds, 1) if kind is Kind.TRANSITION}
        self.staying = self._staying(old_numbers, new_numbers)
        self.stood = sorted(self.staying)

    def _staying(
        self, old_numbers: Sequence[SceneNumber], new_numbers: Sequence[SceneNumber]
    ) -> dict[int, tuple[int, int]]:
        """The places of what is in order in both drafts, by its place in the old: the first and the last in the new."""
        old_headings = _numbers_of_headings(self.comparison.old, old_numbers)
        new_headings = _numbers_of_headings(self.comparison.new, new_numbers)
        heading_of = {number: line for line, number in new_headings.items()}
        found: dict[int, tuple[int, int]] = {}
        for at, (line, omitted) in enumerate(self.old):
            number = omitted or old_headings.get(line or 0, "")
            on = self._on(line) or [self.new_places.get(_Content(None, number))]
            if omitted and number in heading_of:
                on = [self.new_places.get(_Content(heading_of[number]))]
            places = [place for place in on if place is not None]
            if places:
                found[at] = min(places), max(places)
        stood = list(found)
        return {stood[at]: found[stood[at]] for at in in_order([found[at][0] for at in stood], may_share=True)}

    def _on(self, line: int | None) -> list[int | None]:
        fate = self.comparison.by_old.get(line) if line is not None else None
        return [place for new in fate.new if (place := self.new_places.get(_Content(new))) is not None] if fate else []

    def carried(self, locked: Sequence[LockedPage]) -> tuple[LockedPage, ...]:
        """The pages in the new draft."""
        found: list[LockedPage] = []
        latest = (0, 0)
        for page in locked:
            latest = max(latest, self._place(page))
            place, offset = latest
            content = self.new[place] if place < len(self.new) else _Content(None)
            found.append(LockedPage(page.label, content.line, offset, content.omitted))
        return tuple(found)

    def _place(self, page: LockedPage) -> tuple[int, int]:
        """Where a page begins: the place of some content, and an offset in its line."""
        at = self.old_places.get(_Content(page.line, page.omitted), len(self.old))
        if at not in self.staying:
            return self._behind(at), 0
        if page.line is None or not (page.offset or self._is_joined(page.line)):
            return self.staying[at][0], 0
        return self._within(page.line, page.offset)

    def _behind(self, at: int) -> int:
        """The place of what follows the last content before one that stayed. A transition belongs to what it ends."""
        before = bisect_left(self.stood, at) - 1
        place = self.staying[self.stood[before]][1] + 1 if before >= 0 else 0
        while place < len(self.new) and self.new[place].line in self.transitions:
            place += 1
        return place

    def _is_joined(self, line: int) -> bool:
        fate = self.comparison.by_old[line]
        return len(fate.new) == 1 and self.sources[fate.new[0]][0] != line

    def _within(self, line: int, offset: int) -> tuple[int, int]:
        """Where the words from an offset in an old line on are now: in one of the lines that it is on."""
        after = [new for new in self.comparison.by_old[line].new if _Content(new) in self.new_places]
        before = self.sources[after[0]] if len(after) == 1 else [line]
        was, now = _joined(self.comparison.old, before), _joined(self.comparison.new, after)
        char = was.begins[before.index(line)] + max(offset - was.indents[before.index(line)], 0)
        char = through_words(was.text, now.text, char, is_end=False)
        for new, begins, end, indent in zip(after, now.begins, now.ends, now.indents, strict=True):
            if char < end:
                return self.new_places[_Content(new)], char - begins + indent if char > begins else 0
        return self.new_places[_Content(after[-1])] + 1, 0


class _Joined(NamedTuple):
    """Source lines as one text without the white space around each: where each begins and ends in it, and how much
    white space it began with."""

    text: str
    begins: list[int]
    ends: list[int]
    indents: list[int]


def _joined(script: Screenplay, lines: Sequence[int]) -> _Joined:
    source = [script.source[line - 1] for line in lines]
    stripped = [line.strip() for line in source]
    ends = list(accumulate(len(text) + 1 for text in stripped))
    begins = [end - len(text) - 1 for end, text in zip(ends, stripped, strict=True)]
    return _Joined(" ".join(stripped), begins, ends, [len(line) - len(line.lstrip()) for line in source])


def _contents(script: Screenplay, numbers: Sequence[SceneNumber]) -> list[_Content]:
    """Everything that prints, in order: OMITTED before the heading of the scene that follows it, or at the end."""
    headings = headings_of(script)
    omitted: dict[int, list[str]] = {}
    waiting: list[str] = []
    for number, ordinal in numbers:
        if ordinal is None:
            waiting.append(number)
        else:
            omitted[headings[ordinal - 1].first_line], waiting = waiting, []
    printed = lines_that_print(script)
    found: list[_Content] = []
    for line in sorted(printed.keys() | omitted.keys()):
        found += [_Content(None, number) for number in omitted.get(line, ())]
        found += [_Content(line)] if line in printed else []
    return found + [_Content(None, number) for number in waiting]


def _numbers_of_headings(script: Screenplay, numbers: Sequence[SceneNumber]) -> dict[int, str]:
    headings = headings_of(script)
    return {headings[ordinal - 1].first_line: number for number, ordinal in numbers if ordinal is not None}
