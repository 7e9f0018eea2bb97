"""What two texts made from one come to: pieces of text, and conflicts that state what both versions did."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from itertools import chain
from typing import TYPE_CHECKING

from screenplay.next_draft.line_merge import Clash, Lines, TextLine, lines_of
from screenplay.next_draft.scene_texts import end_with_blank_line

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence


class ConflictKind(StrEnum):
    """What two versions did that can't both stand: each changed the same lines, one cut what the other changed or
    moved, or each moved the same scene to a place of its own, at both of which there is a conflict then."""

    CHANGED = "changed"
    CUT = "cut"
    MOVED = "moved"


@dataclass(frozen=True, slots=True)
class Conflict:
    """Lines that both versions changed, each in its own way: as they were, as they are, and as they are to be put
    in."""

    base: str
    ours: str
    theirs: str
    kind: ConflictKind = ConflictKind.CHANGED


@dataclass(frozen=True, slots=True)
class Merged:
    """The merged text in pieces, in order: text that is settled, and conflicts."""

    pieces: tuple[str | Conflict, ...]

    @property
    def conflicts(self) -> tuple[Conflict, ...]:
        return tuple(piece for piece in self.pieces if isinstance(piece, Conflict))

    @property
    def text(self) -> str | None:
        """The whole text; None while there is a conflict in it."""
        return None if self.conflicts else self.settled([])

    def settled(self, choices: Sequence[str]) -> str:
        """The whole text, with `choices` in the place of the conflicts, each ended so that what follows stands apart.

        Raises ValueError unless all conflicts have one.
        """
        if len(choices) != len(self.conflicts):
            raise ValueError(f"There are {len(self.conflicts)} conflicts and {len(choices)} choices.")
        left = iter(choices)
        return "".join(_ended(piece, next(left)) if isinstance(piece, Conflict) else piece for piece in self.pieces)


def _ended(conflict: Conflict, choice: str) -> str:
    """A text in a conflict's place that ends as those it was chosen over do: with a line end, or a blank line."""
    end = lines_of(conflict.ours or conflict.theirs)[-1].end
    if not choice or not end:
        return choice
    if all(text == end_with_blank_line(text, end) for text in (conflict.ours, conflict.theirs)):
        return end_with_blank_line(choice, end)
    return choice if choice.endswith(("\r", "\n")) else choice + end


class MergedText:
    """The merged script as it is written, piece by piece, each line with an end that parts it from the next."""

    def __init__(self, usual: str) -> None:
        self.usual = usual
        self.pieces: list[list[TextLine] | Clash] = []

    def write(self, piece: Lines | Clash) -> None:
        """Go on with these lines, or this clash."""
        if isinstance(piece, Clash):
            self.pieces.append(piece)
        elif self.pieces and isinstance(self.pieces[-1], list):
            self.pieces[-1].extend(piece)
        elif piece:
            self.pieces.append(list(piece))

    def begin_scene(self, above: Collection[str | None]) -> None:
        """Let a heading stand after a blank line, or else after a line that it stands after in a version."""
        for at in reversed(range(len(self.pieces))):
            piece = self.pieces[at]
            if isinstance(piece, list):
                piece.extend(self._blank_after(piece, above))
                return
            versions = [(*lines, *self._blank_after(lines, above)) for lines in (piece.base, piece.ours, piece.theirs)]
            self.pieces[at] = Clash(versions[0], versions[1], versions[2], piece.is_moved)
            if versions[1] and versions[2]:
                return

    def _blank_after(self, lines: Sequence[TextLine], above: Collection[str | None]) -> Lines:
        is_apart = not lines or lines[-1].is_blank or lines[-1].words in above
        return () if is_apart else (TextLine("", self.usual),)

    def merged(self, *, is_ended: bool) -> Merged:
        """All that was written; `is_ended` says whether its last line has a line end."""
        found: list[str | Conflict] = []
        ends = {""}  # those that what stands before may have
        for piece in self.pieces:
            if isinstance(piece, Clash):
                base, ours, theirs = (_read_apart(lines, ends) for lines in piece[:3])
                ends = {end for version in (ours, theirs) for end in ([version[-1].end] if version else ends)}
                found.append(Conflict(text_of(base), text_of(ours), text_of(theirs), _kind(piece)))
            else:
                lines = _read_apart(piece, ends)
                ends = {lines[-1].end}
                found.append(text_of(lines))
        if found and not is_ended:
            found[-1] = _unended(found[-1])
        return Merged(tuple(found))


def _read_apart(lines: Sequence[TextLine], ends: Collection[str]) -> Lines:
    """The lines, none of which reads as a part of the line end before it; `ends` are those the first may follow."""
    apart: list[TextLine] = []
    for line in lines:
        end = "\r" if not line.text and line.end == "\n" and "\r" in ends else line.end
        apart.append(TextLine(line.text, end))
        ends = {end}
    return tuple(apart)


def _unended(piece: str | Conflict) -> str | Conflict:
    if isinstance(piece, str):
        return _without_end(piece)
    return Conflict(_without_end(piece.base), _without_end(piece.ours), _without_end(piece.theirs), piece.kind)


def _without_end(text: str) -> str:
    return text[:-2] if text.endswith("\r\n") else text[:-1]


def text_of(lines: Sequence[TextLine]) -> str:
    """The lines as text."""
    return "".join(chain.from_iterable(lines))


def _kind(clash: Clash) -> ConflictKind:
    if clash.is_moved:
        return ConflictKind.MOVED
    return ConflictKind.CUT if clash.base and not (clash.ours and clash.theirs) else ConflictKind.CHANGED
