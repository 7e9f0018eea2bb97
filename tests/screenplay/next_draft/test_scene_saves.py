"""What one save did to the lines of a scene: by hand-worked examples, and by laws that hold for any text."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from screenplay.comparing import LineOrigins
from screenplay.fountain import split_lines
from screenplay.next_draft import rewritten_lines
from tests.screenplay.scripts import any_text

SCENE = """INT. FERRY - NIGHT

MARA
It won't hold. I told them so in May.

JOREN
Then we swim.

Rain on the deck.
The pump stops.
"""
SPEECH, REPLY, RAIN, PUMP = 4, 7, 9, 10


def origins(after: str, before: str = SCENE) -> dict[str, tuple[int, ...]]:
    """Where each line of a text with words on it comes from, by its words."""
    found = rewritten_lines(before, after)
    return {line.strip(): found.of(at) for at, line in enumerate(split_lines(after), 1) if line.strip()}


@pytest.mark.parametrize(
    ("written", "instead", "line", "comes_from"),
    [
        ("It won't hold. I told them so in May.", "No.", "No.", (SPEECH,)),
        ("Then we swim.", "Never, not in this water, not at this hour.", None, (REPLY,)),
        ("MARA\n", "ODA\n", "ODA", (3,)),
        ("INT. FERRY - NIGHT", "EXT. QUAY - DAWN", "EXT. QUAY - DAWN", (1,)),
        ("Rain on the deck.\nThe pump stops.", "Silence.", "Silence.", (RAIN, PUMP)),
        ("It won't hold. I told them so in May.", "Hm.\nAh well.", "Ah well.", (SPEECH,)),
        ("Rain on the deck.\nThe pump stops.", "Silence.\nA gull.", "A gull.", (PUMP,)),
        (
            "It won't hold. I told them so in May.",
            "It won't hold.\nI told them so in May.",
            "It won't hold.",
            (SPEECH,),
        ),
        ("Then we swim.", "Then we swim.\n\nMARA\nYou first.", "You first.", ()),
        ("Then we swim.\n\nRain on the deck.", "Hm.\n\nSnow falls.", "Snow falls.", (RAIN,)),
    ],
)
def test_a_line_in_the_place_of_one_is_that_line(
    written: str, instead: str, line: str | None, comes_from: tuple[int, ...]
) -> None:
    assert origins(SCENE.replace(written, instead))[line or instead] == comes_from


def test_another_speech_in_the_place_of_one_is_not_known_to_be_it() -> None:
    after = SCENE.replace("JOREN\nThen we swim.", "THE PILOT\nPull!\n\nODA\nWhere?")
    assert origins(after)["Pull!"] == origins(after)["Where?"] == ()


def test_lines_that_were_taken_out_came_to_nothing() -> None:
    found = rewritten_lines(SCENE, SCENE.replace("JOREN\nThen we swim.\n\n", ""))
    assert all(REPLY not in lines for lines in found.lines)


@given(any_text)
def test_nothing_saved_changes_nothing(text: str) -> None:
    assert rewritten_lines(text, text) == LineOrigins.unchanged(len(split_lines(text)))


@given(any_text, any_text, any_text, any_text)
def test_lines_outside_the_stretch_that_was_touched_stay_themselves(head: str, old: str, new: str, tail: str) -> None:
    head, tail = f"{head}\n", f"\n{tail}"
    old, new = f"{old}<", f"{new}>"  # so that the stretch ends where it is meant to
    found = rewritten_lines(head + old + tail, head + new + tail)
    first, last = len(split_lines(head)), len(split_lines(tail)) - 1
    before, after = len(split_lines(head + old + tail)), len(split_lines(head + new + tail))
    assert found.lines[:first] == tuple((line,) for line in range(1, first + 1))
    assert found.lines[after - last :] == tuple((line,) for line in range(before - last + 1, before + 1))


@given(any_text, any_text)
def test_each_line_comes_from_lines_that_were_there(before: str, after: str) -> None:
    found = rewritten_lines(before, after)
    assert len(found.lines) == len(split_lines(after))
    assert {line for lines in found.lines for line in lines} <= set(range(1, len(split_lines(before)) + 1))


edits = st.lists(st.tuples(st.sampled_from(["put in", "take out", "write"]), st.integers(0, 30)), max_size=15)


@given(st.integers(1, 12), edits)
def test_saves_one_after_the_other_come_to_what_was_done(count: int, done: list[tuple[str, int]]) -> None:
    """Each line carries its own history: where the script had it, however often it was written anew since."""
    lines = [(f"line {at}", at) for at in range(1, count + 1)]
    known = LineOrigins.unchanged(count)
    for nth, (act, place) in enumerate(done):
        before = "".join(f"{words}\n" for words, _ in lines)
        at = place % (len(lines) + 1)
        if act == "put in":
            lines.insert(at, (f"new {nth}", 0))
        elif at < len(lines):
            lines[at : at + 1] = [] if act == "take out" else [(f"other {nth}", lines[at][1])]
        known = known.then(rewritten_lines(before, "".join(f"{words}\n" for words, _ in lines)))
    assert known.lines == tuple((came_from,) if came_from else () for _, came_from in lines)
