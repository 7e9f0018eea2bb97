"""Texts for property tests: what looks like Fountain, and noise."""

from __future__ import annotations

from itertools import cycle, islice
from typing import TYPE_CHECKING, TypeVar

from hypothesis import strategies as st

if TYPE_CHECKING:
    from collections.abc import Sequence

Piece = TypeVar("Piece")

LINES = [
    "INT. FERRY - NIGHT", "EXT. QUAY - DAY #12A#", ".WHEELHOUSE", "...and then", "int. van", "I/E VAN - DUSK #1#",
    "MARA", "MARA (V.O.) (CONT'D)", "@McAvoy", "JOREN ^", "@Joren ^", "МАРА", "İNCİ (on radio)", "MA[[x]]RA",
    "CUT TO:", "> FADE OUT.", "> THE END <", "CUT TO: ", "(low)", "(one) or (two)", "It won't hold.",
    "Yes. [[too fast?]] No.", "[[", "]]", "[[open", "close]]", "/*", "*/", "/* old */ new", "a /* b", "c */ d",
    "~Over the water", "# Act", "## Two", "= What happens", "===", "!BANG", "**bold *both*** and _under_",
    "*69 and *23*", "\\*plain\\*", "Title: X", "Contact:", "   1 Quay Road", "\tSunday\tnight", "", "", "", " ",
    "  ", "\t", "@", ">", "^", "#", "真理", "@真理", "\ufeffMARA", "\x0b", "\x1c",
]  # fmt: skip
# All that a text may hold. Said by a codec's name, hypothesis would try each of a million characters on it first, in
# every process of a fresh checkout.
encodable = st.characters(exclude_categories=["Cs"])
LINE_ENDS = ["\n", "\n", "\n", "\r\n", "\r"]

# Several lines that belong together, as scripts have them.
PASSAGES = [
    "\nINT. FERRY - NIGHT\n\n", "\nEXT. QUAY\nRain.\n", "\nMARA\nYes.\n\n", "\nMARA\n(low)\nYes.\n  \nNo.\n\n",
    "JOREN ^\nNo.\n\n", "\nJOREN ^\n~La\n\n", "[[a\n  \nb]]\n", "/* a\n\nINT. B\n*/\n", "\nCUT TO:\n\n", "\nMARRA\n\n",
]  # fmt: skip

MARKS = tuple("*_\\ aA(^#[]/.")


def some_of(pieces: Sequence[Piece], *, least: int = 0, most: int = 40) -> st.SearchStrategy[list[Piece]]:
    """Some of the pieces, each as often as it likes: now few, now at least a quarter of what there may be.

    A character of one drawn string stands for each: hypothesis draws, changes and shrinks a string at one go, but a
    list piece by piece, which takes it longer than what is then tried.
    """
    first = ord("一")
    letters = st.characters(min_codepoint=first, max_codepoint=first + len(pieces) - 1)
    few, many = (st.text(letters, min_size=fewest, max_size=most) for fewest in (least, max(least, most // 4)))
    return st.one_of(few, many).map(lambda text: [pieces[ord(letter) - first] for letter in text])


def _with_ends(pieces: list[str], ends: list[str]) -> str:
    """Each line end of the pieces is one of the ends, in turns."""
    lines = "".join(pieces).split("\n")
    return "".join(line + end for line, end in zip(lines, [*islice(cycle(ends), len(lines) - 1), ""], strict=True))


def fountain_of(most: int) -> st.SearchStrategy[str]:
    """Lines, passages, and marks that stand before a line or in a run of their own, at most so many of them."""
    pieces = [*(f"{line}\n" for line in LINES), *PASSAGES * 3, *MARKS * 2]
    return st.builds(_with_ends, some_of(pieces, most=most), some_of(LINE_ENDS, least=1, most=9))


fountain = fountain_of(40)
noise = st.one_of(st.text(st.characters(), max_size=200), st.text("*_[]/\\#=.!@~>^()\r\n\t aA:", max_size=200))
any_text = st.one_of(fountain, fountain.map(str.rstrip), noise)
