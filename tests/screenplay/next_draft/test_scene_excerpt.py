"""A scene read and laid out by itself is what the whole script makes of it, or it is said that only that can tell."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay import PageSetting, lay_out, parse
from screenplay.fountain import split_lines
from screenplay.next_draft import excerpt_alone, excerpt_of, look_around, stand_apart, texts_by_scene
from screenplay.page import LockedPage, SceneNumber
from tests.screenplay.scripts import any_text

if TYPE_CHECKING:
    from screenplay.next_draft import SceneExcerpt

PLAIN = (
    "INT. FERRY - NIGHT",
    "EXT. QUAY",
    ".THE HOLD #3#",
    "INT. HOLD - DAY #3#",
    "Rain on the slip, and a lamp that swings above the nets while somebody counts the tide aloud before dawn.",
    "MARA",
    "@Mara",
    "MARRA",
    "MARA ^",
    "(low)",
    "No. No and no, and not before the tide has turned twice, and not on a Sunday.",
    "CUT TO:",
    "> OUT <",
    "~a song",
    "===",
    "# Act two",
    "= What for",
    "Aside [[ of note ]] and all",
)
ODD = (
    "[[ open",
    "shut ]]",
    "/* open",
    "shut */",
    "  ",
    " ",
    "\t",
    "Title: Slack",
    "Author:",
    "   of it",
    "\ufeffINT. X",
)
END = "\n\n"


def scene_of(lines: list[str]) -> str:
    return "\n".join(lines) + END


body = st.lists(st.sampled_from((*PLAIN, *[""] * 10)), max_size=14)
scene = st.builds(
    lambda heading, lines: scene_of([heading, "", *lines]),
    st.sampled_from(("INT. FERRY - NIGHT", "EXT. QUAY", ".HOLD #3#", "EXT. MOLE - DAY #4#", "INT. X [[note]]")),
    body,
)
title = st.sampled_from(("", "\n", "Title: Slack Water\n\n", "Title: Slack\n\nFADE IN:\n\n", "Rain.\n\n"))
anything = st.builds(
    lambda lines, end: "\n".join(lines) + end,
    st.lists(st.sampled_from((*PLAIN, *ODD, *[""] * 8)), max_size=12),
    st.sampled_from(("", "\n", "\n\n", "\n  \n", "\n \n", "\r\n\r\n", "\r\n")),
)
under_a_heading = st.builds("INT. HUT - NIGHT\n{}".format, st.one_of(anything, any_text))
setting = st.builds(PageSetting, blank_lines_before_heading=st.sampled_from((1, 2)))
around = st.lists(scene, max_size=5)


def shape(excerpt: SceneExcerpt) -> tuple[object, ...]:
    """All of it, its lines counted from 1."""
    pages = [
        (
            page.label,
            [
                (
                    row.number,
                    [each._replace(line=each.line and each.line - excerpt.first_line + 1) for each in row.cells],
                )
                for row in page.rows
            ],
        )
        for page in excerpt.pages
    ]
    return excerpt.kinds, excerpt.headings, pages, excerpt.warnings


def in_the_whole(before: str, text: str, after: str, setting: PageSetting) -> SceneExcerpt:
    first = len(split_lines(before)) + 1
    whole = lay_out(parse(before + text + after), setting)
    return excerpt_of(whole, range(first, first + len(split_lines(text))))


def is_right(before: str, text: str, after: str, setting: PageSetting) -> bool:
    """Whether the scene was told by itself; that it was told right is asserted."""
    looked = look_around(before, after, setting)
    alone = looked and excerpt_alone(text, looked)
    if not alone:
        return False
    assert shape(alone) == shape(in_the_whole(before, text, after, setting))
    return True


@given(title, around, scene, around, setting)
@settings(max_examples=80)
def test_a_scene_between_others_is_told_as_in_the_whole(
    lead: str, before: list[str], text: str, after: list[str], setting: PageSetting
) -> None:
    is_right(lead + "".join(before), text, "".join(after), setting)


@given(title, around, st.one_of(under_a_heading, anything, any_text), around, setting)
@settings(max_examples=120)
def test_whatever_is_typed_it_is_told_as_in_the_whole_or_not_by_itself(
    lead: str, before: list[str], text: str, after: list[str], setting: PageSetting
) -> None:
    is_right(lead + "".join(before), text, "".join(after), setting)


@given(anything, scene, anything, setting)
@settings(max_examples=80)
def test_whatever_stands_around_it_is_told_as_in_the_whole_or_not_by_itself(
    before: str, text: str, after: str, setting: PageSetting
) -> None:
    is_right(before, text, after, setting)


@given(around, scene, around)
@settings(max_examples=40)
def test_a_locked_script_s_scene_has_the_numbers_of_the_whole(before: list[str], text: str, after: list[str]) -> None:
    whole = "".join((*before, text, *after))
    numbers: list[SceneNumber] = [SceneNumber("0", None)]
    for ordinal in range(1, len(texts_by_scene(whole))):
        numbers += [SceneNumber(f"{ordinal}B", ordinal), SceneNumber(f"{ordinal}C", None)]
    is_right("".join(before), text, "".join(after), PageSetting(scene_numbers=tuple(numbers)))


@given(st.lists(st.one_of(scene, anything.filter(bool)), min_size=1, max_size=5))
@settings(max_examples=80)
def test_texts_that_stand_apart_are_read_joined_as_they_are_each(texts: list[str]) -> None:
    if not stand_apart(texts):
        return
    kinds = [kind for text in texts[1:] for kind in parse(f"\n{text}").kinds[1:]]
    assert [*parse(texts[0]).kinds, *kinds] == list(parse("".join(texts)).kinds)
    starts = [sum(map(len, texts[:at])) for at in range(1, len(texts))]
    lengths = [len(part) for part in texts_by_scene("".join(texts))]
    assert set(starts) <= {sum(lengths[:at]) for at in range(len(lengths) + 1)}


BEFORE, AFTER = "INT. FERRY - NIGHT\n\nRain.\n\n", "EXT. QUAY - DAY\n\nMARA\nNo.\n\n"


@pytest.mark.parametrize(
    "text",
    [
        "INT. HUT - NIGHT\n\nDark.\n\n",
        "INT. HUT - NIGHT\n\nA word [[ not closed yet\n\n",
        "INT. HUT - NIGHT\n\nDark.\n\nEXT. PIER - DAWN\n\nFog.\n\n",
        "INT. HUT\n\nMARRA\nNo.\n\n",
        "INT. HUT - NIGHT [[by the quay?]]\n\nDark.\n\n",
    ],
    ids=["plain", "a note left open", "a heading added", "a name one letter off", "a note in the heading"],
)
def test_it_is_told_by_itself(text: str) -> None:
    assert is_right(BEFORE, text, AFTER, PageSetting())


@pytest.mark.parametrize(
    "text",
    [
        "INT. HUT - NIGHT\n\nDark. /* not closed yet\n\n",
        "Dark, and no heading.\n\n",
        "INT. HUT - NIGHT\n\nNo blank line below.",
        "INT. HUT - NIGHT\n\nMARA\nTwo spaces end no speech.\n  \n",
        "INT. HUT - NIGHT\n\n",
        "",
    ],
    ids=["a boneyard left open", "no heading", "no blank line", "two spaces", "a heading alone", "nothing"],
)
def test_only_the_whole_script_can_tell(text: str) -> None:
    assert not is_right(BEFORE, text, AFTER, PageSetting())


def test_a_title_page_typed_at_the_top_is_told_by_itself_where_it_ends_in_a_blank_line() -> None:
    assert is_right("", "Title: Slack Water\nAuthor: Ada Wren\n\n", AFTER, PageSetting())
    assert not is_right("", "Title: Slack Water\nAuthor: Ada Wren\n", AFTER, PageSetting())


def test_where_pages_are_locked_all_but_their_labels_is_told_by_itself() -> None:
    text = "INT. HUT\n\nMARRA\nNo.\n\n"
    setting = PageSetting(locked_pages=(LockedPage("1", 1, 0), LockedPage("2", 7, 0)))
    looked = look_around(BEFORE, AFTER, setting)
    alone, whole = looked and excerpt_alone(text, looked), in_the_whole(BEFORE, text, AFTER, setting)
    assert alone
    assert (alone.kinds, alone.headings, alone.warnings) == (whole.kinds, whole.headings, whole.warnings)
    assert [[row.text for row in page.rows if row.cells] for page in alone.pages] == [
        ["INT. HUT", " " * 22 + "MARRA", " " * 10 + "No."]
    ]
    assert [page.label for page in alone.pages] == [None]
    assert [page.label for page in whole.pages] == ["1", "2"]


def test_a_long_scene_goes_on_over_the_pages_of_the_whole() -> None:
    before = BEFORE + "Rain.\n\n" * 60
    text = "INT. HUT - NIGHT\n\n" + "MARA\nNo.\nAnd no.\nAnd no again.\n\n" * 30
    looked = look_around(before, AFTER, PageSetting())
    assert looked is not None
    alone = excerpt_alone(text, looked)
    assert alone is not None
    assert [page.label for page in alone.pages] == ["3", "4", "5", "6"]
    assert is_right(before, text, AFTER, PageSetting())
