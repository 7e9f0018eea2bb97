"""Words a department marked, and words that may want a mark."""

from __future__ import annotations

from screenplay import parse
from screenplay.breakdown import SoughtWord, Suggestion, find_marked_words, suggestions

SCRIPT = """FADE IN:

INT. SHED - DAY

Mara lifts a TORCH. Two torches. A torchlight procession.

MARA
(with the torch)
My life jackets, and one life.

A LIFE JACKET hangs by the OLD WINCH. She reads: NO FERRY AFTER NINE TONIGHT PLEASE.

MARA'S BOAT. The torch again.
"""
TORCH, JACKET = SoughtWord("Torch", "lighting"), SoughtWord("life jacket", "costume")


def test_a_marked_word_is_known_wherever_it_stands() -> None:
    found = [(place.sought, place.line, place.words) for place in find_marked_words(parse(SCRIPT), [TORCH, JACKET])]
    assert found == [
        (TORCH, 5, "TORCH"),
        (TORCH, 5, "torches"),
        (TORCH, 8, "torch"),
        (JACKET, 9, "life jackets"),
        (JACKET, 11, "LIFE JACKET"),
        (TORCH, 13, "torch"),
    ]


def test_it_says_in_which_scene() -> None:
    assert {place.scene for place in find_marked_words(parse(SCRIPT), [TORCH])} == {1}
    assert find_marked_words(parse(SCRIPT), []) == ()
    assert find_marked_words(parse(SCRIPT), [SoughtWord("...", "props")]) == ()


def test_capitals_in_action_are_suggested_once_but_for_names_notices_and_the_page_s_own() -> None:
    found = suggestions(parse(SCRIPT), [JACKET])
    assert [(one.words, one.line) for one in found] == [("TORCH", 5), ("OLD WINCH", 11)]
    assert found[0] == Suggestion("TORCH", 1, 5, ("lighting", "props"))


def test_what_heads_a_montage_or_follows_a_cue_is_none_and_initials_keep_their_points() -> None:
    script = parse(
        "INT. SHED - DAY\n\nA dog barks, O.S. A shout (V.O.). MONTAGE - THE FIRST FIRING\n\n"
        "MONTAGE - THE FIRST FIRING\n\n-- Nils grinds COBALT.\n\nEND OF MONTAGE\n\nSERIES OF SHOTS: THE ROAD\n\n"
        "A crate from the U.S.A. and a G.P.S. He stops.\n"
    )
    assert [one.words for one in suggestions(script)] == ["THE FIRST FIRING", "COBALT", "U.S.A.", "G.P.S."]


def test_a_form_of_address_by_itself_is_no_word_to_mark() -> None:
    script = parse("INT. SHED - DAY\n\nMR. HALLOW lifts a LANTERN. DR. VANE waits.\n")
    assert [one.words for one in suggestions(script)] == ["HALLOW", "LANTERN", "VANE"]


def test_a_word_that_was_marked_is_suggested_no_more() -> None:
    assert [one.words for one in suggestions(parse(SCRIPT), [TORCH, JACKET])] == ["OLD WINCH"]
