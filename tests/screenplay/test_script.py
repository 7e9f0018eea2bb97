"""What is counted in a script: its lines, scenes and characters, with their figures."""

from __future__ import annotations

import pytest

from screenplay import lay_out, parse
from screenplay.script import Line, characters_of, lines_of, same_words

SCRIPT = """Title: The Last Crossing

FADE UP.

INT. FERRY - WHEELHOUSE - NIGHT #4#

JOREN
Slow [[or stop?]] ahead.

MARA (V.O.)
(on the horn)
It won't hold.
~Over the water

# Two

EXT. QUAY - DAY

@mara
Land-ho.

JOREN ^
*Land*-ho.

MARA
...
"""


def lines_in(text: str) -> tuple[Line, ...]:
    pages = lay_out(parse(text))
    return lines_of(pages.script, pages.layout)


def test_scenes_run_from_a_heading_to_the_line_before_the_next() -> None:
    first, second = lay_out(parse(SCRIPT)).scenes

    assert (first.ordinal, first.number, first.heading) == (1, "4", "INT. FERRY - WHEELHOUSE - NIGHT")
    assert (first.setting, first.place, first.time) == ("INT.", "FERRY - WHEELHOUSE", "NIGHT")
    assert (first.first_line, first.last_line, first.page) == (5, 16, 1)
    assert (second.ordinal, second.number, second.heading) == (2, None, "EXT. QUAY - DAY")
    assert (second.first_line, second.last_line) == (17, 26)
    assert first.eighths >= 1
    assert second.eighths >= 1


def test_the_characters_of_a_scene_are_in_the_order_of_their_first_speeches() -> None:
    first, second = lay_out(parse(SCRIPT)).scenes

    assert first.characters == ("JOREN", "MARA")
    assert second.characters == ("MARA", "JOREN")


def test_characters_are_counted_by_their_cues_and_their_words_by_what_is_said_or_sung() -> None:
    mara, joren = characters_of(parse(SCRIPT))

    assert (mara.name, mara.speeches, mara.words, mara.scenes) == ("MARA", 3, 7, 2)
    assert (joren.name, joren.speeches, joren.words, joren.scenes) == ("JOREN", 2, 3, 2)


def test_a_cue_with_nothing_under_it_is_no_speech() -> None:
    assert characters_of(parse("INT. FERRY - NIGHT\n\n@Mara\n\nRain.")) == ()


def test_every_source_line_has_its_scene_and_its_page_where_it_prints_something() -> None:
    lines = lines_in(SCRIPT)

    assert [line.line for line in lines] == list(range(1, 27))
    assert [line.scene for line in lines if line.kind == "action"] == [None]
    assert [(line.scene, line.page) for line in lines if line.kind == "scene_heading"] == [(1, 1), (2, 1)]
    assert {line.page for line in lines if line.kind in {"title_page", "blank", "section"}} == {None}
    assert {line.page for line in lines if line.kind in {"dialogue", "character", "lyric"}} == {1}


def test_a_line_has_its_text_and_its_own_line_end() -> None:
    assert [(line.text, line.end) for line in lines_in("a\r\nb\rc\nd")] == [
        ("a", "\r\n"), ("b", "\r"), ("c", "\n"), ("d", ""),
    ]  # fmt: skip


def test_what_prints_nothing_is_on_no_page() -> None:
    lines = lines_in("INT. FERRY - NIGHT\n\nMARA\nYes.\n  \nNo.\n\n[[x]]\n/* y */\n= z\n===\n")

    assert [line.line for line in lines if line.page is not None] == [1, 3, 4, 6]


def test_a_script_of_nothing_has_no_pages_and_no_scenes() -> None:
    pages = lay_out(parse(""))

    assert (pages.page_count, pages.eighths) == (0, 0)
    assert (lines_in(""), pages.scenes, pages.characters) == ((), (), ())


def test_pages_and_eighths_are_the_layouts() -> None:
    pages = lay_out(parse("INT. FERRY - NIGHT\n\n" + "Rain.\n\n" * 60))

    assert pages.page_count == len(pages.layout.pages) == 3
    assert pages.eighths == sum(scene.eighths for scene in pages.scenes)


@pytest.mark.parametrize(
    ("was", "reads", "is_same"),
    [
        ("It is night. She waits.", "It is night.\n\nShe  waits.\n", True),
        ("INT. FERRY - NIGHT\n\nRain.", "INT. FERRY - NIGHT #4#\n\nRain.", True),
        ("INT. FERRY - NIGHT #4#\r\n", "INT. FERRY - NIGHT #4A#", True),
        (".FERRY #4#", ".FERRY #A5#", True),
        ("INT. FERRY - NIGHT", "INT. FERRY - DAY #4#", False),
        ("The door reads #4#", "The door reads #5#", False),
        ("", "#4#", False),
        ("", " \n", True),
    ],
)
def test_the_same_words_are_those_that_differ_in_nothing_but_lines_and_scene_numbers(
    was: str, reads: str, *, is_same: bool
) -> None:
    assert same_words(was, reads) is same_words(reads, was) is is_same
