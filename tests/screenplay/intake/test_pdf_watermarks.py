"""Names and warnings set across a PDF's pages, which are no part of the script."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import pytest
from reportlab.pdfgen.canvas import Canvas

from tests.read_back import read_here

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    Draw = Callable[[Canvas], None]

# What is said and done on the pages, so that no two are alike.
LINES = ["The net comes up with nothing in it but weed.", "She counts the posts.", "One is gone.", "The bell, twice."]
CUES = ["MARA", "JOREN", "PIET", "THE HARBOUR MASTER"]


def page(canvas: Canvas, number: int, rows: int = 54) -> None:
    """A page of a script in the trade's columns: its number, a heading, and action and speeches by turns."""
    canvas.setFont("Courier", 12)
    canvas.setFillGray(0)
    canvas.drawRightString(540, 756, f"{number}.")
    canvas.drawString(108, 720, f"INT. BOATHOUSE {number} - NIGHT")
    row = 2
    while row < rows - 3:
        turn = row + number
        canvas.drawString(108, 720 - 12 * row, LINES[turn % len(LINES)])
        canvas.drawString(266, 720 - 12 * (row + 2), CUES[turn % len(CUES)])
        canvas.drawString(180, 720 - 12 * (row + 3), f"Not before post {turn}.")
        row += 5 + number % 2


def pdf_of(pages: int, *draws: Draw, rows: int = 54) -> bytes:
    file = io.BytesIO()
    canvas = Canvas(file, pagesize=(612, 792))
    for number in range(1, pages + 1):
        page(canvas, number, rows)
        for draw in draws:
            canvas.saveState()
            draw(canvas)
            canvas.restoreState()
        canvas.showPage()
    canvas.save()
    return file.getvalue()


def across(text: str, size: float, x: float = 100, y: float = 400, font: str = "Helvetica") -> Draw:
    """Upright and black."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont(font, size)
        canvas.drawString(x, y, text)

    return draw


def tiled(draws: Sequence[Draw]) -> Draw:
    def draw(canvas: Canvas) -> None:
        for one in draws:
            one(canvas)

    return draw


@pytest.mark.parametrize("pages", [1, 2, 3, 6, 20])
@pytest.mark.parametrize("size", [24, 60])
def test_a_large_black_name_across_the_page_is_left_out(size: float, pages: int) -> None:
    assert read_here(pdf_of(pages, across("Ivo Quent", size))).text == read_here(pdf_of(pages)).text


@pytest.mark.parametrize("mark", [
    across("Ivo Quent 0417", 12),
    across("Ivo Quent", 12, x=300, y=420, font="Courier"),  # on a row of the script's own, in its own type
    across("NOT FOR COPYING", 10, x=108, y=395),
    across("Ivo Quent", 14, y=409),
    tiled([across("Ivo Quent", 11, x, y) for x in (120, 300) for y in (250, 431, 600)]),
])  # fmt: skip
def test_a_black_name_in_the_script_s_own_size_is_left_out_by_where_it_always_stands(mark: Draw) -> None:
    assert read_here(pdf_of(12, mark)).text == read_here(pdf_of(12)).text


def test_a_title_in_large_type_on_the_first_page_is_kept() -> None:
    file = io.BytesIO()
    canvas = Canvas(file, pagesize=(612, 792))
    across("THE SLACK", 36, x=200, y=520)(canvas)
    across("written by Ivo Quent", 12, x=220, y=470)(canvas)
    canvas.showPage()
    for number in range(1, 4):
        page(canvas, number)
        canvas.showPage()
    canvas.save()

    assert read_here(file.getvalue()).text.startswith("Title: THE SLACK\n")


def test_what_a_script_says_at_one_place_on_a_few_pages_is_kept() -> None:
    def speech(canvas: Canvas) -> None:
        canvas.setFont("Courier", 12)
        canvas.drawString(266, 720 - 12 * 46, "PIET")
        canvas.drawString(180, 720 - 12 * 47, "Again.")
        canvas.drawString(108, 720 - 12 * 50, LINES[canvas.getPageNumber() % len(LINES)])

    assert read_here(pdf_of(4, speech, rows=44)).text.count("PIET\nAgain.\n") == 4


def test_what_tells_at_every_page_s_foot_that_a_speech_goes_on_still_does() -> None:
    def broken(canvas: Canvas) -> None:
        number = canvas.getPageNumber()
        canvas.setFont("Courier", 12)
        if number > 1:
            canvas.drawString(266, 732, f"{CUES[(number - 1) % len(CUES)]} (CONT'D)")
        canvas.drawString(266, 720 - 12 * (45 + number % 5), CUES[number % len(CUES)])
        for row in range(46 + number % 5, 52):
            canvas.drawString(180, 720 - 12 * row, f"Post {number * row}, and then")
        canvas.drawString(266, 720 - 12 * 52, "(MORE)")

    text = read_here(pdf_of(8, broken, rows=44)).text

    assert "MORE" not in text
    assert text.count("and then Post") + text.count("and then\nPost") > 8
