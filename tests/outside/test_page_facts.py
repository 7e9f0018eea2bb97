"""The trade's figures for a page, held against what is laid out.

P: a published source, named. C: common practice in the trade, no single source. M: from memory of format guides. All
the figures stand in DEVELOPERS.md.
Figures in inches are turned into characters and lines here: 10 characters and 6 lines to the inch (C).
"""

from __future__ import annotations

import itertools

import pytest

from screenplay import Kind, PageSetting, PaperSize, paginate, parse

CHARACTERS_PER_INCH = 10  # C
LINES_PER_INCH = 6  # C
LEFT_MARGIN = 1.5  # C
LONG = "word " * 40


def column(inches_from_the_paper_s_edge: float) -> int:
    return round((inches_from_the_paper_s_edge - LEFT_MARGIN) * CHARACTERS_PER_INCH)


def rows_of(kind: Kind, text: str) -> list[tuple[int, str]]:
    """Column and text of the rows of a kind."""
    return [
        (row.column, row.text.strip()) for page in paginate(parse(text)).pages for row in page.rows if row.kind is kind
    ]


@pytest.mark.parametrize(
    ("paper", "width", "height"),
    [
        (PaperSize.LETTER, 8.5, 11.0),  # P: US Letter, ANSI/ASME Y14.1 size A; from memory
        (PaperSize.A4, 210 / 25.4, 297 / 25.4),  # P: ISO 216, 210 x 297 mm
    ],
)
def test_paper_has_its_published_size(paper: PaperSize, width: float, height: float) -> None:
    assert paper.width_inches == pytest.approx(width)
    assert paper.height_inches == pytest.approx(height)


def test_a_page_has_54_to_55_lines_blank_ones_counted() -> None:
    # M; and C: an inch is left at least at the top and the bottom.
    page = paginate(parse("line\n" * 200)).pages[0]
    assert len(page.rows) in {54, 55}
    assert len(page.rows) / LINES_PER_INCH <= 11 - 2


def test_a4_leaves_an_inch_at_the_top_and_the_bottom_too() -> None:
    # C for the inch, P (ISO 216) for the height: one line more would not fit.
    lines = len(paginate(parse("line\n" * 200), PageSetting(PaperSize.A4)).pages[0].rows)
    assert lines / LINES_PER_INCH <= 297 / 25.4 - 2 < (lines + 1) / LINES_PER_INCH


@pytest.mark.parametrize(
    ("kind", "text", "from_inches", "characters"),
    [
        (Kind.ACTION, LONG, 1.5, 60),  # C
        (Kind.SCENE_HEADING, f"INT. {LONG}\n\nDark.", 1.5, 60),  # C
        (Kind.DIALOGUE, f"MARA\n{LONG}", 2.5, 35),  # C
        (Kind.PARENTHETICAL, f"MARA\n({LONG})\nGo.", 3.1, 24),  # M
    ],
)
def test_an_element_stands_in_its_column_and_keeps_its_width(
    kind: Kind, text: str, from_inches: float, characters: int
) -> None:
    rows = rows_of(kind, text)
    assert {row_column for row_column, _ in rows} == {column(from_inches)}
    assert max(len(row) for _, row in rows) <= characters
    # Filled as far as whole words go: each row but the last would not have held the next word.
    assert all(
        len(row) + 1 + len(following.split()[0]) > characters for (_, row), (_, following) in itertools.pairwise(rows)
    )


def test_a_cue_stands_3_7_inches_in() -> None:
    assert rows_of(Kind.CHARACTER, "MARA\nGo.\n") == [(column(3.7), "MARA")]  # C


@pytest.mark.parametrize("transition", ["CUT TO:", "SMASH CUT TO:"])
def test_a_transition_ends_7_5_inches_in(transition: str) -> None:
    ((row_column, text),) = rows_of(Kind.TRANSITION, f"Rain.\n\n{transition}\n\nSun.\n")
    assert row_column + len(text) == column(7.5)  # C


def test_two_blank_lines_stand_before_a_heading() -> None:
    rows = paginate(parse("Rain.\n\nINT. SHED - NIGHT\n\nDark.\n")).pages[0].rows
    assert [row.text for row in rows[:4]] == ["Rain.", "", "", "INT. SHED - NIGHT"]  # M; some houses one


def test_a_broken_speech_is_marked_as_the_trade_does() -> None:
    first, second = paginate(parse("MARA\n" + "Go on.\n" * 60)).pages
    assert first.rows[-1].text.strip() == "(MORE)"  # C
    assert second.rows[0].text.strip() == "MARA (CONT'D)"  # C


@pytest.mark.parametrize("rows_before", range(1, 60, 2))
def test_no_heading_ends_a_page_and_a_break_leaves_two_lines_on_each_side(rows_before: int) -> None:
    # C, wherever on the page the heading and the action fall.
    before = "\n\n".join(["Rain."] * (rows_before // 2 + 1))
    pages = paginate(parse(f"{before}\n\nINT. SHED - NIGHT\n\nDark.\nDry.\nCold.\nOld.\n")).pages
    assert [page.rows[-1].kind for page in pages] == [Kind.ACTION] * len(pages)
    of_the_action = [sum(row.text in {"Dark.", "Dry.", "Cold.", "Old."} for row in page.rows) for page in pages]
    assert set(of_the_action) <= {0, 2, 4}


def test_a_scene_is_an_eighth_at_least_and_eighths_add_up_to_the_pages() -> None:
    # C: give or take rounding, which is half an eighth a scene here. Four scenes of 13 rows fill a page.
    scene = "INT. SHED - NIGHT\n\n" + "Rain.\n\n" * 5
    layout = paginate(parse(scene * 8))
    assert [len(page.rows) for page in layout.pages] == [50, 50]
    assert layout.scene_eighths == (2,) * 8
    assert abs(8 * (1 + 50 / 54) - layout.eighths) <= 8 * 0.5
    assert paginate(parse("INT. SHED - NIGHT\n")).scene_eighths == (1,)
