"""Two texts that were both made from a third, put together line by line; where they differ, nothing is guessed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from merge3 import Merge3

from screenplay.fountain import split_lines

if TYPE_CHECKING:
    from collections.abc import Sequence


@dataclass(frozen=True, slots=True)
class Conflict:
    """Lines that both sides changed, each in its own way: as they were, as they are, and as they are to be put in."""

    base: str
    ours: str
    theirs: str


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
        """The whole text, with `choices` in the place of the conflicts. Raises ValueError unless all have one."""
        if len(choices) != len(self.conflicts):
            raise ValueError(f"There are {len(self.conflicts)} conflicts and {len(choices)} choices.")
        left = iter(choices)
        return "".join(next(left) if isinstance(piece, Conflict) else piece for piece in self.pieces)


def merge(base: str, ours: str, theirs: str) -> Merged:
    """Put the changes that two texts made to `base` into one: three-way, by whole lines.

    What one side alone changed is taken over, and what both changed alike, once. What they changed in different ways
    is a conflict.
    """
    lines = [list(split_lines(text)) for text in (base, ours, theirs)]
    base_lines, our_lines, their_lines = lines
    pieces: list[str | Conflict] = []
    for region in Merge3(base_lines, our_lines, their_lines).merge_regions():
        match region:
            case ("unchanged", start, end):
                pieces.append("".join(base_lines[start:end]))
            case ("a" | "same", start, end):
                pieces.append("".join(our_lines[start:end]))
            case ("b", start, end):
                pieces.append("".join(their_lines[start:end]))
            case (_, base_start, base_end, our_start, our_end, their_start, their_end):
                pieces.append(
                    Conflict(
                        "".join(base_lines[base_start:base_end]),
                        "".join(our_lines[our_start:our_end]),
                        "".join(their_lines[their_start:their_end]),
                    )
                )
    return Merged(tuple(pieces))
