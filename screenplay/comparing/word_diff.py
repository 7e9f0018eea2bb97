"""What changed within a text, told in words: which stay, which go, which come."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from rapidfuzz.distance import LCSseq

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

# A word with its inner apostrophes and hyphens, a run of white space, or one mark: joined, they are the text.
_PIECE = re.compile(r"[^\W_]+(?:['’\-‐‑][^\W_]+)*|\s+|.", re.DOTALL)
_SENTENCE_ENDS, _CLOSING = frozenset(".?!…"), frozenset('"”’')
_PIECES_ALIGNED = 6000  # of both texts together; beyond it, what lies between the common ends counts as replaced
CommonRun = tuple[int, int, int]  # where words in a row start in one text and in another, and how many they are


@dataclass(frozen=True, slots=True)
class WordChange:
    """A stretch of text. Joined, "same" and "cut" are the text before; "same" and "added" are the text after."""

    op: Literal["same", "cut", "added"]
    text: str


def word_changes(before: str, after: str) -> tuple[WordChange, ...]:
    """The words that stay, go and come from one text to another, in reading order, a cut before what replaces it.

    Words change whole, white space between two changed words changes with them, and nothing is lost: see WordChange.
    No two neighbours have the same `op`, none is empty.
    """
    return tuple(WordChange(op, text) for op, text in _merged(_steps(before, after)))


def shares(before: str, after: Sequence[str]) -> list[str]:
    """The text before, cut into a piece for each text after that has the words which stay in it; joined they are it.

    Words that stay nowhere are in the piece of the words before them. None of the texts has a line end.
    """
    pieces = [""] * max(1, len(after))
    at = 0
    for change in word_changes(before, "\n".join(after)):
        if change.op != "added":
            pieces[at] += change.text
        at += change.text.count("\n")
    return pieces


Step = tuple[Literal["same", "cut", "added"], str]


def _steps(before: str, after: str) -> Iterator[Step]:
    old, new = _PIECE.findall(before), _PIECE.findall(after)
    position_old = position_new = 0
    common = _by_sentences(list(_joined_up(_common(old, new), old, new)), old, new)
    for old_start, new_start, length in _bridged(common, old, new):
        yield "cut", "".join(old[position_old:old_start])
        yield "added", "".join(new[position_new:new_start])
        position_old, position_new = old_start + length, new_start + length
        yield "same", "".join(old[old_start:position_old])


def _common(old: Sequence[str], new: Sequence[str]) -> list[CommonRun]:
    """Stretches of pieces in both, as (start in old, start in new, length), closed by an empty one at the end."""
    if len(old) + len(new) > _PIECES_ALIGNED:
        return _common_ends(old, new)
    numbers: dict[str, int] = {}
    coded = [[numbers.setdefault(piece, len(numbers)) for piece in pieces] for pieces in (old, new)]
    return [(block.a, block.b, block.size) for block in LCSseq.opcodes(*coded).as_matching_blocks()]


def _common_ends(old: Sequence[str], new: Sequence[str]) -> list[CommonRun]:
    shortest = min(len(old), len(new))
    head = next((at for at in range(shortest) if old[at] != new[at]), shortest)
    rest = shortest - head
    tail = next((at for at in range(rest) if old[-1 - at] != new[-1 - at]), rest)
    return [(0, 0, head), (len(old) - tail, len(new) - tail, tail), (len(old), len(new), 0)]


def _joined_up(blocks: Sequence[CommonRun], old: Sequence[str], new: Sequence[str]) -> Iterator[CommonRun]:
    """The blocks, one for two where the words between them, in one text alone, can as well stand in front of both or
    behind: of `Yes.` and `Yes. No.` it is the whole `Yes.` that stays."""
    before: CommonRun = (0, 0, 0)
    for start_old, start_new, length in blocks:
        end_old, end_new = before[0] + before[2], before[1] + before[2]
        is_only_added, is_only_cut = start_old == end_old, start_new == end_new
        joined = before[2] + length
        if before[2] and length and is_only_added != is_only_cut:
            if old[end_old : end_old + length] == new[end_new : end_new + length]:
                before = (before[0], before[1], joined)
                continue
            at_old, at_new = start_old - before[2], start_new - before[2]
            if old[at_old:start_old] == new[at_new:start_new]:
                before = (at_old, at_new, joined)
                continue
        if before[2]:
            yield before
        before = (start_old, start_new, length)
    yield before


def _by_sentences(blocks: Sequence[CommonRun], old: Sequence[str], new: Sequence[str]) -> list[CommonRun]:
    """The blocks, where what one text alone has between two of them can as well be a whole sentence: of
    `The boat. The tide. The gulls.` without its second, `The tide. ` is cut, and not `tide. The `."""
    moved: list[CommonRun] = [(0, 0, 0)]
    for start_old, start_new, length in blocks:
        before_old, before_new, before = moved[-1]
        end_old, end_new = before_old + before, before_new + before
        further = 0
        if start_old == end_old:
            further = _to_sentences(new, end_new, start_new, range(-before, length + 1))
        elif start_new == end_new:
            further = _to_sentences(old, end_old, start_old, range(-before, length + 1))
        moved[-1] = (before_old, before_new, before + further)
        moved.append((start_old + further, start_new + further, length - further))
    return moved


def _to_sentences(pieces: Sequence[str], start: int, end: int, within: range) -> int:
    """How many pieces on (less than 0: back) a stretch of them has to be taken, over others that are the same, to begin
    and end between sentences; 0 where that is not to be had, or it does so as it stands."""

    def edges(further: int) -> int:
        return _is_between_sentences(pieces, start + further) + _is_between_sentences(pieces, end + further)

    best, most = 0, edges(0)
    for further in _as_far_as_equal(pieces, start, end, within):
        if most == 2:
            break
        if edges(further) > most:
            best, most = further, edges(further)
    return best


def _as_far_as_equal(pieces: Sequence[str], start: int, end: int, within: range) -> Iterator[int]:
    for back in range(1, 1 - within.start):
        if pieces[start - back] != pieces[end - back]:
            break
        yield -back
    for on in range(1, within.stop):
        if pieces[start + on - 1] != pieces[end + on - 1]:
            break
        yield on


def _is_between_sentences(pieces: Sequence[str], at: int) -> bool:
    if at in {0, len(pieces)}:
        return True
    last = at - 2 if pieces[at - 1].isspace() else at - 1 if pieces[at].isspace() else -1
    if last > 0 and pieces[last] in _CLOSING:
        last -= 1
    return last >= 0 and pieces[last] in _SENTENCE_ENDS


def _bridged(blocks: Sequence[CommonRun], old: Sequence[str], new: Sequence[str]) -> Iterator[CommonRun]:
    """The blocks without those of white space alone between changes on both its ends, so that phrases change as one."""
    last = len(blocks) - 1
    end_old = end_new = 0
    for at, (start_old, start_new, length) in enumerate(blocks):
        changed_before = start_old > end_old or start_new > end_new
        follows = blocks[at + 1] if at < last else None
        changed_after = follows is not None and (follows[0] > start_old + length or follows[1] > start_new + length)
        end_old, end_new = start_old + length, start_new + length
        if length == 1 and changed_before and changed_after and old[start_old].isspace():
            continue
        yield start_old, start_new, length


def _merged(steps: Iterator[Step]) -> Iterator[Step]:
    """Neighbouring changes as one cut and one addition; the same text as one stretch."""
    cut = added = same = ""
    for op, text in steps:
        if not text:
            continue
        if op == "same":
            yield from _told(cut, added)
            cut = added = ""
            same += text
        else:
            if same:
                yield "same", same
                same = ""
            cut, added = (cut + text, added) if op == "cut" else (cut, added + text)
    yield from _told(cut, added)
    if same:
        yield "same", same


def _told(cut: str, added: str) -> Iterator[Step]:
    if cut:
        yield "cut", cut
    if added:
        yield "added", added
