"""The paper a script is typed on: its sizes, and the columns its elements stand in, in characters and lines.

Type is 10 characters to the inch and 6 lines to the inch, as the trade types scripts. A column counts characters
from the text's left edge, which is 1.5 in from the paper's, so that 2.5 in is column 10.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from screenplay.page.page_labels import LockedPage
    from screenplay.page.scene_numbers import SceneNumber

CHARACTERS_PER_INCH = 10
LINES_PER_INCH = 6
LEFT_MARGIN_INCHES = 1.5
TOP_MARGIN_INCHES = BOTTOM_MARGIN_INCHES = 1.0
PAGE_NUMBER_INCHES = 0.5  # from the top edge, above the text
MILLIMETRES_PER_INCH = 25.4


class PaperSize(Enum):
    """A size of paper: width and height in inches. The text's columns are alike on both; A4 takes more lines."""

    LETTER = (8.5, 11.0)
    A4 = (210 / MILLIMETRES_PER_INCH, 297 / MILLIMETRES_PER_INCH)

    @property
    def width_inches(self) -> float:
        return self.value[0]

    @property
    def height_inches(self) -> float:
        return self.value[1]

    @property
    def lines(self) -> int:
        """How many lines, blank ones counted, stand between the margins: 54 on Letter, 58 on A4."""
        return int((self.height_inches - TOP_MARGIN_INCHES - BOTTOM_MARGIN_INCHES) * LINES_PER_INCH)


@dataclass(frozen=True, slots=True)
class PageSetting:
    """How a script is laid out: the paper, and the blank lines (one or two) before a scene heading, by its house; and
    its scene numbers where they are locked, in the script's order, those of OMITTED scenes among them. Without any, a
    scene has the number in its heading. So do its pages where they are locked; without any they are counted from 1."""

    paper: PaperSize = PaperSize.LETTER
    blank_lines_before_heading: int = 2
    scene_numbers: tuple[SceneNumber, ...] = ()
    locked_pages: tuple[LockedPage, ...] = ()


USUAL_SETTING = PageSetting()


class Edge(StrEnum):
    """The edge of its measure that a line is set against."""

    LEFT = "left"
    CENTER = "center"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Measure:
    """Where an element stands: the column of its left edge, its width in characters, and the edge it is set against."""

    column: int
    width: int
    edge: Edge = Edge.LEFT

    def column_of(self, columns: int) -> int:
        """Where a line begins that is `columns` characters wide."""
        spare = max(self.width - columns, 0)
        if self.edge is Edge.RIGHT:
            return self.column + spare
        return self.column + spare // 2 if self.edge is Edge.CENTER else self.column


TEXT_COLUMNS = 60
ACTION = Measure(0, TEXT_COLUMNS)
CENTERED = Measure(0, TEXT_COLUMNS, Edge.CENTER)
TRANSITION = Measure(0, TEXT_COLUMNS, Edge.RIGHT)


@dataclass(frozen=True, slots=True)
class SpeechMeasures:
    """Where the parts of a speech stand. `side` is "" for a speech by itself, "left" or "right" for one of two."""

    cue: Measure
    parenthetical: Measure
    dialogue: Measure
    side: str = ""


SPEECH = SpeechMeasures(cue=Measure(22, 38), parenthetical=Measure(16, 24), dialogue=Measure(10, 35))

# Two speeches side by side share the text's width, four columns apart.
_SIDE_COLUMNS = 28
_RIGHT = TEXT_COLUMNS - _SIDE_COLUMNS


def _side(column: int, side: str) -> SpeechMeasures:
    return SpeechMeasures(
        cue=Measure(column + 8, _SIDE_COLUMNS - 8),
        parenthetical=Measure(column + 4, _SIDE_COLUMNS - 8),
        dialogue=Measure(column, _SIDE_COLUMNS),
        side=side,
    )


LEFT_SPEECH = _side(0, "left")
RIGHT_SPEECH = _side(_RIGHT, "right")
