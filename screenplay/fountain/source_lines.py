"""A text's lines, what notes and boneyards leave of them, and where what they print came from."""

from __future__ import annotations

import io
from bisect import bisect_left
from functools import partial
from typing import TYPE_CHECKING

from screenplay.fountain.asides import Asides, find_asides, left_of_lines
from screenplay.model import Kind, Printed

if TYPE_CHECKING:
    from collections.abc import Sequence

LINE_ENDS = "\r\n"  # the characters that a line's end is made of
BYTE_ORDER_MARK = "\ufeff"
TAB_WIDTH = 4

# A `Printed` of its fields in a tuple: what its `_make` does but for counting them, in half the time.
_new_printed = partial(tuple.__new__, Printed)


def split_lines(text: str) -> tuple[str, ...]:
    """The lines of `text`, each with its own line end: CRLF, CR or LF, and no other (F24)."""
    return tuple(io.StringIO(text, newline=""))


class SourceLines:
    """The lines of a text, and those of them that can print something, by position.

    `number[i]` is the number, from 1, of the i-th line outside notes and boneyards, `bare[i]` what these leave of it,
    and `stripped[i]` that without white space around it. `kinds` has an entry for every source line and starts
    with what is known before the grammar has its say.
    """

    __slots__ = ("asides", "bare", "cuts", "kinds", "number", "source", "stripped")

    def __init__(self, text: str) -> None:
        self.source = split_lines(text)
        self.kinds: list[Kind] = [Kind.BLANK] * len(self.source)
        self.number: Sequence[int] = range(1, len(self.source) + 1)
        self.bare: Sequence[str] = self.source
        self.cuts: dict[int, tuple[tuple[int, int], ...]] = {}
        self.asides = Asides([], [])
        if "/*" in text or "[[" in text:
            self._leave_asides_out(text)
        if "\t" in text or text.startswith(BYTE_ORDER_MARK):
            self._widen()
        self.stripped = [line.strip() for line in self.bare]

    def _leave_asides_out(self, text: str) -> None:
        self.asides = find_asides(text)
        touched = left_of_lines(self.source, self.asides.spans)
        number: list[int] = []
        bare: list[str] = []
        for index, line in enumerate(self.source):
            if index in touched:
                left, cuts = _joined(touched[index].pieces)
                if not left.strip():
                    self.kinds[index] = touched[index].kind
                    continue
                self.cuts[len(number)] = cuts
            number.append(index + 1)
            bare.append(left if index in touched else line)
        self.number, self.bare = number, bare

    def _widen(self) -> None:
        """Give tabs the four spaces that they stand for (F5), and take a byte-order mark away (F24)."""
        bare = list(self.bare)
        if bare and self.number[0] == 1 and bare[0].startswith(BYTE_ORDER_MARK):
            bare[0] = bare[0][1:]
            self.cuts[0] = ((0, 1), *((at - 1, length) for at, length in self.cuts.get(0, ())))
        for position, line in enumerate(bare):
            if "\t" in line and not line.isspace():
                bare[position], self.cuts[position] = _with_wide_tabs(line, self.cuts.get(position, ()))
        self.bare = bare

    def printed(self, position: int, kind: Kind, start: int, end: int) -> Printed:
        """What `bare[position][start:end]` prints, and where in the source line it came from."""
        line = self.number[position]
        text = self.bare[position][start:end]
        cuts = self.cuts.get(position)
        if not cuts:
            return _new_printed((line, kind, text, start, ()))
        before = sum(length for at, length in cuts if at <= start)
        return Printed(
            line, kind, text, start + before, tuple((at - start, length) for at, length in cuts if start < at < end)
        )

    def printed_stripped(self, first: int, last: int, kind: Kind) -> list[Printed]:
        """What the lines at these positions, both included, print without the white space around them."""
        bare, stripped, number, cuts = self.bare, self.stripped, self.number, self.cuts
        found: list[Printed] = []
        for position in range(first, last + 1):
            text = stripped[position]
            start = bare[position].find(text)
            if position in cuts:
                found.append(self.printed(position, kind, start, start + len(text)))
            else:
                found.append(_new_printed((number[position], kind, text, start, ())))
        return found

    def position_of(self, line: int) -> int:
        """The position of a source line, by its number, which counts from 1."""
        return bisect_left(self.number, line)

    def mark(self, first: int, last: int, kind: Kind) -> None:
        """Say what kind the lines at these positions, both included, are."""
        if self.number.__class__ is range:
            self.kinds[first : last + 1] = [kind] * (last + 1 - first)
        else:
            for position in range(first, last + 1):
                self.kinds[self.number[position] - 1] = kind


def _joined(pieces: list[tuple[int, str]]) -> tuple[str, tuple[tuple[int, int], ...]]:
    """Pieces of a source line as one text, and the cuts between them as `Printed` has them."""
    cuts: list[tuple[int, int]] = []
    length, expected = 0, 0
    for offset, piece in pieces:
        if offset != expected:
            cuts.append((length, offset - expected))
        length += len(piece)
        expected = offset + len(piece)
    return "".join(piece for _, piece in pieces), tuple(cuts)


def _with_wide_tabs(line: str, cuts: tuple[tuple[int, int], ...]) -> tuple[str, tuple[tuple[int, int], ...]]:
    """The line with four spaces in the place of each tab, and its cuts, by which all four come from the one tab."""
    found: list[tuple[int, int]] = []
    known = list(reversed(cuts))
    wider = 0
    tab = line.find("\t")
    while tab >= 0:
        while known and known[-1][0] <= tab:
            at, length = known.pop()
            found.append((at + wider, length))
        found += [(tab + wider + more, -1) for more in range(1, TAB_WIDTH)]
        wider += TAB_WIDTH - 1
        tab = line.find("\t", tab + 1)
    found += [(at + wider, length) for at, length in reversed(known)]
    return line.replace("\t", " " * TAB_WIDTH), tuple(found)
