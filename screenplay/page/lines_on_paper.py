"""How the lines of a script stand to each other on the paper, whatever page they are on."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from screenplay.page.paper import USUAL_SETTING
from screenplay.page.passages import passages

if TYPE_CHECKING:
    from screenplay.model import Screenplay
    from screenplay.page.passages import Passage


class LineOnPaper(NamedTuple):
    """How a printed source line stands: `side` is "left" or "right" for one of two speeches side by side, "" for all
    else; `blank_rows` are those between it and the line above it in its paragraph or speech, None where it begins
    one."""

    side: str
    blank_rows: int | None


def arrangement(screenplay: Screenplay) -> dict[int, LineOnPaper]:
    """How each source line that prints something stands."""
    found: dict[int, LineOnPaper] = {}
    for passage in passages(screenplay.elements, USUAL_SETTING):
        _arrange(passage, found)
    return found


def _arrange(passage: Passage, found: dict[int, LineOnPaper]) -> None:
    last: dict[str, int] = {}  # the row of each side that was printed last
    for at, row in enumerate(passage.rows):
        for cell in row.cells:
            if cell.line is not None and cell.line not in found:
                above = last.get(cell.side)
                found[cell.line] = LineOnPaper(cell.side, None if above is None else at - above - 1)
            last[cell.side] = at
