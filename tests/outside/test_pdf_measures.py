"""The trade's figures for a page, measured on the PDF by two readers that know nothing of ours.

P: a published source, named. C: common practice in the trade, no single source. M: from memory of format guides. All
the figures stand in DEVELOPERS.md.
The readers are pdfplumber 0.11 (from PyPI) and poppler's pdftotext and pdffonts (Debian's poppler-utils).
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from screenplay import PageSetting, PaperSize, lay_out, paginate, parse
from screenplay.printing import Header, typeset
from tests.pdf import sheets
from tests.plays import PLAYS, play_as_fountain

if TYPE_CHECKING:
    from screenplay import Screenplay

INCH = 72.0
ADVANCE = 7.2  # points: 10 characters to the inch (C)
PITCH = 12.0  # points: 6 lines to the inch (C)
HALF_A_POINT = 0.5
DEMO = Path(__file__).parents[2] / "review" / "demo"
PAPERS = pytest.mark.parametrize("paper", PaperSize)
PAGE = """INT. BOATHOUSE - NIGHT

Nell mends a net.

NELL
(low)
Tide turns at four.

CUT TO:
"""


@cache
def script(path: Path) -> Screenplay:
    return parse(path.read_text(encoding="utf-8"))


@cache
def play(name: str) -> Screenplay:
    return parse(play_as_fountain(name))


def poppler(command: str) -> str:
    """One of poppler's commands, which the checks always have and a writer's laptop may not."""
    found = shutil.which(command)
    if found is None:
        assert not os.environ.get("CI"), f"Install poppler-utils: these checks need {command}."
        pytest.skip(f"Install poppler-utils to run this: it needs {command}.")
    return found


@cache
def pages_of_play(name: str) -> list[str]:
    """The text of each page of our PDF of a play, its title page first."""
    return pdftotext(typeset(lay_out(play(name))))


def pdftotext(data: bytes) -> list[str]:
    """The text of each page in the order in which it is written to the PDF."""
    command = [poppler("pdftotext"), "-raw", "-enc", "UTF-8", "-", "-"]
    text = subprocess.run(command, input=data, capture_output=True, check=True).stdout.decode()
    return text.split("\f")[:-1]


@PAPERS
def test_paper_and_margins_are_the_trade_s(paper: PaperSize) -> None:
    width, height = {PaperSize.LETTER: (612, 792), PaperSize.A4: (595.28, 841.89)}[paper]  # P: ANSI letter; ISO 216
    text = "\n\n".join(f"Row {number}, and then some more of it to reach the other side." for number in range(60))
    page = sheets(typeset(lay_out(parse(text), PageSetting(paper))))[0]
    assert (page.width, page.height) == pytest.approx((width, height), abs=0.01)
    assert min(char["x0"] for char in page.chars) == pytest.approx(1.5 * INCH, abs=HALF_A_POINT)  # C
    assert max(char["x1"] for char in page.chars) <= 7.5 * INCH + HALF_A_POINT  # C: 60 columns
    assert min(char["top"] for char in page.chars) >= 1.0 * INCH - HALF_A_POINT  # C
    assert max(char["bottom"] for char in page.chars) <= page.height - 1.0 * INCH + PITCH / 3  # C; a descender's depth


def test_characters_are_7_2_points_apart_and_lines_12() -> None:
    page = sheets(
        typeset(lay_out(parse("**Nell** *mends* a _net_ for Åse, said Œdipa.\nThen another.\nThen one more.\n")))
    )[0]
    first = [char for char in page.chars if char["top"] == page.chars[0]["top"]]
    assert [char["x0"] - page.chars[0]["x0"] for char in first] == pytest.approx(
        [ADVANCE * position for position in range(len(first))], abs=0.01
    )
    baselines = sorted({char["matrix"][5] for char in page.chars}, reverse=True)
    assert [above - below for above, below in pairwise(baselines)] == pytest.approx([PITCH, PITCH], abs=0.01)
    assert {round(char["size"], 6) for char in page.chars} == {12.0}  # C: 12 point


@PAPERS
@pytest.mark.parametrize(
    ("start", "inches"),
    [
        ("INT. BOATHOUSE", 1.5),  # C
        ("Nell mends", 1.5),  # C
        ("NELL", 3.7),  # C
        ("(low)", 3.1),  # M
        ("Tide", 2.5),  # C
        ("CUT TO:", 7.5 - 0.7),  # C: seven characters that end at 7.5 in
    ],
)
def test_elements_begin_within_half_a_point_of_the_trade_s_inches(paper: PaperSize, start: str, inches: float) -> None:
    page = sheets(typeset(lay_out(parse(PAGE), PageSetting(paper))))[0]
    assert page.char(start)["x0"] == pytest.approx(inches * INCH, abs=HALF_A_POINT)


@PAPERS
def test_the_page_number_stands_half_an_inch_down_at_the_right_and_not_on_page_1(paper: PaperSize) -> None:
    data = typeset(lay_out(parse("Title: Slack Water\n\nOne.\n\n===\n\nTwo.\n"), PageSetting(paper)))
    title, first, second = sheets(data)
    assert (title.head, first.head) == ([], [])
    assert [line.strip() for line in second.head] == ["2."]  # C: with a full stop
    number = second.char("2.")
    assert number["top"] == pytest.approx(0.5 * INCH, abs=2)  # C; to the letters' top or the line's
    assert number["x1"] + ADVANCE == pytest.approx(7.5 * INCH, abs=HALF_A_POINT)


@pytest.mark.parametrize(("draft", "paper"), [("first", PaperSize.A4), ("second", PaperSize.LETTER)])
def test_every_line_of_the_demo_is_read_back_where_it_was_laid_out(draft: str, paper: PaperSize) -> None:
    path = DEMO / f"{draft}-draft.fountain"
    layout = paginate(script(path), PageSetting(paper))
    title, *pages = sheets(typeset(lay_out(script(path), PageSetting(paper))))
    assert len(pages) == len(layout.pages)
    assert title.lines == [row.text for row in layout.title_page]
    for page, laid_out in zip(pages, layout.pages, strict=True):
        assert page.lines == [row.text for row in laid_out.rows]


@pytest.mark.parametrize("name", PLAYS)
def test_every_line_of_a_play_is_read_back_in_order(name: str) -> None:
    layout = paginate(play(name))
    title, *pages = pages_of_play(name)
    assert title.split() == " ".join(row.text for row in layout.title_page).split()
    assert len(pages) == len(layout.pages) > 120
    for text, page in zip(pages, layout.pages, strict=True):
        printed = [" ".join(row.text.split()) for row in page.rows if row.cells]
        assert [line.strip() for line in text.splitlines()] == [
            *([f"{page.number}."] if page.number > 1 else []),
            *printed,
        ]


@pytest.mark.parametrize("name", PLAYS)
def test_the_words_of_a_play_are_those_of_its_source(name: str) -> None:
    lines = [line for line in play_as_fountain(name).splitlines()[3:] if not line.startswith("# ")]
    written = " ".join(re.sub(r"^\.| #[^#]+#$", "", line) for line in lines).split()
    read: list[str] = []
    for number, page in enumerate(pages_of_play(name)[1:], 1):
        printed = [line for line in page.splitlines() if line not in {f"{number}.", "(MORE)"}]
        read += " ".join(line for line in printed if not line.endswith("(CONT'D)")).split()
    # A word with a dash may go over two lines, and stars may be marks.
    assert "".join(read).replace("*", "") == "".join(written).replace("*", "")
    assert len(read) > 20_000


def test_every_face_is_embedded() -> None:
    command = [poppler("pdffonts"), "-"]
    data = typeset(lay_out(parse("**Bold** *italic* ***both*** plain, and Чайка.\n")))
    _, _, *faces = subprocess.run(command, input=data, capture_output=True, check=True).stdout.decode().splitlines()
    assert len(faces) == 5
    assert all(re.search(r"CID TrueType +Identity-H +yes yes yes", face) for face in faces)


def test_a_name_across_the_page_is_not_among_the_words_that_are_read() -> None:
    plain = pdftotext(typeset(lay_out(parse(PAGE)), header=Header("Second pass")))
    assert pdftotext(typeset(lay_out(parse(PAGE)), header=Header("Second pass"), name="Ana Marku")) == plain
