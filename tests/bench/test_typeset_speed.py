"""How long a PDF of a long script takes, against a plain loop that writes the same lines with the same library.

The script is laid out before: the loop has its lines ready too.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from fpdf import FPDF

from screenplay import lay_out, parse
from screenplay.printing import Header, typeset
from screenplay.printing.typefaces import COURIER, face_file
from tests.bench.stopwatch import least_ratio
from tests.plays import play_as_fountain

if TYPE_CHECKING:
    from pytest_benchmark.fixture import BenchmarkFixture

    from screenplay import LaidOut

PAGES = 120
MOST_OF_THE_PLAIN_LOOP_S_TIME = 2.0


def long_script() -> LaidOut:
    """A play cut to at least so many pages, and no scene more than it takes."""
    text = play_as_fountain("hamlet")
    whole = lay_out(parse(text))
    last_line = max(line for line, page in whole.layout.page_of.items() if page <= PAGES)
    return lay_out(parse("".join(whole.script.source[:last_line])))


def write_plainly(pages: list[list[tuple[float, str]]]) -> bytes:
    """Every row of the pages at its place, in one face, and nothing else."""
    pdf = FPDF(unit="pt", format="letter")
    pdf.set_auto_page_break(False)
    pdf.add_font(COURIER, "", face_file(COURIER, ""))
    for rows in pages:
        pdf.add_page()
        pdf.set_font(COURIER, "", 12)
        for number, (x, text) in enumerate(rows):
            if text:
                pdf.text(x, 81 + 12 * number, text)
    return bytes(pdf.output())


def test_a_script_of_120_pages_is_written_in_twice_the_time_of_a_plain_loop(benchmark: BenchmarkFixture) -> None:
    script = long_script()
    assert script.page_count == PAGES
    pages = [[(108 + 7.2 * row.column, row.text.strip()) for row in page.rows] for page in script.layout.pages]

    def write() -> bytes:
        return typeset(
            script,
            header=Header("Second pass", "Blue", date(2026, 11, 25)),
            scene_numbers=True,
            name="Ana Marku",
        )

    assert len(write()) > len(write_plainly(pages)) / 2
    ratio = least_ratio(write, lambda: write_plainly(pages), enough=MOST_OF_THE_PLAIN_LOOP_S_TIME)
    benchmark.extra_info["ratio to a plain loop"] = round(ratio, 2)
    benchmark(write)
    assert ratio <= MOST_OF_THE_PLAIN_LOOP_S_TIME
