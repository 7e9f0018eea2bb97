"""What holds of every layout, whatever the script. Most laws are held to one layout, dearer than they all are."""

from __future__ import annotations

from collections import Counter, defaultdict
from itertools import pairwise
from typing import TYPE_CHECKING

from hypothesis import example, given, settings
from hypothesis import strategies as st

from screenplay import Kind, PageSetting, PaperSize, paginate, parse
from screenplay.fountain import runs
from screenplay.model import Block, Heading, Speech
from screenplay.page.wrapping import columns
from tests.screenplay.scripts import some_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from screenplay.model import Element, Printed, Screenplay
    from screenplay.page.layout import Cell, Layout, Page

WORDS = ("a", "net", "*the*", "half-built", "渡し船", "[[why?]]", "_slip_", "e\u0301tude", "x" * 75)
PROSE = some_of(WORDS, least=1, most=30).map(" ".join)
LAWS = settings(max_examples=30)


def several(most: int, *, starts: tuple[str, ...] = ("",)) -> st.SearchStrategy[str]:
    """At most so many lines of words, each begun in one of the ways."""
    words = some_of([*WORDS, *starts * (3 // len(starts))], least=1, most=16 * most)
    return words.map(lambda drawn: "\n".join(_lines(drawn, starts)[:most]))


def _lines(drawn: list[str], starts: tuple[str, ...]) -> list[str]:
    """The words as lines, of which each start begins one; none is without a word."""
    lines = [[starts[0]]]
    for word in drawn:
        if word not in starts:
            lines[-1].append(word)
        elif len(lines[-1]) > 1:
            lines.append([word])
    return [" ".join(filter(None, line)) for line in lines if len(line) > 1] or [f"{starts[0]}a"]


def said(with_parentheticals: bool) -> st.SearchStrategy[str]:
    """Lines of a speech; parentheticals are short and stand between what is said."""
    starts = ("say", "(low)\nsay", "  \nsay") if with_parentheticals else ("say",)
    return several(9, starts=starts)


HEADINGS = st.one_of(
    st.just("INT. SHED - NIGHT\n\nDark."), st.just("EXT. SLIPWAY - DAWN #12#"), PROSE.map(lambda text: f".a {text}")
)
ELEMENTS = st.one_of(
    HEADINGS,
    several(9).map(lambda text: f"!{text}"),
    st.builds(
        "{}{}{}".format, st.sampled_from(["NELL (V.O.)\n", "NELL\n(low)\n"]), said(True), st.sampled_from(["", "\n  "])
    ),
    said(True).map("KIT\n{}".format),
    st.tuples(said(False), said(False)).map(lambda two: f"NELL\n{two[0]}\n\nTOBIAS ^\n{two[1]}"),
    PROSE.map(lambda text: f"> {text} <"),
    st.sampled_from(["CUT TO:", "> FADE OUT.", "CUT TO:\n\nSMASH CUT TO:"]),
    st.just("==="),
    st.sampled_from(["# Act", "= What happens.", "[[A note\nof two lines.]]", "/* Cut.\n\nAll of it. */"]),
)
SCRIPTS = st.one_of(st.lists(ELEMENTS, max_size=30), st.lists(ELEMENTS, min_size=9, max_size=30)).map("\n\n".join)
PAPERS = st.sampled_from(PaperSize)


def printed_lines(screenplay: Screenplay) -> Iterator[Printed]:
    for element in screenplay.elements:
        match element:
            case Heading(printed=printed):
                yield printed
            case Speech(cue=cue, lines=lines):
                yield cue
                yield from lines
            case Block(kind=kind, lines=lines) if kind not in {Kind.SECTION, Kind.SYNOPSIS, Kind.PAGE_BREAK}:
                yield from lines


def cells(layout: Layout) -> Iterator[Cell]:
    return (cell for page in layout.pages for row in page.rows for cell in row.cells)


def without_space(text: str) -> str:
    return "".join(text.split())


def element_of_lines(screenplay: Screenplay) -> dict[int, int]:
    """The position of the element each source line belongs to."""
    return {
        line: position
        for position, element in enumerate(screenplay.elements)
        for line in range(element.first_line, element.last_line + 1)
    }


def all_that_is_printed_stands_on_the_pages_once(screenplay: Screenplay, layout: Layout) -> None:
    found: dict[int, str] = defaultdict(str)
    for cell in cells(layout):
        assert (cell.line is None) == bool(cell.added)
        if cell.line is not None:
            found[cell.line] += without_space(cell.text)
    expected = {
        printed.line: without_space("".join(run.text for run in runs(printed))) for printed in printed_lines(screenplay)
    }
    assert dict(found) == {line: text for line, text in expected.items() if text}


def the_words_of_the_source_are_the_words_of_the_pages(script: str, layout: Layout) -> None:
    # Counted in the text itself, with no help from the parser: these words stand in no note, no cut and no mark.
    shown = Counter(word for cell in cells(layout) if not cell.added for word in cell.text.split())
    # A dash breaks a row, so that half- and built may be words of two rows.
    for word in ("net", "say", "Dark."):
        assert shown[word] == script.split().count(word) + script.split().count(f"!{word}")


def every_run_stands_in_its_source_line_where_it_says(screenplay: Screenplay, layout: Layout) -> None:
    for cell in cells(layout):
        if cell.line is None:
            continue
        for run in cell.runs:
            assert screenplay.source[cell.line - 1][run.start : run.start + len(run.text)] == run.text


def lines_stand_in_the_order_of_the_source(layout: Layout) -> None:
    for side in ("left", "right"):
        lines = [cell.line for cell in cells(layout) if cell.line and cell.side in {"", side}]
        assert lines == sorted(lines)


def no_page_is_empty_or_longer_than_the_paper_or_begins_or_ends_blank(
    pages: tuple[Page, ...], paper: PaperSize
) -> None:
    assert [page.number for page in pages] == list(range(1, len(pages) + 1))
    for page in pages:
        assert 0 < len(page.rows) <= paper.lines
        assert page.rows[0].cells
        assert page.rows[-1].cells


def no_row_reaches_past_the_text_s_right_edge_nor_into_the_other_side(pages: tuple[Page, ...]) -> None:
    for page in pages:
        for row in page.rows:
            ends = [cell.column + columns(cell.text) for cell in row.cells]
            assert ends[-1:] <= [60]
            assert all(end < cell.column for end, cell in zip(ends, row.cells[1:], strict=False))


def no_heading_ends_a_page(screenplay: Screenplay, pages: tuple[Page, ...]) -> None:
    element_of = element_of_lines(screenplay)
    for page in pages[:-1]:
        last = page.rows[-1]
        if last.kind is Kind.SCENE_HEADING:
            assert last.line is not None
            assert a_page_break_comes_next(screenplay.elements[element_of[last.line] + 1 :])


def a_page_break_comes_next(elements: tuple[Element, ...]) -> bool:
    following = next((element for element in elements if stands_on_a_page_or_ends_one(element)), None)
    return isinstance(following, Block) and following.kind is Kind.PAGE_BREAK


def stands_on_a_page_or_ends_one(element: Element) -> bool:
    match element:
        case Block(kind=Kind.PAGE_BREAK):
            return True
        case Block(kind=Kind.SECTION | Kind.SYNOPSIS):
            return False
        case Block(lines=lines):  # a note can be all there is in it
            return any(without_space(run.text) for line in lines for run in runs(line))
    return True


NEAR_A_PAGE_S_END = st.builds(
    lambda rows, element, rest: "\n\n".join([*["Row."] * rows, element, "CUT TO:", *rest]),
    st.integers(22, 29),
    st.one_of(
        HEADINGS, st.integers(1, 6).map(lambda lines: "\n".join(["!Rain."] * lines)), said(False).map("NELL\n{}".format)
    ),
    st.lists(ELEMENTS, max_size=3),
)


def no_transition_begins_a_page_unless_the_writer_begins_it_there(
    screenplay: Screenplay, pages: tuple[Page, ...]
) -> None:
    element_of = element_of_lines(screenplay)
    for page in pages[1:]:
        first = page.rows[0]
        if first.kind is Kind.TRANSITION:
            assert first.line is not None
            assert a_page_break_comes_next(screenplay.elements[: element_of[first.line]][::-1])


BREAKS_WITH_CARE = {Kind.ACTION, Kind.DIALOGUE, Kind.LYRIC}


def a_split_speech_or_action_has_two_lines_on_each_side(screenplay: Screenplay, pages: tuple[Page, ...]) -> None:
    element_of = element_of_lines(screenplay)
    for page, next_page in pairwise(pages):
        before, after = rows_by_element(page, element_of), rows_by_element(next_page, element_of)
        for element in before.keys() & after.keys():
            assert before[element] >= 2
            assert after[element] >= 2


def rows_by_element(page: Page, element_of: dict[int, int]) -> Counter[int]:
    return Counter(
        element_of[cell.line]
        for row in page.rows
        for cell in row.cells
        if cell.line is not None and cell.kind in BREAKS_WITH_CARE
    )


def a_speech_says_more_exactly_where_it_goes_on_overleaf(screenplay: Screenplay, pages: tuple[Page, ...]) -> None:
    element_of = element_of_lines(screenplay)
    for page, next_page in pairwise(pages):
        split = {
            position
            for position in rows_by_element(page, element_of).keys() & rows_by_element(next_page, element_of).keys()
            if isinstance(screenplay.elements[position], Speech)
        }
        more = [cell.added for cell in page.rows[-1].cells if cell.added == "more"]
        again = [cell.text for cell in next_page.rows[0].cells if cell.added == "contd"]
        assert len(more) == len(again) == len(split)
        assert all(text.endswith("(CONT'D)") for text in again)
    added_inside = [row.added for page in pages for row in page.rows[1:-1]]
    assert not any(added_inside)


def eighths_are_one_a_scene_at_least_and_add_up_to_the_pages(
    screenplay: Screenplay, layout: Layout, paper: PaperSize
) -> None:
    scenes = sum(isinstance(element, Heading) for element in screenplay.elements)
    assert len(layout.scene_eighths) == scenes
    assert all(eighths >= 1 for eighths in layout.scene_eighths)
    if layout.pages and scenes:
        pages = len(layout.pages) - 1 + len(layout.pages[-1].rows) / paper.lines
        shortest = sum(eighths == 1 for eighths in layout.scene_eighths)
        assert abs(8 * pages - layout.eighths) <= 0.5 * (scenes - shortest + 1) + shortest + 1e-9


def a_line_s_pages_are_those_it_stands_on(layout: Layout) -> None:
    stands: dict[int, set[int]] = defaultdict(set)
    for page in layout.pages:
        for row in page.rows:
            for cell in row.cells:
                if cell.line is not None:
                    stands[cell.line].add(page.number)
    assert layout.page_of == {line: min(pages) for line, pages in stands.items()}
    assert layout.last_page_of == {line: max(pages) for line, pages in stands.items()}


@settings(max_examples=120)
@given(st.one_of(SCRIPTS, NEAR_A_PAGE_S_END), PAPERS)
@example("EXT. SLIPWAY - DAWN #12#\n\n![[why?]]\n\n===\n\nINT. SHED - NIGHT\n\nDark.", PaperSize.LETTER)
def test_the_pages_of_every_script_keep_the_laws(script: str, paper: PaperSize) -> None:
    screenplay = parse(script)
    layout = paginate(screenplay, PageSetting(paper))

    all_that_is_printed_stands_on_the_pages_once(screenplay, layout)
    the_words_of_the_source_are_the_words_of_the_pages(script, layout)
    every_run_stands_in_its_source_line_where_it_says(screenplay, layout)
    lines_stand_in_the_order_of_the_source(layout)
    no_page_is_empty_or_longer_than_the_paper_or_begins_or_ends_blank(layout.pages, paper)
    no_row_reaches_past_the_text_s_right_edge_nor_into_the_other_side(layout.pages)
    no_heading_ends_a_page(screenplay, layout.pages)
    no_transition_begins_a_page_unless_the_writer_begins_it_there(screenplay, layout.pages)
    a_split_speech_or_action_has_two_lines_on_each_side(screenplay, layout.pages)
    a_speech_says_more_exactly_where_it_goes_on_overleaf(screenplay, layout.pages)
    eighths_are_one_a_scene_at_least_and_add_up_to_the_pages(screenplay, layout, paper)
    a_line_s_pages_are_those_it_stands_on(layout)


@LAWS
@given(SCRIPTS, PAPERS)
def test_one_script_has_one_layout_whatever_stands_before_its_headings(script: str, paper: PaperSize) -> None:
    screenplay, setting = parse(script), PageSetting(paper, blank_lines_before_heading=2)
    layout = paginate(screenplay, setting)

    assert paginate(parse(script), setting) == layout
    eighths_are_one_a_scene_at_least_and_add_up_to_the_pages(screenplay, layout, paper)


@LAWS
@given(st.text(st.sampled_from("AB \n\t.(){}[]*_>^~#=/!@:渡\u0301\u2028\r"), max_size=300))
def test_any_text_can_be_laid_out(text: str) -> None:
    layout = paginate(parse(text))
    assert all(0 < len(page.rows) <= 54 for page in layout.pages)
    assert all(run.text for cell in cells(layout) for run in cell.runs)
