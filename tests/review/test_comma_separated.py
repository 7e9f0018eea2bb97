"""Tables as RFC 4180 has them, with no cell that a spreadsheet would run. What it would run is common practice."""

from __future__ import annotations

import csv
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from review.comma_separated import comma_separated

CELLS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=12) | st.integers(-99, 99)


def read(told: bytes) -> list[list[str]]:
    return list(csv.reader(StringIO(told.decode("utf-8-sig"), newline=""), strict=True))


@pytest.mark.parametrize(
    "begin", ["=", "+", "-", "@", "＝", "＋", "－", "＠", " =", "\t=", "\t", "\r", "\n-", "\u3000@"]
)
def test_a_cell_that_a_spreadsheet_would_run_has_an_apostrophe(begin: str) -> None:
    assert read(comma_separated(["a"], [[f"{begin}1+1"]]))[1] == [f"'{begin}1+1"]


def test_no_other_separator_parts_a_cell() -> None:
    """A semicolon is the separator where a comma stands in numbers: within quotes it parts nothing."""
    assert comma_separated(["a"], [["x;=1+1", -1]]).decode("utf-8-sig") == '"a"\r\n"x;=1+1",-1\r\n'


@given(st.lists(st.lists(CELLS, min_size=2, max_size=2), max_size=4))
def test_every_text_comes_back_whole(rows: list[list[str | int]]) -> None:
    head, *records = read(comma_separated(["a", "b"], rows))
    assert head == ["a", "b"]
    told = [
        [cell[1:] if isinstance(was, str) and cell != was else cell for cell, was in zip(*both, strict=True)]
        for both in zip(records, rows, strict=True)
    ]
    assert told == [[str(cell) for cell in row] for row in rows]
