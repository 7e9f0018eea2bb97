"""The words that may concern a department. The departments are those common in the trade; the words on the lists are
this project's own choice."""

from __future__ import annotations

import pytest

from screenplay.breakdown import trade_words_in
from screenplay.breakdown.inflections import inflected


def test_a_word_is_found_in_its_plain_inflections_and_not_inside_another() -> None:
    assert {"stab", "stabs", "stabbed", "stabbing"} <= inflected("stab")
    assert {"carry", "carries", "carried", "carrying"} <= inflected("carry")
    assert {"wave", "waved", "waving"} <= inflected("wave")
    assert {"swim", "swims", "swam", "swum", "swimming"} <= inflected("swim")
    assert [found.words for found in trade_words_in(["Scarves, rings, a ringing bell, a cargo begun."])] == [
        ("rings", "ringing", "bell"),
        ("rings", "bell"),
    ]


@pytest.mark.parametrize(
    ("text", "department", "words"),
    [
        ("Hanne caps the pen.", "costume", ()),
        ("A cap on the pen. Two caps.", "costume", ("cap", "caps")),
        ("The bell starts to ring.", "props", ("bell",)),
        ("The phone rings. She rings him.", "props", ("phone",)),
        ("The phone rings. She drops the ring.", "props", ("phone", "ring")),
        ("RING", "props", ("ring",)),
        ("Cat winds the clock.", "special effects", ()),
        ("The road winds up the hill.", "special effects", ()),
        ("Wind. High winds.", "special effects", ("wind", "winds")),
    ],
)
def test_a_word_for_a_thing_is_found_where_it_may_stand_for_one(
    text: str, department: str, words: tuple[str, ...]
) -> None:
    assert {one.key: one.words for one in trade_words_in([text])}.get(department, ()) == words


def test_words_are_found_for_the_departments_that_have_a_list() -> None:
    found = {one.key: one.words for one in trade_words_in(["She puts on a coat. A bell rings (V.O.)"])}
    assert found == {"sound": ("bell", "rings", "V.O."), "props": ("bell",), "costume": ("puts on", "coat")}
    one_of_each = "A lens, a candle, a siren, a shelf, a map, a scarf, a wig, a storm, a ghost, a fiddle, a quay."
    assert len({one.key for one in trade_words_in([one_of_each])}) == 11


def test_no_phrase_runs_from_one_text_into_the_next() -> None:
    assert [one.key for one in trade_words_in(["A life jacket."])] == ["props", "costume"]
    assert [one.key for one in trade_words_in(["A life", "jacket."])] == ["costume"]
