"""The title page, laid out apart from the pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given

from screenplay import PageSetting, PaperSize, paginate, parse
from tests.screenplay.scripts import any_text

if TYPE_CHECKING:
    from screenplay.page.layout import Row

TITLE_PAGE = """Title:
    _**Slack Water**_
    A Ferry's Last Night
Credit: written by
Author: Ada Wren
Draft date: 3 March
Contact:
    Ada Wren
\tThe Old Net Loft
House style: two
    blank lines

INT. BOATHOUSE - NIGHT
"""


def title_page(text: str, paper: PaperSize = PaperSize.LETTER) -> tuple[Row, ...]:
    return paginate(parse(text), PageSetting(paper)).title_page


def printed(rows: tuple[Row, ...]) -> list[tuple[int | None, str]]:
    return [(row.line, row.text.strip()) for row in rows if row.cells]


def test_each_line_of_the_title_page_stands_there_once_with_its_source_line() -> None:
    assert printed(title_page(TITLE_PAGE)) == [
        (2, "Slack Water"),
        (3, "A Ferry's Last Night"),
        (4, "written by"),
        (5, "Ada Wren"),
        (6, "3 March"),
        (8, "Ada Wren"),
        (9, "The Old Net Loft"),
        (10, "House style: two"),
        (11, "blank lines"),
    ]


def test_a_run_stands_in_its_source_line_where_it_says() -> None:
    source = parse(TITLE_PAGE).source
    for row in title_page(TITLE_PAGE):
        for run in row.runs:
            assert row.line is not None
            assert source[row.line - 1][run.start : run.start + len(run.text)] == run.text


def test_marks_make_styles_here_too() -> None:
    (run,) = next(row for row in title_page(TITLE_PAGE) if row.line == 2).runs
    assert (run.bold, run.underline, run.italic) == (True, True, False)


@pytest.mark.parametrize("paper", PaperSize)
def test_who_wrote_it_stands_centered_a_third_down_and_the_rest_at_the_foot(paper: PaperSize) -> None:
    rows = title_page(TITLE_PAGE, paper)
    assert len(rows) == paper.lines
    assert not any(row.cells for row in rows[: paper.lines // 3])
    assert rows[paper.lines // 3].column == (60 - len("Slack Water")) // 2
    assert (rows[-1].column, rows[-1].text) == (0, "blank lines")


def test_the_title_page_counts_in_no_figure() -> None:
    layout = paginate(parse(TITLE_PAGE))
    assert len(layout.pages) == 1
    assert list(layout.page_of) == [13]
    assert layout.eighths == 1


def test_a_script_without_a_title_page_has_none() -> None:
    assert title_page("INT. SHED - DAY\n\nDark.\n") == ()
    assert title_page("Title:\n\nDark.\n") == ()


def test_a_title_page_too_long_for_its_paper_is_longer_than_that() -> None:
    rows = title_page("Title: Slack Water\nContact:\n" + "    line\n" * 80 + "\nDark.\n")
    assert len(rows) == 82
    assert len(printed(rows)) == 81


def test_an_unknown_key_with_its_value_under_it_keeps_both() -> None:
    assert printed(title_page("Title: Slack Water\nHouse style:\n    two\n\nDark.\n"))[1:] == [
        (2, "House style:"),
        (3, "two"),
    ]


@pytest.mark.parametrize("text", ["<\t<: :", "<\t<: :\n", "\ufeffTitle: :", "House\tstyle: a\tb"])
def test_a_title_page_of_one_line_stands_on_that_line(text: str) -> None:
    (entry,) = parse(text).title_page
    assert {line.line for line in (entry.key_line, *entry.lines)} == {1}
    assert [row.line for row in title_page(text) if row.cells] == [1]


def test_a_note_beside_a_title_is_not_printed_and_moves_nothing() -> None:
    text = "Title: Slack [[or Low?]] Water\nHouse style: two [[three?]] lines\n\nDark.\n"
    rows = title_page(text)
    assert printed(rows) == [(1, "Slack  Water"), (2, "House style: two  lines")]
    source = parse(text).source
    for row in rows:
        for run in row.runs:
            assert source[(row.line or 0) - 1][run.start : run.start + len(run.text)] == run.text


@given(any_text.map(lambda text: f"Title: {text}"))
def test_any_text_under_a_title_is_laid_out(text: str) -> None:
    script = parse(text)
    lines = [line.line for entry in script.title_page for line in (entry.key_line, *entry.lines)]
    assert lines == sorted(lines)
    assert set(lines) <= set(range(1, len(script.source) + 1))
    shown = {row.line for row in paginate(script).title_page if row.cells}
    assert shown <= set(lines)


def test_a_value_that_is_also_in_its_key_is_found_where_it_stands() -> None:
    (row,) = (row for row in title_page("Title: it\nSource: our\n\nDark.\n") if row.line == 2)
    assert row.runs[0].start == 8
