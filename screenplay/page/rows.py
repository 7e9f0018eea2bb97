"""What a laid-out script is: pages of rows, each row the cells that stand side by side on one line of the paper."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping

    from screenplay.model import Kind, Run
    from screenplay.page.paper import PageSetting, PaperSize


class Cell(NamedTuple):
    """A stretch of text on a line of the paper, all from one source line.

    `column` counts characters from the text's left edge. `line` is the source line, None where the layout put the
    text there itself; then `added` is "more" for (MORE), "contd" for a cue said again, "omitted" for OMITTED, and ""
    otherwise. `side` is "left" or "right" for one of two speeches side by side, "" for all else. `runs` are not empty;
    the character at `i` of a run's text is the one at `run.start + i` of the source line, but a tab is shown as four
    spaces.
    """

    kind: Kind
    line: int | None
    column: int
    runs: tuple[Run, ...]
    added: str = ""
    side: str = ""

    @property
    def text(self) -> str:
        """What is printed, without styles."""
        return "".join(run.text for run in self.runs)


class Row(NamedTuple):
    """One line of the paper. A blank row has no cells, two speeches side by side have two, any other row has one.

    A row's own kind, line, column, runs, added and side are those of its first cell: whoever prints rows with two
    cells loops over `cells`. `number` is the scene number that may stand in both margins, on a heading's first row or
    beside OMITTED.
    """

    cells: tuple[Cell, ...] = ()
    number: str | None = None

    @property
    def kind(self) -> Kind | None:
        return self.cells[0].kind if self.cells else None

    @property
    def line(self) -> int | None:
        return self.cells[0].line if self.cells else None

    @property
    def column(self) -> int:
        return self.cells[0].column if self.cells else 0

    @property
    def runs(self) -> tuple[Run, ...]:
        return self.cells[0].runs if self.cells else ()

    @property
    def added(self) -> str:
        return self.cells[0].added if self.cells else ""

    @property
    def side(self) -> str:
        return self.cells[0].side if self.cells else ""

    @property
    def text(self) -> str:
        """The row as plain text from the text's left edge, its cells in their columns; wide characters are not counted
        double."""
        text = ""
        for cell in self.cells:
            text = text.ljust(cell.column) + cell.text
        return text


BLANK_ROW = Row()


@dataclass(frozen=True, slots=True)
class Page:
    """A page and its rows, blank ones between them included; `number` counts from 1. `locked_label` is what it is
    called where pages are locked, such as 12A."""

    number: int
    rows: tuple[Row, ...]
    locked_label: str = ""

    @property
    def label(self) -> str:
        """What the page is called."""
        return self.locked_label or str(self.number)

    @property
    def head(self) -> str:
        """What stands at its head: its label, but for page 1, which has none."""
        return f"{self.label}." if self.label != "1" else ""


@dataclass(frozen=True, slots=True)
class Layout:
    """A script laid out on paper, by the setting.

    `title_page` has its rows apart, none where the script has no title page; it counts in no figure, and has more
    rows than the paper has lines only where the title page itself is that long. `page_of` says on which page a source
    line first stands, `last_page_of` on which it ends; lines that print nothing are in neither.

    `scene_eighths` has each scene's length in eighths of a page, by ordinal: from its heading to the next heading (or
    to the last row of the script), paper left blank at a page's foot included, to the nearest eighth and at least
    one. `lead_in_eighths` is what stands before the first scene, to the nearest eighth, which may be none. So
    `eighths`, their sum, is the length of the printed pages give or take half an eighth a scene for rounding, and up
    to one for each scene shorter than half an eighth; rows of OMITTED are on the pages and in no length. Where pages
    are locked, what they leave blank is in none either, and a scene with the same rows has the same length in every
    draft.
    """

    setting: PageSetting
    pages: tuple[Page, ...]
    title_page: tuple[Row, ...]
    page_of: Mapping[int, int]
    last_page_of: Mapping[int, int]
    scene_eighths: tuple[int, ...]
    lead_in_eighths: int

    @property
    def paper(self) -> PaperSize:
        return self.setting.paper

    @property
    def eighths(self) -> int:
        return sum(self.scene_eighths) + self.lead_in_eighths

    def label_of(self, number: int) -> str:
        """What a page is called, by its number as `page_of` has it."""
        return self.pages[number - 1].label

    def label_at(self, line: int) -> str:
        """What the page is called on which a source line first stands; "" for one that prints nothing."""
        return self.label_of(self.page_of[line]) if line in self.page_of else ""
