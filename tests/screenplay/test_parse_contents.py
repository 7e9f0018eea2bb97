"""What a parsed script says of itself: its lines, scenes and characters, with their figures."""

from __future__ import annotations

from screenplay import parse

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


def test_scenes_run_from_a_heading_to_the_line_before_the_next() -> None:
    first, second = parse(SCRIPT).scenes

    assert (first.ordinal, first.number, first.heading) == (1, "4", "INT. FERRY - WHEELHOUSE - NIGHT")
    assert (first.setting, first.place, first.time) == ("INT.", "FERRY - WHEELHOUSE", "NIGHT")
    assert (first.first_line, first.last_line, first.page) == (5, 16, 1)
    assert (second.ordinal, second.number, second.heading) == (2, None, "EXT. QUAY - DAY")
    assert (second.first_line, second.last_line) == (17, 26)
    assert first.eighths >= 1
    assert second.eighths >= 1


def test_the_characters_of_a_scene_are_in_the_order_of_their_first_speeches() -> None:
    first, second = parse(SCRIPT).scenes

    assert first.characters == ("JOREN", "MARA")
    assert second.characters == ("MARA", "JOREN")


def test_characters_are_counted_by_their_cues_and_their_words_by_what_is_said_or_sung() -> None:
    mara, joren = parse(SCRIPT).characters

    assert (mara.name, mara.speeches, mara.words, mara.scenes) == ("MARA", 3, 7, 2)
    assert (joren.name, joren.speeches, joren.words, joren.scenes) == ("JOREN", 2, 3, 2)


def test_a_cue_with_nothing_under_it_is_no_speech() -> None:
    assert parse("INT. FERRY - NIGHT\n\n@Mara\n\nRain.").characters == ()


def test_every_source_line_has_its_scene_and_its_page_where_it_prints_something() -> None:
    lines = parse(SCRIPT).lines

    assert [line.line for line in lines] == list(range(1, 27))
    assert [line.scene for line in lines if line.kind == "action"] == [None]
    assert [(line.scene, line.page) for line in lines if line.kind == "scene_heading"] == [(1, 1), (2, 1)]
    assert {line.page for line in lines if line.kind in {"title_page", "blank", "section"}} == {None}
    assert {line.page for line in lines if line.kind in {"dialogue", "character", "lyric"}} == {1}


def test_a_line_has_its_text_and_its_own_line_end() -> None:
    assert [(line.text, line.end) for line in parse("a\r\nb\rc\nd").lines] == [
        ("a", "\r\n"), ("b", "\r"), ("c", "\n"), ("d", ""),
    ]  # fmt: skip


def test_what_prints_nothing_is_on_no_page() -> None:
    lines = parse("INT. FERRY - NIGHT\n\nMARA\nYes.\n  \nNo.\n\n[[x]]\n/* y */\n= z\n===\n").lines

    assert [line.line for line in lines if line.page is not None] == [1, 3, 4, 6]


def test_a_script_of_nothing_has_no_pages_and_no_scenes() -> None:
    screenplay = parse("")

    assert (screenplay.pages, screenplay.eighths) == (0, 0)
    assert (screenplay.lines, screenplay.scenes, screenplay.characters) == ((), (), ())


def test_pages_and_eighths_are_the_layouts() -> None:
    screenplay = parse("INT. FERRY - NIGHT\n\n" + "Rain.\n\n" * 60)

    assert screenplay.pages == len(screenplay.layout.pages) == 3
    assert screenplay.eighths == sum(scene.eighths for scene in screenplay.scenes)


def test_one_line_of_five_mebibytes_is_read() -> None:
    text = "x" * (5 * 1024 * 1024)

    screenplay = parse(text)

    assert screenplay.source == (text,)
    assert screenplay.kinds == ("action",)
