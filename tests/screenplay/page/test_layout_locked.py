"""The pages of a locked script: its scene numbers, and OMITTED where a scene was cut (common practice in the trade)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay import Kind, PageSetting, PaperSize, lay_out, paginate, parse
from screenplay.page.scene_numbers import SceneNumber
from screenplay.printing.typesetting import sides, typeset
from screenplay.script import headings_of
from tests.pdf import sheets
from tests.screenplay.page.test_layout_laws import SCRIPTS
from tests.screenplay.scripts import any_text

if TYPE_CHECKING:
    from screenplay import LaidOut

TWO = "INT. SHED - NIGHT #7#\n\nDark.\n\nNELL\nWho is there?\n\nEXT. SLIPWAY - DAWN\n\nMist.\n"
LOCKED = (
    SceneNumber("1", None),
    SceneNumber("2", 1),
    SceneNumber("3", None),
    SceneNumber("3A", 2),
    SceneNumber("4", None),
)


def locked(text: str, numbers: tuple[SceneNumber, ...], paper: PaperSize = PaperSize.LETTER) -> LaidOut:
    return lay_out(parse(text), PageSetting(paper, scene_numbers=numbers))


def printed(pages: LaidOut) -> list[tuple[str | None, str]]:
    return [(row.number, row.text) for page in pages.layout.pages for row in page.rows if row.number]


def test_omitted_stands_with_its_number_where_a_scene_was_cut() -> None:
    assert printed(locked(TWO, LOCKED)) == [
        ("1", "OMITTED"),
        ("2", "INT. SHED - NIGHT"),
        ("3", "OMITTED"),
        ("3A", "EXT. SLIPWAY - DAWN"),
        ("4", "OMITTED"),
    ]


def test_a_scene_has_its_locked_number_and_not_the_one_in_its_heading() -> None:
    assert [scene.number for scene in locked(TWO, LOCKED).scenes] == ["2", "3A"]
    assert [scene.number for scene in lay_out(parse(TWO)).scenes] == ["7", None]


def test_omitted_is_no_line_of_the_source() -> None:
    rows = [row for page in locked(TWO, LOCKED).layout.pages for row in page.rows if row.text == "OMITTED"]
    assert {(row.kind, row.line, row.added) for row in rows} == {(Kind.SCENE_HEADING, None, "omitted")}


def test_a_script_of_which_every_scene_was_cut_still_has_its_numbers() -> None:
    assert printed(locked("", LOCKED[:1])) == [("1", "OMITTED")]


def test_the_pdf_has_the_numbers_in_both_margins_on_request() -> None:
    (page,) = sheets(typeset(locked(TWO, LOCKED), scene_numbers=True))
    assert sorted(page.left_margin.values()) == ["1", "2", "3", "3A", "4"]
    omitted = [line.split() for line in page.lines if line.startswith("OMITTED")]
    assert omitted == [["OMITTED", "1"], ["OMITTED", "3"], ["OMITTED", "4"]]


def test_the_pdf_without_numbers_says_omitted_alone() -> None:
    (page,) = sheets(typeset(locked(TWO, LOCKED)))
    assert page.left_margin == {}
    assert page.lines.count("OMITTED") == 3


def test_sides_have_omitted_in_grey_as_no_scene_of_anyones() -> None:
    (page,) = sheets(sides(locked(TWO, LOCKED), "NELL"))
    of_omitted = page.char("OMITTED")
    assert of_omitted["non_stroking_color"] != page.char("INT. SHED")["non_stroking_color"]


def test_omitted_takes_no_eighths_from_the_scene_before_it() -> None:
    text = "INT. SHED\n\n" + "Dark.\n\n" * 5 + "EXT. SLIPWAY\n\nMist.\n"
    many = (SceneNumber("1", 1), *(SceneNumber(f"1{letter}", None) for letter in "ABCDEF"), SceneNumber("2", 2))
    assert [scene.eighths for scene in locked(text, many).scenes] == [2, 1]
    assert [scene.eighths for scene in lay_out(parse(text)).scenes] == [2, 1]


@settings(max_examples=40)
@given(st.one_of(SCRIPTS, any_text), st.lists(st.integers(0, 30), max_size=8), st.sampled_from(PaperSize))
def test_the_laws_of_the_page_hold_with_omitted_scenes(text: str, cut: list[int], paper: PaperSize) -> None:
    """No page too long, all that prints once, every number once and in order, and the lengths of the text by itself."""
    plain = parse(text)
    scenes = len(headings_of(plain))
    numbers: list[SceneNumber] = []
    for ordinal in range(1, scenes + 2):
        numbers += [SceneNumber(f"{ordinal}X{at}", None) for at in range(cut.count(ordinal))]
        if ordinal <= scenes:
            numbers.append(SceneNumber(str(ordinal), ordinal))
    pages = locked(text, tuple(numbers), paper)
    layout = pages.layout
    assert all(len(page.rows) <= paper.lines for page in layout.pages)
    rows = [row for page in layout.pages for row in page.rows]
    said = [row.number for row in rows if row.number]
    blank_headings = {scene.number for scene in pages.scenes} - set(said)
    assert said == [number for number, ordinal in numbers if ordinal is None or number not in blank_headings]
    unlocked = paginate(plain, PageSetting(paper))
    assert set(layout.page_of) == set(unlocked.page_of)
    assert layout.scene_eighths == unlocked.scene_eighths
    assert layout.lead_in_eighths == unlocked.lead_in_eighths
