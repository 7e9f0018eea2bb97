"""What holds for every text there is, whether it looks like Fountain or not."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from hypothesis import example, given, settings
from hypothesis import strategies as st

from screenplay import parse
from screenplay.fountain import heading_fields, runs
from screenplay.fountain.emphasis import plain
from screenplay.model import Block, Heading, Kind, Speech
from tests.screenplay.scripts import any_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from screenplay.model import Element, Printed, Screenplay

NO_ELEMENT = {Kind.BLANK, Kind.NOTE, Kind.BONEYARD}


def all_printed(screenplay: Screenplay) -> Iterator[Printed]:
    for element in screenplay.elements:
        yield from printed_of(element)


def printed_of(element: Element) -> tuple[Printed, ...]:
    match element:
        case Heading():
            return (element.printed,)
        case Speech():
            return (element.cue, *element.lines)
        case Block():
            return element.lines


@settings(max_examples=200)
@given(any_text)
@example("")
@example("\r\n\n\r\r\n")
@example("Title:\n")
@example("Title: X\n  \n")
@example("\tA [[x]] b\t*c*\t/* d */e")
@example("A\t\t*b\tc* [[x]]*d*")
def test_any_text_is_read_by_the_laws(text: str) -> None:
    screenplay = parse(text)

    assert "".join(screenplay.source) == text
    every_source_line_has_one_kind_and_one_place_among_the_scenes(screenplay)
    elements_stand_in_order_and_share_no_line(screenplay)
    every_line_that_is_something_is_in_an_element_or_on_the_title_page(screenplay)
    what_is_printed_is_found_at_its_place_in_the_source_line(screenplay)
    each_run_is_found_at_its_start_in_the_source_line(screenplay)
    a_name_is_spelled_one_way(screenplay)
    warnings_name_a_line_there_is_and_say_one_sentence(screenplay)


def every_source_line_has_one_kind_and_one_place_among_the_scenes(screenplay: Screenplay) -> None:
    assert len(screenplay.kinds) == len(screenplay.scene_of) == len(screenplay.source)
    for before, (kind, scene) in pairwise([(None, 0), *zip(screenplay.kinds, screenplay.scene_of, strict=True)]):
        assert scene == before[1] + (kind is Kind.SCENE_HEADING)


def elements_stand_in_order_and_share_no_line(screenplay: Screenplay) -> None:
    parts = [*screenplay.title_page, *screenplay.elements]

    for part in parts:
        assert 1 <= part.first_line <= part.last_line <= len(screenplay.source)
    for before, after in pairwise(parts):
        assert before.last_line < after.first_line


def every_line_that_is_something_is_in_an_element_or_on_the_title_page(screenplay: Screenplay) -> None:
    told = {line.line: line.kind for line in all_printed(screenplay)}
    for entry in screenplay.title_page:
        told |= dict.fromkeys(range(entry.first_line, entry.last_line + 1), Kind.TITLE_PAGE)

    for number, kind in enumerate(screenplay.kinds, start=1):
        if kind not in NO_ELEMENT:
            assert told[number] is kind
        elif number in told:
            assert told[number] is Kind.TITLE_PAGE, "a note among the lines of one title entry"


def what_is_printed_is_found_at_its_place_in_the_source_line(screenplay: Screenplay) -> None:
    for printed in all_printed(screenplay):
        source = screenplay.source[printed.line - 1]
        found = "".join(source[printed.source_offset(at)] for at in range(len(printed.text)))
        assert found.replace("\t", " ") == printed.text


def each_run_is_found_at_its_start_in_the_source_line(screenplay: Screenplay) -> None:
    for printed in all_printed(screenplay):
        source = screenplay.source[printed.line - 1]
        for run in runs(printed):
            assert run.text
            assert source[run.start : run.start + len(run.text)].replace("\t", " ") == run.text
        assert "".join(run.text for run in runs(printed)) == plain(printed)


HEADING_PIECES = st.sampled_from(
    [
        "INT. ",
        "EXT ",
        "FERRY",
        "NIGHT",
        "3 A.M.",
        "LATER",
        "MR. DAY",
        "RAIN",
        " - ",
        "-",
        " – ",
        ". ",
        ".",
        ", ",
        "/",
        "(",
        ")",
        " ",
    ]
)


@settings(max_examples=150)
@given(st.lists(HEADING_PIECES, max_size=14).map("".join))
def test_a_heading_has_its_parts_as_typed_and_apart(text: str) -> None:
    place, time, remark = heading_fields(text)[1:]

    assert place in text
    assert remark in text
    assert time in text
    assert len(place) + len(time) + len(remark) <= len(text)


def a_name_is_spelled_one_way(screenplay: Screenplay) -> None:
    names = {element.name for element in screenplay.elements if isinstance(element, Speech)}

    assert len({name.casefold() for name in names}) == len(names)


def warnings_name_a_line_there_is_and_say_one_sentence(screenplay: Screenplay) -> None:
    for warning in screenplay.warnings:
        assert 1 <= warning.line <= len(screenplay.source)
        assert warning.rule.startswith("F")
        assert warning.text.endswith(".")
    assert list(screenplay.warnings) == sorted(screenplay.warnings, key=lambda one: one.line)


def test_one_line_of_five_mebibytes_is_read() -> None:
    text = "x" * (5 * 1024 * 1024)

    screenplay = parse(text)

    assert screenplay.source == (text,)
    assert screenplay.kinds == ("action",)
