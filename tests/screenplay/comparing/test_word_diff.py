"""What changed within a text, word by word."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from screenplay.comparing import WordChange, shares, word_changes
from tests.screenplay.scripts import encodable, some_of

PIECES = ["the", "boat", "boat's", "well-worn", " ", "  ", "\n", ",", "—", "é", "e\u0301", ""]
some_words = some_of(PIECES)
some_text = st.one_of(some_words.map(" ".join), some_words.map("".join), st.text(encodable, max_size=60))


def told(before: str, after: str) -> list[tuple[str, str]]:
    return [(change.op, change.text) for change in word_changes(before, after)]


def test_a_word_changes_whole() -> None:
    assert told("He walks home.", "He walked home.") == [
        ("same", "He "),
        ("cut", "walks"),
        ("added", "walked"),
        ("same", " home."),
    ]


def test_an_apostrophe_and_a_hyphen_are_inside_a_word() -> None:
    assert told("It won't be a well-worn rope.", "It will be a well-kept rope.") == [
        ("same", "It "),
        ("cut", "won't"),
        ("added", "will"),
        ("same", " be a "),
        ("cut", "well-worn"),
        ("added", "well-kept"),
        ("same", " rope."),
    ]


def test_a_mark_changes_without_its_word() -> None:
    assert told("Wait.", "Wait!") == [("same", "Wait"), ("cut", "."), ("added", "!")]


def test_a_phrase_that_is_replaced_changes_as_one() -> None:
    assert told("She ran out slowly.", "He walked out slowly.")[:2] == [("cut", "She ran"), ("added", "He walked")]


@pytest.mark.parametrize(
    ("sentence", "follows"),
    [
        ("The tide is out. ", "The gulls are loud."),
        ("The tide is out. The lamp is lit. ", "The gulls are loud."),
        ("The boys’ tide. The gulls’ boat. ", "The boys’ lamp."),
        ("Is the tide out? ", "Is the lamp lit?"),
        ("“The tide is out.” ", "“The gulls are loud.”"),
    ],
)
def test_a_whole_sentence_goes_or_comes_though_the_next_begins_like_it(sentence: str, follows: str) -> None:
    without, whole = f"The boat is in. {follows}", f"The boat is in. {sentence}{follows}"

    assert told(whole, without) == [("same", "The boat is in. "), ("cut", sentence), ("same", follows)]
    assert told(without, whole) == [("same", "The boat is in. "), ("added", sentence), ("same", follows)]


@pytest.mark.parametrize(
    ("before", "after", "same"),
    [
        ("Yes.", "No. Yes. No.", ["Yes."]),
        ("Wait. Come here. Now.", "Wait.", ["Wait."]),
        ("Come here.", "Please. Come here.", ["Come here."]),
    ],
)
def test_words_that_can_stay_together_do(before: str, after: str, same: list[str]) -> None:
    assert [text for op, text in told(before, after) if op == "same"] == same


def test_the_same_text_is_one_stretch_and_no_text_none() -> None:
    assert word_changes("Nobody came.", "Nobody came.") == (WordChange("same", "Nobody came."),)
    assert word_changes("", "") == ()


@settings(max_examples=120)
@given(some_text, some_text)
@example("a b", "a  b")
@example(" ", "")
def test_both_texts_can_be_put_together_again(before: str, after: str) -> None:
    changes = word_changes(before, after)

    assert "".join(change.text for change in changes if change.op != "added") == before
    assert "".join(change.text for change in changes if change.op != "cut") == after
    assert all(change.text for change in changes)
    assert all(first.op != second.op for first, second in pairwise(changes))


def test_of_two_very_long_texts_no_word_is_lost() -> None:
    before, after = "a rope and a bell " * 40_000, "a bell and a rope " * 40_000

    changes = word_changes(before, after)

    assert "".join(change.text for change in changes if change.op != "added") == before
    assert "".join(change.text for change in changes if change.op != "cut") == after


def test_each_part_of_a_text_has_its_share_of_it() -> None:
    before = "She said it was sweet in the morning. I typed it twice, and my hand shook."
    after = ["She said it was sweet.", "I typed it two times, and my hand shook."]
    assert shares(before, after) == ["She said it was sweet in the morning. ", "I typed it twice, and my hand shook."]


@given(st.lists(some_words.map(" ".join).map(lambda text: text.replace("\n", " ")), min_size=1, max_size=4))
def test_the_shares_of_a_text_are_all_of_it(texts: list[str]) -> None:
    before, *after = texts
    pieces = shares(before, after)
    assert "".join(pieces) == before
    assert len(pieces) == max(1, len(after))


LEFT_OUT = st.lists(
    st.tuples(st.sampled_from(["Mara.", "Poor", "She", "never", "knew.", "“Yes.”"]), st.booleans()), max_size=12
)


@given(LEFT_OUT)
@example([("Mara.", True), ("Poor", False), ("Mara.", False), ("She", True), ("knew.", True)])
def test_no_word_comes_where_some_were_only_left_out(words: list[tuple[str, bool]]) -> None:
    before, after = " ".join(word for word, _ in words), " ".join(word for word, stays in words if stays)
    assert "".join(text for op, text in told(before, after) if op == "added").strip() == ""
    assert "".join(text for op, text in told(after, before) if op == "cut").strip() == ""
