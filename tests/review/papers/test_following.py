"""Paragraphs of a paper's next version: which is which, and what a reader is shown of the change."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from review.papers.following import fates_in_each, follow, paragraph_changes

SONG = ("The bell rang once.", "The ferry came slow over water.", "Nobody stood on the slip.", "So it went back.")
TEXTS = st.lists(st.sampled_from([*SONG, "The ferry came slow over the black water.", "Rain."]), max_size=6)


@pytest.mark.parametrize(
    ("new", "fates"),
    [
        (SONG, ["kept 0", "kept 1", "kept 2", "kept 3"]),
        (("A new first line.", *SONG), ["kept 1", "kept 2", "kept 3", "kept 4"]),
        (
            (SONG[0], "The ferry came slow over the black water.", *SONG[2:]),
            ["kept 0", "reworded 1", "kept 2", "kept 3"],
        ),
        ((SONG[0], "The ferry came slow.", *SONG[2:]), ["kept 0", "reworded 1", "kept 2", "kept 3"]),
        ((SONG[0], *SONG[2:]), ["kept 0", "gone None", "kept 1", "kept 2"]),
        ((*SONG[1:], SONG[0]), ["moved 3", "kept 0", "kept 1", "kept 2"]),
        ((), ["gone None"] * 4),
    ],
)
def test_each_paragraph_is_found_again_by_its_words(new: tuple[str, ...], fates: list[str]) -> None:
    assert [f"{one.fate.value} {one.to}" for one in follow(SONG, new)] == fates


@given(TEXTS, TEXTS)
def test_none_of_the_new_is_two_of_the_old_and_both_versions_can_be_read_off(old: list[str], new: list[str]) -> None:
    to = [one.to for one in follow(old, new) if one.to is not None]
    assert len(to) == len(set(to))
    changes = paragraph_changes(old, new)
    assert [change.new for change in changes if change.what != "gone"] == new
    assert sorted(change.old for change in changes if change.what != "added") == sorted(old)


def test_a_paragraph_is_followed_through_versions_that_lack_it() -> None:
    versions = {1: SONG, 2: SONG[:1], 3: SONG}
    assert {number: one.to for number, one in fates_in_each(versions, 1, 2).items()} == {2: None, 3: 2}
