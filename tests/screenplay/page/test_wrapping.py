"""How wide text is, and where its lines are broken."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from screenplay.model import Run
from screenplay.page.wrapping import clipped, columns, wrap


def rows(text: str, width: int, *, keep_indent: bool = False) -> list[str]:
    return ["".join(run.text for run in row) for row in wrap([Run(text, 0)], width, keep_indent=keep_indent)]


@pytest.mark.parametrize(
    ("text", "width"),
    [
        ("word", 4),
        ("naïve", 5),
        ("nai\u0308ve", 5),  # i and a combining diaeresis
        ("Привет", 6),
        ("渡し船", 6),
        ("ＡＢ", 4),  # full-width Latin
        ("ｱｲ", 2),  # half-width kana
        ("한글", 4),
        ("\u1112\u1161\u11ab", 2),  # one Hangul syllable in its three letters
        ("a\u200db", 2),  # a joiner takes no room
        ("\t", 4),
    ],
)
def test_a_character_takes_its_east_asian_width(text: str, width: int) -> None:
    assert columns(text) == width


def test_a_line_is_broken_at_its_spaces() -> None:
    assert rows("one two  three four", 9) == ["one two", "three", "four"]


def test_a_line_that_just_fits_is_one_row() -> None:
    assert rows("one two", 7) == ["one two"]
    assert rows("one two", 6) == ["one", "two"]


def test_spaces_within_a_row_are_kept_and_those_at_its_end_are_not() -> None:
    assert rows("one   two   ", 9) == ["one   two"]


def test_leading_spaces_are_kept_on_request() -> None:
    assert rows("  one two", 6) == ["one", "two"]
    assert rows("  one two", 6, keep_indent=True) == ["  one", "two"]


def test_more_leading_spaces_than_the_measure_has_columns_are_dropped() -> None:
    assert rows(" " * 1000 + "one", 10, keep_indent=True) == ["one"]


def test_a_line_may_break_after_a_dash_within_a_word() -> None:
    assert rows("a half-built boat", 8) == ["a half-", "built", "boat"]
    assert rows("and then--nothing", 11) == ["and then--", "nothing"]
    assert rows("and then—nothing", 10) == ["and then—", "nothing"]


def test_a_line_does_not_break_between_a_dash_and_what_closes_after_it() -> None:
    assert rows('he said "no--"', 13) == ["he said", '"no--"']


def test_a_word_wider_than_the_measure_is_broken_where_it_must_be() -> None:
    assert rows("x" * 25 + " y", 10) == ["x" * 10, "x" * 10, "xxxxx y"]


def test_a_space_that_may_not_break_holds_its_words_together() -> None:
    assert rows("at 4\u00a0am sharp", 6) == ["at", "4\u00a0am", "sharp"]


def test_east_asian_text_breaks_between_characters_but_not_before_a_full_stop() -> None:
    assert rows("渡し船は出た", 8) == ["渡し船は", "出た"]
    assert rows("渡し船。出た", 6) == ["渡し", "船。出", "た"]
    assert rows("船「渡」", 6) == ["船", "「渡」"]


def test_a_combining_mark_stays_with_its_letter() -> None:
    assert rows("e\u0301" * 7, 3) == ["e\u0301" * 3, "e\u0301" * 3, "e\u0301"]


def test_a_joined_emoji_is_not_broken() -> None:
    mechanic = "👩\u200d🔧"
    assert rows(mechanic * 3, 8) == [mechanic * 2, mechanic]


def test_runs_keep_their_style_and_their_place_in_the_source_line() -> None:
    line = [Run("He ", 2), Run("runs to the", 6, bold=True), Run(" slip.", 18)]
    assert wrap(line, 8) == [
        (Run("He ", 2), Run("runs", 6, bold=True)),
        (Run("to the", 11, bold=True),),
        (Run("slip.", 19),),
    ]


def test_a_tab_becomes_four_spaces_in_its_own_place() -> None:
    assert wrap([Run("a\tb", 5)], 60) == [(Run("a", 5), Run("    ", 6), Run("b", 7))]


def test_a_line_of_nothing_but_space_has_no_rows() -> None:
    assert rows("", 10) == []
    assert rows(" \t \u3000", 10, keep_indent=True) == []


def test_clipped_text_fits_with_its_ellipsis() -> None:
    assert clipped("MARA", 4) == "MARA"
    assert clipped("MARA JANE", 6) == "MARA…"
    assert clipped("渡し船頭", 6) == "渡し…"


LINES = st.text(st.sampled_from("ab -—.\t\u00a0é\u0301渡。「あ👩\u200d\u200bж\x0b"), max_size=120)


@given(LINES, st.integers(4, 40), st.booleans())
@example("\t。", 5, True)  # the indent leaves room for half of the sign
def test_no_row_is_wider_than_its_measure_and_nothing_but_space_is_lost(
    text: str, width: int, keep_indent: bool
) -> None:
    found = rows(text, width, keep_indent=keep_indent)
    assert all(columns(row) <= width for row in found)
    assert not any(row.isspace() or not row for row in found)
    assert "".join("".join(found).split()) == "".join(text.split())


@given(LINES, st.integers(4, 40))
def test_every_run_stands_in_the_source_where_it_says(text: str, width: int) -> None:
    for row in wrap([Run(text, 0)], width):
        for run in row:
            stands = text[run.start : run.start + len(run.text)] == run.text
            assert stands or (run.text == " " * 4 and text[run.start] == "\t")
