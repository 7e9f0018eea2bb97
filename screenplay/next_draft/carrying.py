"""Where a note's lines are in the next draft."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import pairwise
from typing import TYPE_CHECKING

from rapidfuzz.distance import LCSseq

from screenplay.comparing import LineFateKind, SceneFateKind, with_names_of_now
from screenplay.fountain import LINE_ENDS, same_name
from screenplay.model import Span
from screenplay.next_draft.offsets import TextOffset, through_texts
from screenplay.script import chosen_text, chosen_words, scene_span

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.comparing import Comparison, LineFate

AS_IT_WAS = frozenset({LineFateKind.KEPT, LineFateKind.MOVED})
APART = 12  # lines that may have come between two lines of a range without making it two


class SpanFateKind(StrEnum):
    """What became of a stretch: kept and moved when its words are as they were, however they are parted into lines
    and whatever the numbers of its scenes, gone when no line of it is left."""

    KEPT = "kept"
    MOVED = "moved"
    REWORDED = "reworded"
    GONE = "gone"


@dataclass(frozen=True, slots=True)
class SpanFate:
    """Where a stretch is in the new draft; `span` is None when it is gone.

    `character` is the name that a character has there, empty for what is on lines or a scene. `is_known` says that it
    was known where its lines are, one of them at least, or its scene's heading.
    """

    fate: SpanFateKind
    span: Span | None
    character: str = ""
    is_known: bool = False


GONE = SpanFate(SpanFateKind.GONE, None)


def carry(span: Span, comparison: Comparison) -> SpanFate:
    """Follow a stretch of the old draft to the new one.

    A range stays a range: from the first to the last place its lines are in, lines between them included, but a line
    that moved away from the rest is left behind. Characters are followed through the words of their line; where all
    the words chosen were cut from a line that is left, the stretch is that whole line. Lines and characters that the
    old draft does not have count as its nearest. Of a line whose words went to places far apart, the stretch is where
    most of those chosen are.
    """
    found = _Carrier(comparison).carried(span)
    is_known = not comparison.known.isdisjoint(range(span.first_line, span.last_line + 1))
    return replace(found, is_known=True) if is_known and found.span else found


def carry_scene(span: Span, comparison: Comparison) -> SpanFate:
    """Follow the scene of the old draft that a stretch begins in, and give all the lines of the scene it is now.

    Of the scenes that it was split into, the one that has most of its lines is it, the first of equals; a scene merged
    into another is that one. It is kept or moved when its words are as they were; moved too where another, with the
    same words, is the one that stands there. It is gone when it was cut, and where the stretch begins in no scene.
    """
    scene_of = comparison.old.scene_of
    scene = scene_of[min(max(span.first_line, 1), len(scene_of)) - 1] if scene_of else 0
    fates = [fate for fate in comparison.by_old_scene.get(scene, ()) if fate.new is not None]
    if not fates:
        return GONE
    shared = comparison.shared_by_scenes
    followed = max(fates, key=lambda fate: (shared.get((scene, fate.new or 0), 0), -(fate.new or 0)))
    before, now = scene_span(comparison.old, scene), scene_span(comparison.new, followed.new or 0)
    if chosen_words(comparison.old, before) != chosen_words(comparison.new, now):
        fate = SpanFateKind.REWORDED
    else:
        same = [fate.old or 0 for fate in comparison.scenes if fate.new == followed.new]
        first = max(same, key=lambda old: (shared.get((old, followed.new or 0), 0), -old))
        stands = followed.fate is not SceneFateKind.MOVED and first == scene
        fate = SpanFateKind.KEPT if stands else SpanFateKind.MOVED
    return SpanFate(fate, now, is_known=before.first_line in comparison.known)


def carry_character(name: str, comparison: Comparison) -> SpanFate:
    """Follow a character of the old draft by their name, or by the one that took its place throughout.

    The stretch is the cue under which they first speak in the new draft. They are kept under the same name, reworded
    under another, and gone when nobody of the name speaks any more.
    """
    renames = [rename for rename in comparison.renames if rename.kind == "character"]
    renamed = [rename.new for rename in renames if same_name(rename.old) == same_name(name)]
    cues = comparison.first_cues
    names = (*renamed, name, with_names_of_now(name, renames))
    found = next((cues[one] for one in map(same_name, names) if one in cues), None)
    if found is None:
        return GONE
    now, line = found
    fate = SpanFateKind.KEPT if same_name(now) == same_name(name) else SpanFateKind.REWORDED
    return SpanFate(fate, Span(line, 0, line, len(_text(comparison.new.source, line))), now)


class _Carrier:
    def __init__(self, comparison: Comparison) -> None:
        self.comparison = comparison
        self.old, self.new = comparison.old.source, comparison.new.source

    def carried(self, span: Span) -> SpanFate:
        if not self.old:
            return GONE
        span = self._within_old(span)
        fates = [
            self.comparison.by_old[line]
            for line in range(span.first_line, span.last_line + 1)
            if line in self.comparison.by_old
        ]
        if not fates:
            return self._blank(span)
        unchanged = self._unchanged(span, fates)
        if unchanged is not None:
            return unchanged
        together = _largest_group([self._where_its_words_are(fate, span) for fate in fates if fate.new])
        if not together:
            return GONE
        found = self._span(span, together)
        return SpanFate(self._fate(span, found, together), found)

    def _where_its_words_are(self, fate: LineFate, span: Span) -> LineFate:
        """The fate of a line that went to places far apart, with those near each other that have most words chosen."""
        groups = _near_each_other(fate.new)
        if len(groups) == 1:
            return fate
        line = Span(
            fate.old,
            span.first_char if fate.old == span.first_line else 0,
            fate.old,
            span.last_char if fate.old == span.last_line else len(_text(self.old, fate.old)),
        )
        chosen = " ".join(chosen_words(self.comparison.old, line)).split()
        return fate._replace(new=max(groups, key=lambda lines: self._words_in_common(chosen, lines)))

    def _words_in_common(self, chosen: Sequence[str], lines: Sequence[int]) -> int:
        words = [word for line in lines for word in _text(self.new, line).split()]
        return LCSseq.similarity(chosen, words)

    def _within_old(self, span: Span) -> Span:
        first = min(max(span.first_line, 1), len(self.old))
        last = min(max(span.last_line, first), len(self.old))
        first_char = min(max(span.first_char, 0), len(_text(self.old, first)))
        last_char = min(max(span.last_char, 0), len(_text(self.old, last)))
        return Span(first, first_char, last, max(first_char, last_char) if first == last else last_char)

    def _unchanged(self, span: Span, fates: Sequence[LineFate]) -> SpanFate | None:
        """The placement of a stretch whose lines, blank ones too, all stand together as they were."""
        if not all(fate.fate in AS_IT_WAS for fate in fates):
            return None
        shift = fates[0].new[0] - fates[0].old
        first, last = span.first_line + shift, span.last_line + shift
        if first < 1 or [_text(self.old, line) for line in range(span.first_line, span.last_line + 1)] != [
            line.rstrip(LINE_ENDS) for line in self.new[first - 1 : last]
        ]:
            return None
        if any(fate.new[0] - fate.old != shift for fate in fates):
            return None
        moved = any(fate.fate is LineFateKind.MOVED for fate in fates)
        found = Span(first, span.first_char, last, span.last_char)
        return SpanFate(SpanFateKind.MOVED if moved else SpanFateKind.KEPT, found)

    def _span(self, span: Span, fates: Sequence[LineFate]) -> Span:
        first_line = min(line for fate in fates for line in fate.new)
        last_line = max(line for fate in fates for line in fate.new)
        first_char, last_char = 0, len(_text(self.new, last_line))
        for fate in fates:
            if self._is_whole(fate, span):
                continue
            if fate.old == span.first_line and fate.new[0] == first_line:
                first_line, first_char = self._followed(fate, span.first_char, is_end=False)
            if fate.old == span.last_line and fate.new[-1] == last_line:
                last_line, last_char = self._followed(fate, span.last_char, is_end=True)
        first_char = self._without_joined_before(span, fates, first_line, first_char)
        last_char = self._without_joined_after(span, fates, last_line, last_char)
        found = Span(first_line, first_char, last_line, last_char)
        was_empty = (span.first_line, span.first_char) == (span.last_line, span.last_char)
        if (first_line, first_char) > (last_line, last_char) or (
            (first_line, first_char) == (last_line, last_char) and not was_empty
        ):
            lines = min(first_line, last_line), max(first_line, last_line)
            return Span(lines[0], 0, lines[1], len(_text(self.new, lines[1])))
        return found

    def _is_whole(self, fate: LineFate, span: Span) -> bool:
        """Whether a line is in a stretch from end to end, and so is all that it became, but for others' words."""
        begins = fate.old > span.first_line or span.first_char == 0
        ends = fate.old < span.last_line or span.last_char == len(_text(self.old, fate.old))
        return begins and ends and fate.fate is not LineFateKind.JOINED

    def _without_joined_before(self, span: Span, fates: Sequence[LineFate], line: int, char: int) -> int:
        """Where the range's own words begin in a line that words from before it were joined into."""
        own = [fate for fate in fates if fate.new[0] == line]
        if char or not own or own[0].fate is not LineFateKind.JOINED or own[0].old == span.first_line:
            return char
        return self._followed(own[0], 0, is_end=False)[1]

    def _without_joined_after(self, span: Span, fates: Sequence[LineFate], line: int, char: int) -> int:
        own = [fate for fate in fates if fate.new[-1] == line]
        if not own or own[-1].fate is not LineFateKind.JOINED or own[-1].old == span.last_line:
            return char
        return self._followed(own[-1], len(_text(self.old, own[-1].old)), is_end=True)[1]

    def _followed(self, fate: LineFate, char: int, *, is_end: bool) -> tuple[int, int]:
        """The new line and character of a character of an old line; an end stays behind what it stood behind.

        A line that was joined to others is followed in their company, where each keeps words of its own.
        """
        texts = [_text(self.new, line) for line in fate.new]
        if [_text(self.old, fate.old)] == texts:
            return fate.new[0], char
        joined = self.comparison.by_new[fate.new[0]] if fate.fate is LineFateKind.JOINED else (fate.old,)
        offset = TextOffset(joined.index(fate.old), char)
        found = through_texts([_text(self.old, line) for line in joined], texts, offset, is_end=is_end)
        return fate.new[found.nth], found.char

    def _fate(self, span: Span, found: Span, fates: Sequence[LineFate]) -> SpanFateKind:
        if chosen_text(self.comparison.old, span) != chosen_text(self.comparison.new, found):
            return SpanFateKind.REWORDED
        moved = any(fate.old in self.comparison.moved for fate in fates)
        return SpanFateKind.MOVED if moved else SpanFateKind.KEPT

    def _blank(self, span: Span) -> SpanFate:
        """A stretch of blank lines stands where the line before it stands, if blank lines are there."""
        line = span.first_line - 1
        while line and line not in self.comparison.by_old:
            line -= 1
        shift, fate = 0, LineFateKind.KEPT
        if line:
            before = self.comparison.by_old[line]
            if not before.new:
                return GONE
            shift, fate = before.new[-1] - line, before.fate
        lines = range(span.first_line + shift, span.last_line + shift + 1)
        if lines.stop - 1 > len(self.new) or any(_text(self.new, at).strip() for at in lines):
            return GONE
        first_char = min(span.first_char, len(_text(self.new, lines[0])))
        last_char = min(span.last_char, len(_text(self.new, lines[-1])))
        found = Span(lines[0], first_char, lines[-1], max(first_char, last_char) if len(lines) == 1 else last_char)
        return SpanFate(SpanFateKind.MOVED if fate is LineFateKind.MOVED else SpanFateKind.KEPT, found)


def _text(source: Sequence[str], line: int) -> str:
    return source[line - 1].rstrip(LINE_ENDS)


def _largest_group(fates: Sequence[LineFate]) -> list[LineFate]:
    """The most lines of a range that are still near each other in the new draft, the first of equals."""
    groups: list[list[LineFate]] = []
    for before, fate in pairwise([None, *sorted(fates, key=lambda fate: (fate.new, fate.old))]):
        assert fate is not None
        if before is None or fate.new[0] - before.new[-1] > APART + abs(fate.old - before.old):
            groups.append([])
        groups[-1].append(fate)
    largest = max(groups, key=len, default=[])
    return sorted(largest, key=lambda fate: fate.old)


def _near_each_other(lines: Sequence[int]) -> list[tuple[int, ...]]:
    """Lines, rising, in groups of those that are near each other."""
    groups: list[tuple[int, ...]] = []
    for line in lines:
        if groups and line - groups[-1][-1] <= APART:
            groups[-1] += (line,)
        else:
            groups.append((line,))
    return groups
