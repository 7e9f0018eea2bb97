"""The text cut at its scene headings, and what is kept of it when it comes back from a browser."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay.fountain import split_lines
from screenplay.fountain.parsing import parse
from screenplay.next_draft.scene_texts import end_with_blank_line, keep_line_ends, texts_by_scene
from screenplay.script import headings_of
from tests.screenplay.scripts import any_text

often = settings(max_examples=150)
line_ends = st.sampled_from(["\n", "\r\n", "\r"])


def as_a_browser_sends(text: str) -> str:
    """Line ends as a form sends them: https://html.spec.whatwg.org/multipage/form-control-infrastructure.html, the
    submission of a textarea's value, with CRLF for every kind of line end."""
    return text.replace("\r\n", "\n").replace("\r", "\n").replace("\n", "\r\n")


@often
@given(any_text)
def test_the_parts_joined_are_the_text(text: str) -> None:
    assert "".join(texts_by_scene(text)) == text


@often
@given(any_text)
def test_there_is_a_part_for_each_scene_and_one_before_them(text: str) -> None:
    script = parse(text)
    assert len(texts_by_scene(script)) == len(headings_of(script)) + 1
    first_lines = [
        len(split_lines("".join(texts_by_scene(script)[:nth]))) + 1 for nth in range(1, len(headings_of(script)) + 1)
    ]
    assert first_lines == [heading.first_line for heading in headings_of(script)]


def test_what_stands_before_the_first_heading_is_a_part_of_its_own() -> None:
    assert texts_by_scene("Title: Slack Water\n\nINT. HUT\n\nDark.\n") == (
        "Title: Slack Water\n\n",
        "INT. HUT\n\nDark.\n",
    )


def test_a_text_that_begins_with_a_heading_has_nothing_before_it() -> None:
    assert texts_by_scene("INT. HUT\n\nDark.") == ("", "INT. HUT\n\nDark.")


@often
@given(any_text)
def test_a_text_keeps_its_line_ends_through_a_browser(text: str) -> None:
    assert keep_line_ends(text, as_a_browser_sends(text)) == text


@often
@given(any_text, any_text, line_ends)
def test_line_ends_are_all_that_it_changes(before: str, after: str, usual: str) -> None:
    kept = keep_line_ends(before, after, usual)
    assert [line.rstrip("\r\n") for line in split_lines(kept)] == [line.rstrip("\r\n") for line in split_lines(after)]


def test_a_new_line_ends_as_most_lines_do() -> None:
    assert keep_line_ends("Rain.\r\nFog.\r\n", "Rain.\nSleet.\nFog.\n") == "Rain.\r\nSleet.\r\nFog.\r\n"


@often
@given(any_text, line_ends)
def test_a_blank_line_after_a_text_is_added_once(text: str, end: str) -> None:
    ended = end_with_blank_line(text, end)
    assert ended.startswith(text)
    assert end_with_blank_line(ended, end) == ended
