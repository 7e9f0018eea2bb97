"""Edits put into a text: which go together, which touch the same words, and how one comes out again."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from screenplay.comparing import word_changes
from screenplay.fountain import LINE_ENDS, split_lines

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence


@dataclass(frozen=True, slots=True)
class Edit:
    """New text for whole lines of a text, from the first to the last, counted from 1. Empty text cuts them.

    Its own lines are parted by line feeds; once put in they get the line ends of those they replace.
    """

    first_line: int
    last_line: int
    text: str


@dataclass(frozen=True, slots=True)
class Overtaken:
    """The edit at `index` was not taken, for it touches the same words as the earlier one at `by`."""

    index: int
    by: int


@dataclass(frozen=True, slots=True)
class EditedText:
    """A text with the edits that could be taken, by their indices, and those that could not."""

    text: str
    taken: tuple[int, ...]
    overtaken: tuple[Overtaken, ...]


class Hunk(NamedTuple):
    """Words of a text, as character offsets without the end, and what stands in their place; none, if it is put in."""

    start: int
    end: int
    words: str


def revise(text: str, edits: Sequence[Edit]) -> EditedText:
    """Take edits into a text in the order given, each whole or not at all.

    Edits of different words, be it in the same line, go together, and come to the same text in any order. One that
    touches words which an earlier one has changed is overtaken, unless both change them alike. Raises ValueError for
    lines that the text does not have.
    """
    lines = split_lines(text)
    starts = [0]
    for line in lines:
        starts.append(starts[-1] + len(line))
    taken: list[tuple[int, list[Hunk]]] = []
    overtaken: list[Overtaken] = []
    for index, edit in enumerate(edits):
        hunks = _hunks_of(edit, lines, starts)
        by = next((earlier for earlier, others in taken if _touch(hunks, others)), None)
        if by is None:
            taken.append((index, hunks))
        else:
            overtaken.append(Overtaken(index, by))
    every = {hunk for _, hunks in taken for hunk in hunks}
    return EditedText(_applied(text, every), tuple(index for index, _ in taken), tuple(overtaken))


def reworded(text: str, edit: Edit) -> str:
    """The text with one edit, its lines replaced whole. Raises ValueError for lines that the text does not have."""
    lines = split_lines(text)
    _check(edit, lines)
    before, after = lines[: edit.first_line - 1], lines[edit.last_line :]
    return "".join((*before, _with_ends(edit, lines), *after))


def join_words(base: str, ours: str, theirs: str) -> str | None:
    """Both what we and what they made of a text, word by word; None where the two touch the same words.

    What both made alike is taken once. It takes a change out again, too: from the text with it, to the text without.
    """
    mine, other = _hunks(base, ours), _hunks(base, theirs)
    return None if _touch(mine, other) else _applied(base, {*mine, *other})


def _hunks_of(edit: Edit, lines: Sequence[str], starts: Sequence[int]) -> list[Hunk]:
    _check(edit, lines)
    before = "".join(lines[edit.first_line - 1 : edit.last_line])
    return _hunks(before, _with_ends(edit, lines), starts[edit.first_line - 1])


def _check(edit: Edit, lines: Sequence[str]) -> None:
    if not 1 <= edit.first_line <= edit.last_line <= len(lines):
        raise ValueError(f"lines {edit.first_line} to {edit.last_line} of a text with {len(lines)}")


def _with_ends(edit: Edit, lines: Sequence[str]) -> str:
    """The new text with line ends: each of its lines that of the line it stands for, the last that of the last."""
    if not edit.text:
        return ""
    ends = [line[len(line.rstrip(LINE_ENDS)) :] for line in lines[edit.first_line - 1 : edit.last_line]]
    usual = next((end for end in ends if end), _first_end(lines))
    words = edit.text.split("\n")
    inner = [*(end or usual for end in ends), *[usual] * len(words)]
    put_in = [word + end for word, end in zip(words, [*inner[: len(words) - 1], ends[-1]], strict=True)]
    # A line feed by itself, right after an old carriage return, would be read as one line end with that.
    above = lines[edit.first_line - 2] if edit.first_line > 1 else ""
    return "".join(
        "\r\n" if line == "\n" and before.endswith("\r") else line for before, line in pairwise([above, *put_in])
    )


def _first_end(lines: Iterable[str]) -> str:
    """How the lines of a text end, by the first that does."""
    return next((line[len(line.rstrip(LINE_ENDS)) :] for line in lines if line.endswith(("\n", "\r"))), "\n")


def _hunks(before: str, after: str, start: int = 0) -> list[Hunk]:
    """What makes the text before into the text after, in order, at offsets counted from `start`."""
    return list(_told(before, after, start))


def _told(before: str, after: str, at: int) -> Iterator[Hunk]:
    cut = ""
    for change in word_changes(before, after):
        if change.op == "added":
            yield Hunk(at - len(cut), at, change.text)
            cut = ""
            continue
        if cut:
            yield Hunk(at - len(cut), at, "")
        cut = change.text if change.op == "cut" else ""
        at += len(change.text)
    if cut:
        yield Hunk(at - len(cut), at, "")


def _touch(some: Iterable[Hunk], others: Sequence[Hunk]) -> bool:
    """Whether any two of them change the same words differently, or one puts words in beside what the other changes."""
    return any(_clash(one, other) for one in some for other in others)


def _clash(one: Hunk, other: Hunk) -> bool:
    if one == other:
        return False
    if one.start == one.end or other.start == other.end:  # words put in beside changed ones would lose what they join
        return one.start <= other.end and other.start <= one.end
    return one.start < other.end and other.start < one.end


def _applied(text: str, hunks: Iterable[Hunk]) -> str:
    pieces: list[str] = []
    at = 0
    for hunk in sorted(hunks):
        pieces += text[at : hunk.start], hunk.words
        at = hunk.end
    pieces.append(text[at:])
    return "".join(pieces)
