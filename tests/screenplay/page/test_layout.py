"""What stands where on a page, and where a page may end."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from screenplay import Kind, PageSetting, PaperSize, paginate, parse

if TYPE_CHECKING:
    from screenplay.page.layout import Layout, Page

HEADING = "INT. BOATHOUSE - NIGHT"


def lay(text: str, paper: PaperSize = PaperSize.LETTER, blank_lines_before_heading: int = 2) -> Layout:
    return paginate(parse(text), PageSetting(paper, blank_lines_before_heading=blank_lines_before_heading))


def texts(page: Page) -> list[str]:
    return [row.text for row in page.rows]


def filler(rows: int) -> str:
    """So many rows of text and blank lines between them, an odd number, that may be parted anywhere between."""
    return "\n\n".join(f"Row {number}." for number in range(1, rows + 1, 2))


def action(rows: int, word: str = "Line") -> str:
    return "\n".join(f"{word} {number}." for number in range(1, rows + 1))


def speech(rows: int, cue: str = "NELL") -> str:
    return f"{cue}\n{action(rows, 'Says')}"


def test_elements_stand_in_their_columns_one_blank_line_apart() -> None:
    layout = lay(
        f"{HEADING}\n\nNell mends a net.\n\nNELL\n(low)\nTide turns at four.\n\nCUT TO:\n\n> THE END <\n\n~Row, row\n"
    )
    assert texts(layout.pages[0]) == [
        "INT. BOATHOUSE - NIGHT",
        "",
        "Nell mends a net.",
        "",
        " " * 22 + "NELL",
        " " * 16 + "(low)",
        " " * 10 + "Tide turns at four.",
        "",
        " " * 53 + "CUT TO:",
        "",
        " " * 26 + "THE END",
        "",
        " " * 10 + "Row, row",
    ]


def test_rows_know_their_kind_and_their_source_line() -> None:
    rows = lay(f"{HEADING}\n\n\nNELL\nGo.\n").pages[0].rows
    assert [(row.kind, row.line) for row in rows] == [
        (Kind.SCENE_HEADING, 1),
        (None, None),
        (Kind.CHARACTER, 4),
        (Kind.DIALOGUE, 5),
    ]


@pytest.mark.parametrize("blank_lines", [1, 2])
def test_a_heading_has_one_or_two_blank_lines_above_it_as_asked(blank_lines: int) -> None:
    layout = lay(f"Rain.\n\n{HEADING}\n\nDry.\n", blank_lines_before_heading=blank_lines)
    assert texts(layout.pages[0]) == ["Rain.", *[""] * blank_lines, HEADING, "", "Dry."]


def test_a_scene_number_stands_with_its_heading_s_first_row_alone() -> None:
    long_place = "INT. THE LONG SHED BEHIND THE OLD CUSTOMS HOUSE BY THE SLIPWAY - NIGHT"
    rows = lay(f"{long_place} #12A#\n\nDry.\n").pages[0].rows
    assert [row.number for row in rows] == ["12A", None, None, None]
    assert [row.kind for row in rows[:2]] == [Kind.SCENE_HEADING, Kind.SCENE_HEADING]


def test_an_action_keeps_its_leading_spaces_and_line_breaks() -> None:
    assert texts(lay("A sign:\n\n   Closed\n\t(for good)\nor so.\n").pages[0]) == [
        "A sign:",
        "",
        "   Closed",
        "    (for good)",
        "or so.",
    ]


def test_notes_boneyards_sections_and_synopses_print_nothing() -> None:
    layout = lay(
        "# One\n\n= They meet.\n\n[[Shorter?]]\n\n/* INT. CUT - DAY\n\nGone. */\n\nRain [[how much?]] falls.\n"
    )
    assert texts(layout.pages[0]) == ["Rain  falls."]
    assert list(layout.page_of) == [11]


def test_a_two_space_line_is_a_blank_row_within_the_speech() -> None:
    rows = lay("NELL\nOne.\n  \nTwo.\n").pages[0].rows
    assert [row.text.strip() for row in rows] == ["NELL", "One.", "", "Two."]


def test_lines_of_a_song_stand_under_each_other() -> None:
    assert texts(lay("~Row, row\n~the boat\n\n> ONE <\n> TWO <\n").pages[0]) == [
        " " * 10 + "Row, row",
        " " * 10 + "the boat",
        "",
        " " * 28 + "ONE",
        " " * 28 + "TWO",
    ]


def test_a_script_that_prints_nothing_has_no_pages() -> None:
    for text in ("", "\n\n", "Title: Slack Water\n", "[[note]]\n", "===\n\n===\n"):
        layout = lay(text)
        assert layout.pages == ()
        assert layout.eighths == 0


def test_an_action_breaks_with_two_lines_on_each_side() -> None:
    # 51 rows and a blank one leave two of the 54: the first two of six lines.
    first, second = lay(f"{filler(51)}\n\n{action(6)}\n").pages
    assert texts(first)[-2:] == ["Line 1.", "Line 2."]
    assert len(second.rows) == 4
    # 47 rows and a blank one leave six of the 54, but the seventh line does not stand alone.
    first, second = lay(f"{filler(47)}\n\n{action(7)}\n").pages
    assert texts(second) == ["Line 6.", "Line 7."]


def test_an_action_of_three_lines_is_not_broken() -> None:
    first, second = lay(f"{filler(51)}\n\n{action(3)}\n").pages
    assert len(first.rows) == 51
    assert texts(second) == ["Line 1.", "Line 2.", "Line 3."]


@pytest.mark.parametrize(("rows", "before", "goes_along"), [
    (51, action(2), ["Line 1.", "Line 2."]),
    (49, action(4), ["Line 3.", "Line 4."]),
    (47, action(6), ["Line 5.", "Line 6."]),
    (49, action(3), ["Line 1.", "Line 2.", "Line 3."]),
    (53, "", ["Row 53."]),
])  # fmt: skip
def test_a_transition_takes_the_end_of_what_comes_before_it_along(
    rows: int, before: str, goes_along: list[str]
) -> None:
    first, second = lay(f"{filler(rows)}\n\n{before}\n\nCUT TO:\n").pages

    assert [text.strip() for text in texts(second)] == [*goes_along, "", "CUT TO:"]
    assert first.rows[-1].cells


def test_a_transition_after_a_speech_takes_two_lines_of_it_along_with_its_cue() -> None:
    first, second = lay(f"{filler(47)}\n\n{speech(5)}\n\nCUT TO:\n").pages

    assert [text.strip() for text in texts(first)][-2:] == ["Says 3.", "(MORE)"]
    assert [text.strip() for text in texts(second)] == ["NELL (CONT'D)", "Says 4.", "Says 5.", "", "CUT TO:"]


def test_a_transition_that_fits_moves_nothing() -> None:
    (page,) = lay(f"{filler(49)}\n\n{action(2)}\n\nCUT TO:\n").pages

    assert len(page.rows) == 54


def test_several_transitions_stay_together_with_what_comes_before_them() -> None:
    _, second = lay(f"{filler(49)}\n\n{action(2)}\n\nCUT TO:\n\n> FADE OUT.\n").pages

    assert [text.strip() for text in texts(second)] == ["Line 1.", "Line 2.", "", "CUT TO:", "", "FADE OUT."]


def test_a_transition_after_a_page_break_begins_the_page() -> None:
    _, second = lay(f"{action(2)}\n\n===\n\nCUT TO:\n\nRain.\n").pages

    assert texts(second)[0].strip() == "CUT TO:"


def test_a_broken_speech_says_more_and_its_cue_again() -> None:
    # 47 rows and a blank one leave six: the cue, four lines and (MORE).
    first, second = lay(f"{filler(47)}\n\n{speech(9, 'NELL (V.O.)')}\n").pages
    assert [text.strip() for text in texts(first)[-6:]] == [
        "NELL (V.O.)",
        "Says 1.",
        "Says 2.",
        "Says 3.",
        "Says 4.",
        "(MORE)",
    ]
    assert [text.strip() for text in texts(second)[:2]] == ["NELL (V.O.) (CONT'D)", "Says 5."]
    assert (first.rows[-1].added, second.rows[0].added) == ("more", "contd")
    assert first.rows[-1].column == second.rows[0].column == 22
    assert first.rows[-1].line is second.rows[0].line is None


def test_a_cue_that_is_continued_already_says_so_once() -> None:
    _, second = lay(f"{filler(47)}\n\n{speech(9, 'NELL (cont’d)')}\n").pages
    assert texts(second)[0].strip() == "NELL (cont’d)"


def test_a_very_long_cue_is_cut_short_when_it_is_said_again() -> None:
    _, second = lay(f"{filler(45)}\n\n{speech(9, 'THE OLD KEEPER OF THE LIGHTHOUSE ON SKERRY POINT')}\n").pages
    assert texts(second)[0] == " " * 22 + "THE OLD KEEPER OF THE LIGHTH… (CONT'D)"


def test_a_speech_of_three_lines_is_not_broken() -> None:
    # Four rows are left for the five of the cue, the parenthetical and three lines.
    first, second = lay(f"{filler(49)}\n\nNELL\n(low)\n{action(3)}\n").pages
    assert len(first.rows) == 49
    assert [row.added for row in second.rows] == [""] * 5


def test_a_parenthetical_never_ends_a_page() -> None:
    # Six rows are left: cue, three lines, a parenthetical and (MORE) would fill them.
    text = "NELL\nOne.\nTwo.\nThree.\n(turning)\nFour.\nFive.\nSix."
    first, second = lay(f"{filler(47)}\n\n{text}\n").pages
    assert [row.text.strip() for row in first.rows[-2:]] == ["Three.", "(MORE)"]
    assert second.rows[1].text.strip() == "(turning)"


def test_a_blank_row_within_a_speech_is_dropped_at_a_page_break() -> None:
    text = "NELL\nOne.\nTwo.\nThree.\n  \nFour.\nFive.\nSix."
    first, second = lay(f"{filler(47)}\n\n{text}\n").pages
    assert [row.text.strip() for row in first.rows[-2:]] == ["Three.", "(MORE)"]
    assert [row.text.strip() for row in second.rows[:2]] == ["NELL (CONT'D)", "Four."]


def test_a_speech_longer_than_two_pages_goes_on_as_often_as_it_must() -> None:
    pages = lay(speech(120)).pages
    assert [len(page.rows) for page in pages] == [54, 54, 17]
    assert [page.rows[-1].added for page in pages] == ["more", "more", ""]
    assert [page.rows[0].added for page in pages] == ["", "contd", "contd"]


def test_a_heading_goes_to_the_next_page_with_what_follows_it() -> None:
    # 49 rows, two blank ones, the heading and its blank one leave one row.
    first, second = lay(f"{filler(49)}\n\n{HEADING}\n\n{action(4)}\n").pages
    assert len(first.rows) == 49
    assert texts(second)[0] == HEADING
    # One blank line fewer leaves two rows, enough for the first lines of the action.
    first, second = lay(f"{filler(49)}\n\n{HEADING}\n\n{action(4)}\n", blank_lines_before_heading=1).pages
    assert texts(first)[-4:] == [HEADING, "", "Line 1.", "Line 2."]


def test_headings_in_a_row_stay_with_what_follows_the_last() -> None:
    first, second = lay(f"{filler(43)}\n\n{HEADING}\n\nEXT. SLIPWAY - DAWN\n\nINT. SHED - DAY\n\n{action(3)}\n").pages
    assert len(first.rows) == 43
    assert texts(second)[0] == HEADING


def test_a_page_break_begins_a_page_unless_it_is_new() -> None:
    layout = lay("===\n\nOne.\n\n===\n\n===\n\nTwo.\n")
    assert [texts(page) for page in layout.pages] == [["One."], ["Two."]]


def test_two_speeches_stand_side_by_side() -> None:
    rows = lay("NELL\nNow!\n\nTOBIAS ^\n(late)\nNot yet, the rope is still on the second bollard!\n").pages[0].rows
    assert [row.text for row in rows] == [
        "        NELL                            TOBIAS",
        "Now!                                (late)",
        " " * 32 + "Not yet, the rope is still",
        " " * 32 + "on the second bollard!",
    ]
    assert [[(cell.side, cell.line) for cell in row.cells] for row in rows] == [
        [("left", 1), ("right", 4)],
        [("left", 2), ("right", 5)],
        [("right", 6)],
        [("right", 6)],
    ]


def test_a_third_speech_side_by_side_stands_by_itself() -> None:
    rows = lay("NELL\nNow!\n\nTOBIAS ^\nNo!\n\nIRIS ^\nYes!\n").pages[0].rows
    assert [row.side for row in rows] == ["left", "left", "", "", ""]


def test_speeches_side_by_side_go_to_the_next_page_together() -> None:
    first, second = lay(f"{filler(41)}\n\n{speech(14)}\n\n{speech(4, 'TOBIAS ^')}\n").pages
    assert len(first.rows) == 41
    assert len(second.rows) == 15


def test_speeches_side_by_side_that_would_fill_a_page_begin_under_their_heading() -> None:
    first, second = lay(f"{HEADING}\n\n{speech(53)}\n\n{speech(53, 'TOBIAS ^')}\n").pages
    assert first.rows[0].kind is Kind.SCENE_HEADING
    assert len(first.rows) == 54
    assert len(second.rows) == 4


def test_speeches_side_by_side_longer_than_a_page_are_each_said_to_go_on() -> None:
    pages = lay(f"{speech(60)}\n\n{speech(70, 'TOBIAS ^')}\n").pages
    assert [cell.added for cell in pages[0].rows[-1].cells] == ["more", "more"]
    assert [cell.text for cell in pages[1].rows[0].cells] == ["NELL (CONT'D)", "TOBIAS (CONT'D)"]
    assert [cell.side for cell in pages[1].rows[-1].cells] == ["right"]


def test_a_speech_that_has_ended_beside_a_longer_one_is_not_said_to_go_on() -> None:
    first, second = lay(f"{speech(10)}\n\n{speech(70, 'TOBIAS ^')}\n").pages
    assert [(cell.added, cell.side) for cell in first.rows[-1].cells] == [("more", "right")]
    assert [cell.text for cell in second.rows[0].cells] == ["TOBIAS (CONT'D)"]


def test_a_line_broken_over_two_pages_has_a_first_and_a_last_page() -> None:
    words = " ".join(["word"] * 12 * 20)
    layout = lay(f"{filler(43)}\n\n{words}\n")
    line = len(filler(43).split("\n")) + 2
    assert (layout.page_of[line], layout.last_page_of[line]) == (1, 2)
    assert layout.page_of[1] == layout.last_page_of[1] == 1


def test_a4_takes_four_lines_more_in_the_same_columns() -> None:
    text = f"{HEADING}\n\n{filler(81)}\n"
    letter, a4 = lay(text), lay(text, PaperSize.A4)
    assert [len(page.rows) for page in letter.pages] == [53, 29]
    assert [len(page.rows) for page in a4.pages] == [57, 25]
    assert texts(letter.pages[0]) == texts(a4.pages[0])[:53]


def test_a_heading_as_long_as_a_page_is_broken_where_the_page_ends() -> None:
    layout = lay(f"INT. {'LONG ' * 2000}\n\nDry.\n")
    assert all(len(page.rows) <= 54 for page in layout.pages)
    assert [len(page.rows) for page in layout.pages[:-1]] == [54] * (len(layout.pages) - 1)


def test_a_speech_of_parentheticals_as_long_as_a_page_ends() -> None:
    layout = lay("NELL\n" + "\n".join(f"({number})" for number in range(200)))
    assert sum(row.kind is Kind.PARENTHETICAL for page in layout.pages for row in page.rows) == 200
    assert all(len(page.rows) <= 54 for page in layout.pages)


def test_a_scene_s_eighths_are_its_rows_to_the_nearest_eighth() -> None:
    # 54 rows a page: 27 of them are four eighths, 30 are 4.4 of one.
    layout = lay(f"{HEADING}\n\n{action(23)}\n\nEXT. SLIPWAY - DAWN\n\n{action(28)}\n")
    assert [len(page.rows) for page in layout.pages] == [54, 3]
    assert layout.scene_eighths == (4, 4)
    assert layout.lead_in_eighths == 0
    assert layout.eighths == 8


def test_an_eighth_begun_by_more_than_half_is_counted() -> None:
    # 31 rows are 4.6 eighths of 54, and 30 are 4.4.
    assert lay(f"{HEADING}\n\n{action(29)}\n").scene_eighths == (5,)
    assert lay(f"{HEADING}\n\n{action(28)}\n").scene_eighths == (4,)


def test_a_scene_of_one_line_is_an_eighth() -> None:
    assert lay(f"{HEADING}\n").scene_eighths == (1,)


def test_what_stands_before_the_first_scene_is_counted_apart() -> None:
    assert lay(f"FADE IN:\n\n{HEADING}\n\nRain.\n").lead_in_eighths == 0
    layout = lay(f"{action(25)}\n\n{HEADING}\n\n{action(25)}\n")
    assert (layout.lead_in_eighths, layout.scene_eighths) == (4, (4,))


def test_a_script_without_scenes_is_an_eighth_at_least() -> None:
    assert lay("Rain.\n").eighths == 1


def test_paper_left_blank_by_a_page_break_belongs_to_the_scene_before_it() -> None:
    layout = lay(f"{HEADING}\n\nRain.\n\n===\n\nEXT. SLIPWAY - DAWN\n\nDry.\n")
    assert layout.scene_eighths == (8, 1)
    assert layout.eighths == 9
