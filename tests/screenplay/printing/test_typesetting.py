"""What a PDF of a script holds: its pages as laid out, what stands in their margins, and what comes after them."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given, settings

from screenplay import PageSetting, PaperSize, compare, lay_out, paginate, parse
from screenplay.next_draft import marks_between
from screenplay.page import LockedPage
from screenplay.printing import Header, ListedNote, ListedNotes, typeset, unprintable
from screenplay.printing.typefaces import COURIER, FALLBACK, face_file
from screenplay.tints import TINTS
from tests.pdf import bookmarks, page_labels, properties, sheets
from tests.screenplay.scripts import any_text

FERRY = """Title: **Slack Water**
Author: Noor Adeyemi

INT. FERRY - NIGHT

Rain.

MARA
It *won't* hold.

EXT. QUAY - DAY

Sun.
"""
NUMBERED = "INT. FERRY - NIGHT #12A#\n\nRain.\n\nEXT. QUAY - DAY\n\nSun.\n"
BLUE = Header("Second pass", "Blue", date(2026, 11, 25))


def test_the_title_page_stands_first_without_number_or_header() -> None:
    data = typeset(lay_out(parse(FERRY)), header=BLUE)
    title, page = sheets(data)
    assert [line.strip() for line in title.lines if line] == ["Slack Water", "Noor Adeyemi"]
    assert title.head == []
    assert page.lines[:3] == ["INT. FERRY - NIGHT", "", "Rain."]
    assert page_labels(data) == ["Title", "1"]


def test_styles_are_set_in_faces_of_their_own() -> None:
    page = sheets(typeset(lay_out(parse("Plain, **bold**, *italic*, ***both***, _under_.\n"))))[0]
    text = "".join(char["text"] for char in page.chars)
    words = ("Plain", "bold", "italic", "both", "under")
    assert [page.chars[text.index(word)]["fontname"].partition("+")[2] for word in words] == [
        "CourierPrime",
        "CourierPrimeBold",
        "CourierPrimeItalic",
        "CourierPrimeBoldItalic",
        "CourierPrime",
    ]
    (line,) = page.rects
    start, end = page.chars[text.index("under")]["x0"], page.chars[text.index("under") + 4]["x1"]
    assert (line["x0"], line["x1"]) == pytest.approx((start, end), abs=0.1)


def test_the_header_has_the_draft_s_label_colour_and_date() -> None:
    first, second = sheets(typeset(lay_out(parse("One.\n\n===\n\nTwo.\n")), header=BLUE))
    assert first.head == ["Second pass · Blue · 25 November 2026"]
    assert second.head == ["Second pass · Blue · 25 November 2026".ljust(58) + "2."]


@pytest.mark.parametrize(
    ("start", "label", "colour", "told"),
    [
        ("Draft 2, rev. since draft 1", "", "Blue", "Draft 2, rev. since draft 1 · Blue · 25 September 2026"),
        (
            "Draft 2, rev. since draft 1",
            "Tide at the hall",
            "",
            "Draft 2, rev. since draft 1, Tide… · 25 September 2026",
        ),
        ("Draft 2, rev. since draft 1", "Tides", "Blue", "Draft 2, rev. since draft 1 · Blue · 25 September 2026"),
        (
            "Draft 12, rev. since draft 11",
            "Tides",
            "Goldenrod",
            "Draft 12, rev. since draft 11 · Goldenrod · 25 Sep 2026",
        ),
    ],
)
def test_the_start_of_a_header_stands_whole_and_the_label_gives_way(
    start: str, label: str, colour: str, told: str
) -> None:
    head = Header(label, colour, date(2026, 9, 25), start)
    assert head.text(55) == told


def test_a_long_label_gives_way_to_the_colour_and_the_date() -> None:
    header = Header("The one after the read-through in the church hall, with the new end", "Blue", date(2026, 11, 25))
    (head,) = sheets(typeset(lay_out(parse("One.\n")), header=header))[0].head
    assert head.startswith("The one after the read")
    assert head.endswith("… · Blue · 25 November 2026")
    assert len(head) <= 60


def test_scenes_are_numbered_in_both_margins_on_request() -> None:
    page = sheets(typeset(lay_out(parse(NUMBERED)), scene_numbers=True))[0]
    assert page.left_margin == {0: "12A"}
    assert page.lines[0].split() == ["INT.", "FERRY", "-", "NIGHT", "12A"]
    assert sheets(typeset(lay_out(parse(NUMBERED))))[0].left_margin == {}


def test_scenes_are_counted_where_the_script_numbers_none() -> None:
    page = sheets(typeset(lay_out(parse(FERRY)), scene_numbers=True))[1]
    assert list(page.left_margin.values()) == ["1", "2"]


@pytest.mark.parametrize("paper", PaperSize)
def test_a_long_scene_number_stays_on_the_paper_and_off_the_heading(paper: PaperSize) -> None:
    text = f"INT. FERRY - NIGHT #{'5.2-' * 2}#\n\nRain.\n"
    page = sheets(typeset(lay_out(parse(text), PageSetting(paper)), scene_numbers=True))[0]
    assert page.left_margin == {0: "5.2-5.2-"}
    assert min(char["x0"] for char in page.chars) > 0
    assert max(char["x1"] for char in page.chars) < page.width


def test_a_heading_of_two_rows_is_numbered_once_and_has_one_bookmark() -> None:
    text = f"INT. {'VERY ' * 15}LONG ROOM - NIGHT\n\nRain.\n"
    data = typeset(lay_out(parse(text)), scene_numbers=True)
    assert sheets(data)[0].left_margin == {0: "1"}
    assert len(bookmarks(data)) == 1


def test_bookmarks_lead_to_the_scenes() -> None:
    text = FERRY.replace("EXT. QUAY", "===\n\nEXT. *QUAY*")
    assert bookmarks(typeset(lay_out(parse(text)))) == [("1  INT. FERRY - NIGHT", 2), ("2  EXT. QUAY - DAY", 3)]


def test_the_document_has_a_title_and_a_language() -> None:
    told = properties(typeset(lay_out(parse(FERRY)), language="nb"))
    assert (told["Title"], told["Lang"]) == ("Slack Water", "nb")
    assert properties(typeset(lay_out(parse(FERRY)), title="High Water"))["Title"] == "High Water"


def test_a_name_stands_across_every_page_light_and_behind_the_text() -> None:
    notes = [ListedNote("Page 1", "", "Louder.", "Ana Marku")]
    pages = sheets(typeset(lay_out(parse(FERRY)), name="Ana  Márku", notes=ListedNotes(tuple(notes))))
    assert [page.slanted for page in pages] == ["Ana Márku"] * 3
    for page in pages:
        name, text = page.chars[:9], page.chars[9:]
        assert {char["non_stroking_color"][0] > 0.85 for char in name} == {True}
        assert {char["non_stroking_color"] for char in text} == {(0,)}
        assert all(char["matrix"][1] == 0 for char in text)


@pytest.mark.parametrize("name", ["Bo", "Maria Guadalupe Ximénez de la Cruz y Montenegro-Wolfeschlegel"])
@pytest.mark.parametrize("paper", PaperSize)
def test_a_name_of_any_length_stays_on_the_paper(name: str, paper: PaperSize) -> None:
    page = sheets(typeset(lay_out(parse("One.\n"), PageSetting(paper)), name=name))[0]
    slanted = [char for char in page.chars if char["matrix"][1]]
    assert min(char["x0"] for char in slanted) > 0
    assert max(char["x1"] for char in slanted) < page.width
    assert min(char["top"] for char in slanted) > 0
    assert max(char["bottom"] for char in slanted) < page.height


def test_open_notes_are_listed_after_the_script() -> None:
    notes = [
        ListedNote("Page 1, scene 1", "It won't hold.", "Too soon.\nShe has not looked yet.", "Ana Marku, costume"),
        ListedNote("Page 1, scene 2", "Sun.", "", "Ilse Brandt, camera", wording="No sun."),
        ListedNote("Page 1, scene 2", "Sun.", "We have seen it.", "Jo Okafor, sound", wording=""),
    ]
    data = typeset(lay_out(parse(FERRY)), notes=ListedNotes(tuple(notes)))
    assert sheets(data)[-1].lines == [
        "3 open notes",
        "",
        "1.   Page 1, scene 1",
        "     “It won't hold.”",
        "     Too soon.",
        "     She has not looked yet.",
        "     – Ana Marku, costume",
        "",
        "2.   Page 1, scene 2",
        "     “Sun.”",
        "     In their place:",
        "        No sun.",
        "     – Ilse Brandt, camera",
        "",
        "3.   Page 1, scene 2",
        "     “Sun.”",
        "     We have seen it.",
        "     To be cut.",
        "     – Jo Okafor, sound",
    ]
    assert bookmarks(data)[-1] == ("3 open notes", 3)
    assert page_labels(data) == ["Title", "1", "After the script"]


def test_a_list_without_notes_says_so_and_no_list_is_no_page() -> None:
    assert sheets(typeset(lay_out(parse(FERRY)), notes=ListedNotes(())))[-1].lines == [
        "Open notes",
        "",
        "There are none.",
    ]
    assert len(sheets(typeset(lay_out(parse(FERRY))))) == 2


def test_every_word_of_many_long_notes_is_listed() -> None:
    notes = [ListedNote(f"Page {n}", "word " * 90, f"Note {n}. " + "Why so? " * 120, "Ana Marku") for n in range(9)]
    notes.append(ListedNote("Page 9", "", "And again. " * 500, "Ana Marku"))
    pages = sheets(typeset(lay_out(parse(FERRY)), notes=ListedNotes(tuple(notes))))[2:]
    read = " ".join(" ".join(line.split()) for page in pages for line in page.lines)
    assert read.count("Why so?") == 9 * 120
    assert read.count("And again.") == 500
    assert all(len(page.lines) <= PaperSize.LETTER.lines for page in pages)
    assert [page.lines[0][:2] for page in pages][:1] == ["10"]
    # A note that fits on a page stands on one.
    for number in range(9):
        assert sum(f"Page {number}" in line for page in pages for line in page.lines) == 1
    first = next(page for page in pages if any("Note 1." in line for line in page.lines))
    assert any(line.startswith("2.   Page 1") for line in first.lines)


def test_changed_lines_have_an_asterisk_in_the_right_margin() -> None:
    ferry = parse(FERRY)
    before = parse(FERRY.replace("It *won't* hold.", "The rope holds, I tell you."))
    page = sheets(typeset(lay_out(ferry), marks=marks_between(compare(before, ferry))))[1]
    (marked,) = [line for line in page.lines if line.endswith("*")]
    assert marked.split() == ["It", "won't", "hold.", "*"]
    assert max(char["x0"] for char in page.chars if char["text"] == "*") > 7.5 * 72


def test_the_paper_of_pages_with_changed_lines_is_tinted_and_no_other() -> None:
    longer = parse(FERRY + "\n===\n\nThe far bank.\n")
    before = parse(longer.text.replace("Rain.", "Clear sky."))
    pages = lay_out(longer)
    tinted = sheets(typeset(pages, marks=marks_between(compare(before, longer)), tint=TINTS["blue"]))
    assert [bool(sheet.rects) for sheet in tinted] == [False, True, False]
    assert not any(sheet.rects for sheet in sheets(typeset(pages, tint=TINTS["blue"])))


LOCKED = PageSetting(locked_pages=(LockedPage("1", 1), LockedPage("2-3", 5)))
RUN_OVER = "INT. FERRY - NIGHT\n\nRain.\n\nThe far bank.\n\n===\n\nA bell.\n"


def test_locked_pages_are_called_as_they_were_at_their_head_and_in_a_viewer() -> None:
    data = typeset(lay_out(parse(RUN_OVER), LOCKED))
    assert page_labels(data) == ["1", "2-3", "3A"]
    assert [" ".join(page.head).strip() for page in sheets(data)] == ["", "2-3.", "3A."]


def test_revised_pages_are_those_that_are_named() -> None:
    pages = lay_out(parse(RUN_OVER), LOCKED)
    marks = marks_between(compare(RUN_OVER.replace("Rain", "Fog"), RUN_OVER))
    named = typeset(pages, marks=marks, revised={"2-3", "3A"}, tint=TINTS["blue"])
    assert [bool(sheet.rects) for sheet in sheets(named)] == [False, True, True]
    assert page_labels(typeset(pages, marks=marks, revised={"2-3", "3A"}, revised_only=True)) == ["2-3", "3A"]
    assert page_labels(typeset(pages, marks=marks, revised_only=True)) == ["1"]


def test_cyrillic_and_greek_stand_in_the_same_columns_in_a_second_face() -> None:
    text = "ИНТ. ДОМ\n\nЙод и «Чайка» по Ωδή, said ARI.\n"
    page = sheets(typeset(lay_out(parse(text))))[0]
    assert page.lines == [row.text for row in paginate(parse(text)).pages[0].rows]
    assert {char["fontname"].partition("+")[2] for char in page.chars} == {"CourierPrime", "LiberationMono"}
    assert unprintable(text) == ()


def test_an_accent_apart_from_its_letter_is_put_together_with_it() -> None:
    assert sheets(typeset(lay_out(parse("Cafe\u0301 au lait.\n"))))[0].lines == ["Café au lait."]


def test_what_shows_nothing_takes_no_column() -> None:
    assert sheets(typeset(lay_out(parse("Wel\u00adcome\u200b, all\u200d.\n"))))[0].lines == ["Welcome, all."]


def test_what_no_face_has_is_a_square_and_a_last_page_says_so() -> None:
    data = typeset(lay_out(parse("Title: X\n\nAt 山 and ש, 山.\n")))
    _, page, last = sheets(data)
    assert page.lines[0].startswith("At □  and □")
    assert last.lines[0] == "About this copy"
    words = " ".join(" ".join(last.lines).split())
    assert "2 characters are not in the type this copy is set in, and stand as □" in words
    assert "U+5C71" in words


def test_the_characters_no_face_has_are_told_once_each() -> None:
    assert unprintable("山 a 田 山 שלום\u200b") == ("山", "田", "ש", "ל", "ו", "ם")


def test_every_face_of_a_family_has_the_same_characters() -> None:
    from fontTools.ttLib import TTFont

    for family in (COURIER, FALLBACK):
        sets = [set(TTFont(face_file(family, style)).getBestCmap()) for style in ("", "B", "I", "BI")]
        assert all(each == sets[0] for each in sets)


def test_the_same_draft_gives_the_same_bytes() -> None:
    assert typeset(lay_out(parse(FERRY)), header=BLUE, name="Ana") == typeset(
        lay_out(parse(FERRY)), header=BLUE, name="Ana"
    )


def test_one_blank_line_before_headings_is_kept_to() -> None:
    page = sheets(typeset(lay_out(parse(FERRY), PageSetting(blank_lines_before_heading=1))))[1]
    assert page.lines[page.lines.index("EXT. QUAY - DAY") - 2] != ""


@pytest.mark.parametrize("text", ["", "\n\n", "[[only a note]]\n"])
def test_a_script_that_prints_nothing_is_one_blank_page(text: str) -> None:
    assert [page.chars for page in sheets(typeset(lay_out(parse(text))))] == [[]]


@settings(max_examples=25)
@given(any_text)
def test_any_text_can_be_set(text: str) -> None:
    script = parse(text)
    assert typeset(lay_out(script), scene_numbers=True, name="Ana").startswith(b"%PDF-")
