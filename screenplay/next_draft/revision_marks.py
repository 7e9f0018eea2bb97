"""What of a draft's pages is revised: the rows that get an asterisk, told from what lies between two drafts.

A row is revised where words of it are new or reworded, where its line moved there, or where something was cut: then it
is the row that follows the cut, and at the end of the script the one before it. So is OMITTED in its first draft. What
a new row begins with because words above it came or went is not, nor are words that print as they did.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from screenplay.comparing import LineFateKind, word_changes
from screenplay.model import Heading, Kind, Printed, Speech

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from screenplay.comparing import Comparison, LineFate
    from screenplay.model import Screenplay
    from screenplay.page import Layout, SceneNumber

__all__ = ["RevisionMarks", "marked_rows", "marks_between"]

_UNPRINTED = frozenset({Kind.SECTION, Kind.SYNOPSIS, Kind.NOTE, Kind.BONEYARD, Kind.PAGE_BREAK})
_END = 1 << 40  # an offset after every character of a line
_WHOLE = (0, _END)
_BEGINNING = (0, 0)
Offsets = tuple[int, int]


@dataclass(frozen=True)
class RevisionMarks:
    """What is revised: in each source line of the new draft, (start, end) as offsets in it, equal where something
    was cut; and the numbers of the scenes that are OMITTED for the first time."""

    in_lines: Mapping[int, tuple[Offsets, ...]] = field(default_factory=dict)
    omitted: frozenset[str] = frozenset()

    @classmethod
    def of_lines(cls, lines: Iterable[int]) -> RevisionMarks:
        """Whole source lines."""
        return cls(dict.fromkeys(lines, (_WHOLE,)))


def marks_between(
    comparison: Comparison, old_numbers: Sequence[SceneNumber] = (), new_numbers: Sequence[SceneNumber] = ()
) -> RevisionMarks:
    """What is revised between two drafts. Where both have locked scene numbers, a scene that is cut shows in its
    OMITTED alone."""
    old, new = _printed(comparison.old), _printed(comparison.new)
    omitted = _omitted_first(old_numbers, new_numbers)
    marked: dict[int, list[Offsets]] = defaultdict(list)
    sources: dict[int, list[LineFate]] = defaultdict(list)
    for fate in comparison.lines:
        for line in fate.new:
            sources[line].append(fate)
    for line, printed in new.items():
        before = [(fate, old[fate.old]) for fate in sources[line] if fate.old in old]
        marked[line] += _marked(printed, before)
    cut_scenes = {ordinal for number, ordinal in old_numbers if ordinal and number in omitted}
    gone = {line for line in old if not any(on in new for on in _on(comparison, line))}
    shown = {line for line in gone if comparison.old.scene_of[line - 1] not in cut_scenes}
    for line in _after_cuts(comparison, [*old], shown, gone, [*new]):
        marked[line].append(_BEGINNING)
    return RevisionMarks({line: tuple(found) for line, found in marked.items() if found}, omitted)


def marked_rows(layout: Layout, marks: RevisionMarks) -> dict[int, frozenset[int]]:
    """The rows of each page, counted from 0, that are revised, by the page's number; pages without any are left out."""
    rows: dict[int, set[int]] = defaultdict(set)
    starts: dict[int, list[tuple[int, int, int]]] = defaultdict(list)  # of each line: (offset, page, row)
    for page in layout.pages:
        for at, row in enumerate(page.rows):
            if row.added == "omitted" and row.number in marks.omitted:
                rows[page.number].add(at)
            for cell in row.cells:
                if cell.line is not None and cell.line in marks.in_lines:
                    starts[cell.line].append((cell.runs[0].start, page.number, at))
    for line, found in starts.items():
        ends = [*(start for start, _, _ in found[1:]), _END + 1]
        for index, ((start, page_number, at), end) in enumerate(zip(found, ends, strict=True)):
            first = start if index else 0
            if any(begin < end and max(stop, begin + 1) > first for begin, stop in marks.in_lines[line]):
                rows[page_number].add(at)
    return {number: frozenset(found) for number, found in sorted(rows.items())}


def _printed(script: Screenplay) -> dict[int, Printed]:
    """The source lines that print something, in order."""
    found: dict[int, Printed] = {}
    for element in script.elements:
        lines = (element.printed,) if isinstance(element, Heading) else element.lines
        for line in (element.cue, *lines) if isinstance(element, Speech) else lines:
            if line.kind not in _UNPRINTED and line.text.strip():
                found[line.line] = line
    return dict(sorted(found.items()))


def _on(comparison: Comparison, line: int) -> tuple[int, ...]:
    fate = comparison.by_old.get(line)
    return fate.new if fate else ()


def _marked(printed: Printed, before: list[tuple[LineFate, Printed]]) -> Iterator[Offsets]:
    """Where a printed line of the new draft is revised, as offsets in its source line."""
    if not before or any(fate.fate in {LineFateKind.MOVED, LineFateKind.SPLIT} for fate, _ in before):
        yield _WHOLE
        return
    was = " ".join(line.text for _, line in before)
    if before[0][1].kind is not printed.kind:
        yield _WHOLE
    elif was.split() != printed.text.split():
        yield from _changed(was, printed)


def _changed(was: str, printed: Printed) -> Iterator[Offsets]:
    at = 0
    for change in word_changes(was, printed.text):
        if change.op == "cut":
            offset = printed.source_offset(min(at, len(printed.text) - 1))
            yield offset, offset
        elif change.op == "added":
            yield printed.source_offset(at), printed.source_offset(at + len(change.text) - 1) + 1
        at += len(change.text) if change.op != "cut" else 0


def _omitted_first(old_numbers: Sequence[SceneNumber], new_numbers: Sequence[SceneNumber]) -> frozenset[str]:
    """The numbers that are OMITTED in the new draft and stood in the old one, where both have locked numbers."""
    standing = {number for number, ordinal in old_numbers if ordinal}
    return frozenset(number for number, ordinal in new_numbers if number in standing and not ordinal)


def _after_cuts(
    comparison: Comparison, old: list[int], shown: set[int], gone: set[int], new: list[int]
) -> Iterator[int]:
    """The new line that stands after each of the old lines that are gone and to be shown."""
    following = dict(pairwise(new))
    last: int | None = None  # the new line on which the last one that stays in order stands
    for line in old:
        if line not in gone:
            fate = comparison.by_old[line]
            last = max(fate.new) if fate.fate is not LineFateKind.MOVED else last
        elif line in shown and new:
            yield following.get(last, last) if last is not None else new[0]
