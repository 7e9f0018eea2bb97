"""What holds when any two texts are put together: over any texts, and over scripts that two people write on from."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from hypothesis import example, given, settings
from hypothesis import strategies as st

from screenplay import Kind, parse
from screenplay.fountain import split_lines
from screenplay.next_draft import Conflict, merge
from screenplay.next_draft.merged_text import ConflictKind
from tests.screenplay.scripts import any_text, fountain
from tests.screenplay.two_hands import (
    ABOVE,
    BONEYARDS,
    IN_PLACE,
    MOVES,
    MOVES_OF_LINES,
    NEW_BOUNDS,
    a_paragraph_cut_and_moved,
    each_with_a_boneyard,
    each_without_some_paragraphs,
    from_one_text,
    in_scenes_of_their_own,
)

if TYPE_CHECKING:
    from screenplay import Screenplay
    from screenplay.next_draft import Merged

often = settings(max_examples=60)


@st.composite
def any_three_texts(draw: st.DrawFn) -> tuple[str, str, str]:
    """Texts with stretches of lines in common, or nothing."""
    pieces = draw(st.lists(fountain, min_size=1, max_size=5))

    def text() -> str:
        return "".join(draw(st.lists(st.sampled_from(pieces), max_size=6))) or draw(any_text)

    return text(), text(), text()


few = ["INT. FERRY - DAY\n", "\n", "  \n", "Rain.\n", "Rain.  \n", "MARA\n", "Hold on.\n", "# Act Two\n", "[[Why?]]\n"]
few_lines = st.lists(st.sampled_from(few), max_size=9)
anything = IN_PLACE + ABOVE + MOVES + MOVES_OF_LINES + NEW_BOUNDS + BONEYARDS
three_texts = st.one_of(any_three_texts(), from_one_text(anything), st.tuples(*[few_lines.map("".join)] * 3))


def lines(text: str) -> list[str]:
    """The lines of a text, without white space at their ends, which is no change of what they say."""
    return [line.rstrip() for line in split_lines(text)]


def worded(text: str) -> list[str]:
    """Those that are not blank."""
    return [line for line in lines(text) if line]


def shown(merged: Merged) -> list[str]:
    """Every line of the text and of both versions in the conflicts."""
    texts = [[piece] if isinstance(piece, str) else [piece.ours, piece.theirs] for piece in merged.pieces]
    return [line for found in texts for text in found for line in lines(text)]


@often
@given(any_text)
@example("")
@example("INT. HUT\r\n\r\nDark.")
def test_a_text_merged_with_itself_is_itself(text: str) -> None:
    assert merge(text, text, text).text == text


@often
@given(three_texts)
def test_any_three_texts_put_together_keep_the_laws(texts: tuple[str, str, str]) -> None:
    base, ours, theirs = map(parse, texts)
    merged = merge(base, ours, theirs)

    a_side_that_changed_nothing_lets_the_other_stand_to_the_last_character(base, ours)
    what_both_changed_alike_is_changed_once(base, ours)
    merging_the_other_way_round_gives_the_same_with_the_sides_changed_over(merged, merge(base, theirs, ours))
    no_line_is_lost_that_a_side_added_or_that_both_kept(merged, *map(lines, texts))
    choosing_one_side_everywhere_keeps_each_line_that_this_side_added(merged, *map(lines, texts))


def a_side_that_changed_nothing_lets_the_other_stand_to_the_last_character(base: Screenplay, ours: Screenplay) -> None:
    assert merge(base, ours, base).text == ours.text
    assert merge(base, base, ours).text == ours.text


def what_both_changed_alike_is_changed_once(base: Screenplay, ours: Screenplay) -> None:
    assert merge(base, ours, ours).text == ours.text


def merging_the_other_way_round_gives_the_same_with_the_sides_changed_over(merged: Merged, turned: Merged) -> None:
    assert merged.pieces == tuple(
        piece if isinstance(piece, str) else Conflict(piece.base, piece.theirs, piece.ours, piece.kind)
        for piece in turned.pieces
    )


def no_line_is_lost_that_a_side_added_or_that_both_kept(
    merged: Merged, base: list[str], ours: list[str], theirs: list[str]
) -> None:
    """A line that the base has several times may be cut in one place by each side: of those it is enough that neither
    side has fewer than the base."""
    there = set(shown(merged))
    for line in filter(str.strip, {*ours, *theirs}):
        if line not in base or base.count(line) <= min(ours.count(line), theirs.count(line)):
            assert line in there


def choosing_one_side_everywhere_keeps_each_line_that_this_side_added(
    merged: Merged, base: list[str], ours: list[str], theirs: list[str]
) -> None:
    for side, text in (("ours", ours), ("theirs", theirs)):
        kept = lines(merged.settled([getattr(conflict, side) for conflict in merged.conflicts]))
        assert {line for line in text if line.strip()} - set(base) <= set(kept)


@often
@given(st.one_of(from_one_text(IN_PLACE + ABOVE + MOVES), from_one_text(IN_PLACE + ABOVE + NEW_BOUNDS)))
def test_nothing_is_there_twice(texts: tuple[str, str, str]) -> None:
    """Each line is there once in each text, and so it is in what they come to; in a conflict, once on each side. Scenes
    are moved, or else renamed, parted and joined: one of a line or two that is renamed and moved is another scene."""
    merged = merge(*texts)
    for side in ("ours", "theirs"):
        chosen = merged.settled([getattr(conflict, side) for conflict in merged.conflicts])
        written = worded(chosen)
        assert len(written) == len(set(written))


@often
@given(in_scenes_of_their_own())
def test_what_each_changed_in_scenes_of_their_own_goes_together(texts: tuple[str, str, str, str]) -> None:
    """Also where one of them moved scenes, with what stands above them."""
    base, ours, theirs, both = texts
    assert merge(base, ours, theirs).text == both


@often
@given(each_without_some_paragraphs())
def test_of_what_each_cut_in_a_scene_nothing_is_left_and_of_the_rest_everything(texts: tuple[str, str, str]) -> None:
    base, ours, theirs = texts
    together = merge(base, ours, theirs).text
    assert together is not None
    left = set(lines(ours)) & set(lines(theirs))
    assert worded(together) == [line for line in worded(base) if line in left]


@often
@given(a_paragraph_cut_and_moved())
def test_a_paragraph_that_one_cut_and_the_other_moved_in_its_scene_is_asked_about_once(
    texts: tuple[str, str, str, str],
) -> None:
    base, ours, theirs, paragraph = texts
    merged = merge(base, ours, theirs)
    asked = [(one.ours, one.theirs.strip(), one.kind) for one in merged.conflicts]
    assert asked == [("", paragraph, ConflictKind.CUT)]
    for chosen, text in ((merged.conflicts[0].ours, ours), (merged.conflicts[0].theirs, theirs)):
        assert worded(merged.settled([chosen])) == worded(text)


@often
@given(each_with_a_boneyard())
def test_what_either_put_into_a_boneyard_is_in_one_and_nothing_else_is(texts: tuple[str, str, str]) -> None:
    base, ours, theirs = texts
    together = merge(base, ours, theirs).text
    assert together is not None
    assert in_boneyards(together) == in_boneyards(ours) | in_boneyards(theirs)
    assert [line for line in worded(together) if line not in ("/*", "*/")] == worded(base)


def in_boneyards(text: str) -> set[str]:
    """The lines in boneyards, each of them there once in the script; the marks by themselves are none."""
    script = parse(text)
    pairs = zip(lines(text), script.kinds, strict=True)
    return {line for line, kind in pairs if kind is Kind.BONEYARD and line not in ("", "/*", "*/")}


@often
@given(from_one_text(), st.sampled_from(["\r\n", "\r"]))
def test_what_two_make_of_one_text_keeps_the_laws(texts: tuple[str, str, str], end: str) -> None:
    merged = merge(*texts)

    what_headed_a_scene_still_heads_one(merged, {line for text in texts for line in headings_of(text)})
    line_ends_are_no_change_of_what_a_text_says(merged, texts, end)
    blanks_at_the_ends_of_lines_are_no_change_of_what_a_text_says(merged, texts)


def what_headed_a_scene_still_heads_one(merged: Merged, headings: set[str]) -> None:
    for side in ("ours", "theirs"):
        chosen = merged.settled([getattr(conflict, side) for conflict in merged.conflicts])
        assert headings_of(chosen) == [line for line in lines(chosen) if line in headings]


def headings_of(text: str) -> list[str]:
    script = parse(text)
    pairs = zip(script.source, script.kinds, strict=True)
    return [line.rstrip("\r\n") for line, kind in pairs if kind is Kind.SCENE_HEADING]


def line_ends_are_no_change_of_what_a_text_says(merged: Merged, texts: tuple[str, str, str], end: str) -> None:
    base, ours, theirs = texts
    ended = merge(base, ours.replace("\n", end), theirs)
    assert [piece.replace(end, "\n") for piece in ended.pieces if isinstance(piece, str)] == [
        piece for piece in merged.pieces if isinstance(piece, str)
    ]
    assert [conflict.theirs.replace(end, "\n") for conflict in ended.conflicts] == [
        conflict.theirs for conflict in merged.conflicts
    ]


def blanks_at_the_ends_of_lines_are_no_change_of_what_a_text_says(merged: Merged, texts: tuple[str, str, str]) -> None:
    base, ours, theirs = texts
    ended = merge(base, re.sub(r"(?<=\S)\n", "  \n", ours), theirs)
    assert shown(ended) == shown(merged)
