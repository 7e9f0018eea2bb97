"""What holds for wordings put into any text, in any order."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from hypothesis import example, given, settings
from hypothesis import strategies as st

from screenplay import revise
from screenplay.fountain import split_lines
from screenplay.next_draft.edits import Edit, join_words, reworded
from tests.screenplay.scripts import any_text, some_of

if TYPE_CHECKING:
    from random import Random

often = settings(max_examples=100)

WORDS = ["Tide", "turns", "at", "four", "five", "now", ".", "!"]
LINE_END = re.compile(" *(\r?\n) *")


def _typed(pieces: list[str]) -> str:
    """Words apart by spaces, lines by nothing more than their ends."""
    return LINE_END.sub(r"\1", " ".join(pieces))


phrase = some_of(WORDS, most=5).map(" ".join)
wording = some_of([*WORDS, "\n", "\n"], most=15).map(_typed)
few_words = st.builds(
    lambda pieces, end: _typed([*pieces, end]), some_of([*WORDS, *["\n", "\r\n"] * 2]), st.sampled_from(["\n", "\r\n"])
)
some_text = st.one_of(few_words, any_text.filter(bool))
some_edits = st.lists(st.tuples(st.integers(0, 99), st.integers(0, 2), wording), min_size=1, max_size=4)


@st.composite
def edited(draw: st.DrawFn) -> tuple[str, list[Edit]]:
    """A text and edits of it, many of them of the same few lines."""
    text = draw(some_text)
    lines = len(split_lines(text))
    edits = []
    for wanted, more, words in draw(some_edits):
        first = wanted % lines + 1
        edits.append(Edit(first, min(lines, first + more), words))
    return text, edits


@often
@given(edited(), st.randoms(use_true_random=False))
def test_edits_that_go_together_come_to_the_same_text_in_any_order(
    drawn: tuple[str, list[Edit]], order: Random
) -> None:
    text, edits = drawn
    together = [edits[index] for index in revise(text, edits).taken]
    shuffled = order.sample(together, len(together))
    assert revise(text, shuffled) == revise(text, together)
    assert revise(text, shuffled).overtaken == ()


@often
@given(edited())
def test_every_edit_is_taken_or_its_conflict_stated(drawn: tuple[str, list[Edit]]) -> None:
    text, edits = drawn
    revised = revise(text, edits)
    assert sorted((*revised.taken, *(each.index for each in revised.overtaken))) == list(range(len(edits)))
    for each in revised.overtaken:
        assert each.by in revised.taken
        assert each.by < each.index
        assert revise(text, [edits[each.index], edits[each.by]]).overtaken  # whichever comes first


@often
@given(edited())
@example(("a\r\nb", [Edit(1, 2, "")]))
@example(("\n\r0\n", [Edit(2, 3, "\n")]))
@example(("\r\r0\n", [Edit(1, 3, "\n\n")]))
@example(("a\rb\n", [Edit(2, 2, "\nb")]))
def test_an_edit_alone_puts_its_whole_text_in_place_and_leaves_every_other_line(
    drawn: tuple[str, list[Edit]],
) -> None:
    text, (edit, *_) = drawn
    lines = split_lines(text)
    before, after = "".join(lines[: edit.first_line - 1]), "".join(lines[edit.last_line :])
    result = revise(text, [edit]).text
    assert result == reworded(text, edit)
    assert result.startswith(before)
    assert result.endswith(after)
    inside = result[len(before) : len(result) - len(after)]
    plain = inside.replace("\r\n", "\n").replace("\r", "\n")
    has_end = lines[edit.last_line - 1].endswith(("\r", "\n"))
    assert plain == (edit.text and edit.text + "\n" * has_end)
    if edit.text:
        assert len(split_lines(result)) == len(split_lines(before)) + len(split_lines(inside)) + len(split_lines(after))


@often
@given(edited())
def test_an_edit_comes_out_again(drawn: tuple[str, list[Edit]]) -> None:
    text, edits = drawn
    with_all = revise(text, edits).text
    assert join_words(with_all, with_all, text) == text


@often
@given(few_words, few_words, few_words)
def test_joining_is_the_same_both_ways_and_needs_no_change_on_either_side(base: str, ours: str, theirs: str) -> None:
    assert join_words(base, ours, theirs) == join_words(base, theirs, ours)
    assert join_words(base, base, theirs) == theirs
    assert join_words(base, ours, ours) == ours
