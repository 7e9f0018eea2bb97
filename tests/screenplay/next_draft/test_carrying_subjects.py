"""Where a scene and a character of one draft are in the next, and the better of two ways through several drafts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from screenplay import Span, carry, carry_character, carry_scene, compare, parse
from screenplay.next_draft.carrying import SpanFate, SpanFateKind
from screenplay.next_draft.two_ways import better_character, better_span
from screenplay.script import chosen_words, cue_span, scene_span
from tests.screenplay.comparing.test_comparison_laws import two_drafts
from tests.screenplay.next_draft.test_carrying import any_span, span_of, words_in

if TYPE_CHECKING:
    from screenplay import Screenplay
    from screenplay.comparing import Comparison

QUAY = """\
INT. FERRY - NIGHT

Mara kneels by the diesel with a torch between her teeth.

MARA
It won't hold past the second buoy.

EXT. QUAY - DAY

Gulls walk the length of the empty slip.

JON
You said noon. I waited until four.

MARA
The engine died under the lighthouse.

They look at the water for a long time.

INT. CABIN - EVENING

A kettle sings on a stove the size of a hat.

JON
Nobody ever asks the boat.
"""


def scene_of(text: str, heading: str) -> str:
    """The scene under a heading, as far as the text itself tells."""
    start = text.index(heading)
    ends = [at for at in (text.find("\n\nINT.", start), text.find("\n\nEXT.", start)) if at >= 0]
    return text[start : min(ends, default=len(text))].strip()


def followed(heading: str, new: str, old: str = QUAY) -> tuple[str, str | None]:
    placement = carry_scene(span_of(old, heading), compare(old, new))
    return placement.fate.value, None if placement.span is None else words_in(new, placement.span).strip()


def test_a_scene_that_did_not_change_is_all_of_its_lines_wherever_they_are_now() -> None:
    new = "Title: Ferry\n\n" + QUAY

    assert followed("EXT. QUAY - DAY", new) == ("kept", scene_of(QUAY, "EXT. QUAY - DAY"))


def test_any_line_of_a_scene_stands_for_it() -> None:
    assert followed("The engine died", QUAY) == ("kept", scene_of(QUAY, "EXT. QUAY - DAY"))


def test_a_scene_put_elsewhere_has_moved() -> None:
    ferry = scene_of(QUAY, "INT. FERRY")
    new = QUAY.replace(ferry + "\n\n", "") + "\n" + ferry + "\n"

    assert followed("INT. FERRY", new) == ("moved", ferry)


def test_a_scene_whose_number_alone_came_or_is_another_is_as_it_was() -> None:
    numbered = QUAY.replace("QUAY - DAY", "QUAY - DAY #12#")
    otherwise = QUAY.replace("QUAY - DAY", "QUAY - DAY #A14#")

    assert followed("EXT. QUAY", numbered) == ("kept", scene_of(numbered, "EXT. QUAY"))
    assert followed("EXT. QUAY", otherwise, numbered) == ("kept", scene_of(otherwise, "EXT. QUAY"))
    assert followed("EXT. QUAY", QUAY, otherwise) == ("kept", scene_of(QUAY, "EXT. QUAY"))

    ferry = scene_of(QUAY, "INT. FERRY")
    numbered_elsewhere = ferry.replace("NIGHT", "NIGHT #4#")
    moved = QUAY.replace(ferry + "\n\n", "") + "\n" + numbered_elsewhere + "\n"
    assert followed("INT. FERRY", moved) == ("moved", numbered_elsewhere)
    assert carry(span_of(QUAY, "INT. FERRY - NIGHT"), compare(QUAY, moved)).fate is SpanFateKind.MOVED


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("You said noon.", "You told me noon."),
        ("They look at the water for a long time.\n\n", ""),
        ("Gulls walk", "Rain.\n\nGulls walk"),
        ("EXT. QUAY - DAY", "EXT. QUAY - DUSK"),
    ],
)
def test_a_scene_with_any_line_that_changed_came_or_went_is_reworded(before: str, after: str) -> None:
    new = QUAY.replace(before, after)

    assert followed("EXT. QUAY", new) == ("reworded", scene_of(new, "EXT. QUAY"))


def test_a_scene_that_was_cut_is_gone() -> None:
    new = QUAY.replace(scene_of(QUAY, "EXT. QUAY") + "\n\n", "")

    assert followed("EXT. QUAY", new) == ("gone", None)


def test_of_a_split_scene_it_is_the_part_with_most_of_its_lines() -> None:
    new = QUAY.replace("JON\nYou said noon.", "EXT. SLIP - LATER\n\nJON\nYou said noon.")

    assert followed("EXT. QUAY", new) == ("reworded", scene_of(new, "EXT. SLIP - LATER"))


def test_a_scene_merged_into_another_is_that_one() -> None:
    new = QUAY.replace("INT. CABIN - EVENING\n\n", "")

    assert followed("INT. CABIN", new) == ("reworded", scene_of(new, "EXT. QUAY"))


def test_what_stands_before_the_first_heading_is_no_scene() -> None:
    old = "FADE IN:\n\n" + QUAY

    assert followed("FADE IN:", QUAY, old) == ("gone", None)
    assert carry_scene(Span(1, 0, 1, 0), compare("", QUAY)) == SpanFate(SpanFateKind.GONE, None)


def test_a_scene_is_all_lines_up_to_the_next_heading() -> None:
    script = parse(QUAY)

    assert scene_span(script, 1) == Span(1, 0, 7, 0)
    assert words_in(QUAY, scene_span(script, 3)).startswith("INT. CABIN - EVENING\n\nA kettle")
    for none in (0, 4):
        with pytest.raises(ValueError, match=f"no scene {none}"):
            scene_span(script, none)


def character(name: str, new: str, old: str = QUAY) -> tuple[str, str, str | None]:
    placement = carry_character(name, compare(old, new))
    words = None if placement.span is None else words_in(new, placement.span)
    return placement.fate.value, placement.character, words


def test_a_character_is_where_they_first_speak() -> None:
    new = QUAY.replace("MARA\nIt won't hold past the second buoy.\n\n", "")

    assert character("MARA", new) == ("kept", "MARA", "MARA")
    assert carry_character("MARA", compare(QUAY, new)).span == span_of(new, "MARA")


# Names that are one by `same_name`: two apostrophes, two ways to store an accent (Unicode's NFC and NFD), two cases.
SPELLINGS = [("MARA'S MOTHER", "MARA’S MOTHER"), ("JOS\u00c9", "JOSE\u0301"), ("MCAVOY", "@McAvoy")]


@pytest.mark.parametrize(("before", "now"), SPELLINGS)
def test_a_character_whose_name_is_spelled_otherwise_is_kept(before: str, now: str) -> None:
    old, new = QUAY.replace("MARA", before), QUAY.replace("MARA", now)
    there, back = compare(old, new), compare(new, old)
    assert there.renames == back.renames == ()
    spelled = now.removeprefix("@")
    for name in (before, spelled):
        placement = carry_character(name, there)
        assert (placement.fate.value, placement.character) == ("kept", spelled)
        assert cue_span(there.new, name) == placement.span
        assert better_character(placement, placement, name).fate.value == "kept"


def test_a_character_with_another_name_throughout_is_followed() -> None:
    assert character("MARA", QUAY.replace("MARA", "EDIE").replace("Mara", "Edie")) == ("reworded", "EDIE", "EDIE")


def test_two_who_speak_at_once_are_followed_by_the_name_that_changed() -> None:
    old = QUAY + "\nMARA & JON\nAlways.\n"
    new = old.replace("MARA", "EDIE").replace("Mara", "Edie")

    assert character("MARA & JON", new, old) == ("reworded", "EDIE & JON", "EDIE & JON")


def test_a_character_of_whose_name_nobody_speaks_is_gone() -> None:
    new = QUAY.replace("MARA\nIt won't hold past the second buoy.\n\n", "")
    new = new.replace("MARA\nThe engine died under the lighthouse.\n\n", "")

    assert character("MARA", new) == ("gone", "", None)
    assert character("NOBODY", QUAY) == ("gone", "", None)


def test_a_name_spelled_in_small_letters_is_the_same_name() -> None:
    assert character("MARA", QUAY.replace("MARA\n", "@Mara\n")) == ("kept", "Mara", "@Mara")


def test_the_first_cue_of_someone_who_never_speaks_is_nowhere() -> None:
    assert cue_span(parse(QUAY), "JON") == span_of(QUAY, "JON")
    assert cue_span(parse(QUAY), "NOBODY") is None


# -- the better of two ways

OWN = ["You said noon. I waited until four."]
SAME, NEAR, FAR = Span(1, 0, 1, 35), Span(2, 0, 2, 35), Span(3, 0, 3, 35)
SCRIPT = parse(
    "You said noon. I waited until four.\nYou said noon. I stayed until five.\nHe said never. I waited for nothing.\n"
)
KEPT, MOVED, REWORDED, GONE = SpanFateKind


@pytest.mark.parametrize(
    ("chain", "direct", "best"),
    [
        (SpanFate(KEPT, NEAR), SpanFate(MOVED, SAME), SpanFate(MOVED, SAME)),
        (SpanFate(GONE, None), SpanFate(REWORDED, FAR), SpanFate(REWORDED, FAR)),
        (SpanFate(KEPT, NEAR), SpanFate(GONE, None), SpanFate(REWORDED, NEAR)),
        (SpanFate(REWORDED, FAR), SpanFate(REWORDED, NEAR), SpanFate(REWORDED, NEAR)),
        (SpanFate(REWORDED, NEAR), SpanFate(REWORDED, FAR), SpanFate(REWORDED, NEAR)),
        (SpanFate(REWORDED, SAME), SpanFate(KEPT, SAME), SpanFate(KEPT, SAME)),
        (SpanFate(REWORDED, SAME), SpanFate(REWORDED, NEAR), SpanFate(MOVED, SAME)),
        (SpanFate(GONE, None), SpanFate(GONE, None), SpanFate(GONE, None)),
    ],
)
def test_the_same_words_beat_others_others_beat_none_and_nearer_ones_win(
    chain: SpanFate, direct: SpanFate, best: SpanFate
) -> None:
    assert better_span(chain, direct, OWN, SCRIPT) == best


def test_of_two_places_as_good_it_is_the_one_by_the_chain() -> None:
    twice = parse(SCRIPT.source[0] * 2)
    one, other = SpanFate(KEPT, Span(1, 0, 1, 35)), SpanFate(MOVED, Span(2, 0, 2, 35))

    assert better_span(one, other, OWN, twice) == one
    assert better_span(other, one, OWN, twice) == other


def test_where_it_is_known_to_be_it_is_whatever_is_more_like_it() -> None:
    guessed, known = SpanFate(KEPT, SAME), SpanFate(REWORDED, FAR, is_known=True)

    assert better_span(known, guessed, OWN, SCRIPT) == known
    assert better_span(guessed, known, OWN, SCRIPT) == known


often = settings(max_examples=50)


def rank(placement: SpanFate, own: list[str], script: Screenplay) -> int:
    if placement.span is None:
        return 0
    return 2 if chosen_words(script, placement.span) == own else 1


@often
@given(two_drafts(), two_drafts(), st.data())
def test_the_better_of_two_ways_is_never_worse_than_either(
    drafts: tuple[str, str], others: tuple[str, str], data: st.DataObject
) -> None:
    first, second, third = parse(drafts[0]), parse(drafts[1]), parse(others[0])
    assume(first.source)
    span = any_span(data, first.source)
    own = chosen_words(first, span)
    direct, on = carry(span, compare(first, third)), carry(span, compare(first, second))
    chain = carry(on.span, compare(second, third)) if on.span else direct
    best = better_span(chain, direct, own, third)

    assert best.span in (chain.span, direct.span)
    assert rank(best, own, third) == max(rank(way, own, third) for way in (chain, direct))
    assert (best.fate in {KEPT, MOVED}) == (rank(best, own, third) == 2)
    assert (best.fate is GONE) == (best.span is None)


HEADINGS = "INT. FERRY - NIGHT\n"
SAID_TWICE = f"MARA\nYes.\n\n{HEADINGS * 4}EXT. QUAY - DAY #12A#\n\v\n\nMARA\nYes.\n\n[[a\n  \nb]]\n"
LAST_SAID = f"{HEADINGS * 19}\nMARA\nYes.\n\nJOREN ^\nNo.\n\nJOREN ^\n"


@settings(max_examples=100)
@given(two_drafts())
@example((f"{SAID_TWICE}{HEADINGS * 5}{SAID_TWICE}{LAST_SAID}", f"{SAID_TWICE}{LAST_SAID}"))
def test_scenes_and_characters_are_carried_by_the_laws(drafts: tuple[str, str]) -> None:
    old, new = map(parse, drafts)
    there, back = compare(old, new), compare(new, old)

    a_scene_is_carried_to_all_lines_of_one_scene_or_is_gone(there)
    a_scene_kept_is_carried_back_to_itself(there, back)
    a_scene_and_a_character_of_a_text_are_themselves_in_it(compare(old, old))
    a_character_carried_there_is_carried_back(there, back)


def a_scene_is_carried_to_all_lines_of_one_scene_or_is_gone(comparison: Comparison) -> None:
    for scene in sorted(set(comparison.old.scene_of) - {0}):
        placement = carry_scene(scene_span(comparison.old, scene), comparison)
        partners = {fate.new for fate in comparison.scenes if fate.old == scene} - {None}
        assert (placement.span is None) == (not partners)
        if placement.span is not None:
            assert placement.span in [scene_span(comparison.new, new) for new in partners if new]


def a_scene_kept_is_carried_back_to_itself(there: Comparison, back: Comparison) -> None:
    for scene in sorted(set(there.old.scene_of) - {0}):
        span = scene_span(there.old, scene)
        placement = carry_scene(span, there)
        if placement.fate is KEPT and placement.span is not None:
            assert carry_scene(placement.span, back) == SpanFate(KEPT, span)


def a_scene_and_a_character_of_a_text_are_themselves_in_it(comparison: Comparison) -> None:
    for scene in sorted(set(comparison.old.scene_of) - {0}):
        span = scene_span(comparison.old, scene)
        assert carry_scene(span, comparison) == SpanFate(KEPT, span)
    for name, _ in comparison.first_cues.values():
        assert carry_character(name, comparison) == SpanFate(KEPT, cue_span(comparison.old, name), name)


def a_character_carried_there_is_carried_back(there: Comparison, back: Comparison) -> None:
    for name, _ in back.first_cues.values():
        placement = carry_character(name, there)
        if placement.span is not None:
            assert carry_character(placement.character, back).character.upper() == name.upper()
