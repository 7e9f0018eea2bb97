"""What stands in the margins of a PDF's pages, and close beside the script: scene numbers, asterisks, a second speech.

Drawn by reportlab, point by point; the places are those of the trade (C) and others met.
"""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import pytest
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from tests.read_back import read_here

if TYPE_CHECKING:
    from collections.abc import Sequence

INCH = 72
Drawn = tuple[float, int, str]  # points from the left, row, text

SPEECHES: list[Drawn] = [
    (266, 12, "MARA"), (180, 13, "You came back for the tide table."),
    (266, 15, "JOREN"), (180, 16, "I came back for the boat."),
    (266, 18, "MARA"), (180, 19, "It is the same thing."),
    (108, 21, "Rain on a tin roof, and a lamp turned down so low that it is"), (108, 22, "mostly smell."),
]  # fmt: skip


def drawn(lines: Sequence[Drawn], font: str = "Courier") -> bytes:
    file = io.BytesIO()
    canvas = Canvas(file, pagesize=(612, 792))
    canvas.setFont(font, 12)
    for x, row, text in [*lines, *SPEECHES]:
        canvas.drawString(x, 720 - 12 * row, text)
    canvas.save()
    return file.getvalue()


@pytest.mark.parametrize("font", ["Courier", "Times-Roman", "Helvetica"])
@pytest.mark.parametrize("number", ["1", "12", "112A", "A112", "112AB"])
@pytest.mark.parametrize(("left", "right", "asterisk"), [
    (1.0 * INCH, 7.4 * INCH, 8.0 * INCH),
    (0.75 * INCH, 7.5 * INCH, 8.1 * INCH),
    (1.0 * INCH, 7.4 * INCH, 0),
])  # fmt: skip
def test_a_scene_number_goes_from_the_margins_into_its_heading(
    left: float, right: float, asterisk: float, number: str, font: str
) -> None:
    lines = [(left, 0, number), (108, 0, "INT. BOATHOUSE - NIGHT"), (right, 0, number), (108, 2, "She waits.")]
    marks = [(asterisk, row, "*") for row in (0, 2)] if asterisk else []

    text = read_here(drawn([*lines, *marks], font)).text

    assert text.startswith(f"INT. BOATHOUSE - NIGHT #{number}#\n\nShe waits.\n\nMARA\n")


def test_an_asterisk_right_beside_the_right_hand_number_belongs_to_neither() -> None:
    lines = [(72, 0, "112A"), (108, 0, "INT. BOATHOUSE - NIGHT"), (540, 0, "112A"), (540 + 4 * 7.2, 0, "*")]

    assert read_here(drawn([*lines, (108, 2, "She waits.")])).text.startswith("INT. BOATHOUSE - NIGHT #112A#\n\nShe")


def test_a_number_close_to_a_heading_without_a_setting() -> None:
    lines = [(72, 0, "112A"), (108, 0, "THE LAST OF THE LIGHT"), (540, 0, "112A"), (108, 2, "She waits.")]

    assert read_here(drawn(lines)).text.startswith(".THE LAST OF THE LIGHT #112A#\n\nShe waits.\n")


LEFT = ["I told you that the rope would", "not hold, and it never has,", "not once in all these years."]
RIGHT = ["You never told me anything", "about the rope. You told me", "about the weather."]


@pytest.mark.parametrize("font", ["Courier", "Times-Roman", "Helvetica"])
@pytest.mark.parametrize("gutter", [1, 2, 3, 4, 8])
def test_two_speeches_side_by_side_with_a_gutter_of_so_many_characters(gutter: int, font: str) -> None:
    character = stringWidth("n", font, 12)
    edge = 108 + max(stringWidth(line, font, 12) for line in LEFT) + gutter * character
    left = [(108 + 60.0, 0, "MARA"), *((108.0, row, text) for row, text in enumerate(LEFT, 1))]
    right = [(edge + 60, 0, "JOREN"), *((edge, row, text) for row, text in enumerate(RIGHT, 1))]

    text = read_here(drawn([*left, *right], font)).text

    assert text.startswith(f"MARA\n{' '.join(LEFT)}\n\nJOREN ^\n{' '.join(RIGHT)}\n\nMARA\n")


def test_of_two_speeches_with_a_narrow_gutter_one_may_be_longer() -> None:
    left = [(168, 0, "MARA"), *((108.0, row, text) for row, text in enumerate([*LEFT, "Not one."], 1))]
    right = [(390, 0, "JOREN"), (345, 1, "(quietly)"), *((331.2, row, text) for row, text in enumerate(RIGHT, 2))]

    text = read_here(drawn([*left, *right])).text

    assert text.startswith(f"MARA\n{' '.join(LEFT)} Not one.\n\nJOREN ^\n(quietly)\n{' '.join(RIGHT)}\n\nMARA\n")
