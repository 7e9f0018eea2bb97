"""The screen, the fates of scenes and the command tell by what prints, and so they tell the same."""

from __future__ import annotations

import pytest

from review.changes.reading_order import set_out
from review.management.commands.compare import report
from screenplay import compare, lay_out

SCRIPT = "INT. HUT - DAY\n\nTobias mends a net.\n\n{}\n"
MARA = "MARA\nYes.\n\n"

PRINTS_THE_SAME = {
    "a note came": ("The rain fades.", "The rain [[why?]] fades."),
    "a note is another": ("The rain [[why?]] fades.", "The [[which?]] rain fades."),
    "a note over two lines went": ("Rain falls [[why\nhere?]] on the slip.", "Rain falls\non the slip."),
    "a forced line": ("Rain falls.", "!Rain falls."),
    "a forced heading": ("INT. LOFT - DAY\n\nRain.", ".INT. LOFT - DAY\n\nRain."),
    "a forced cue": (MARA, f"@{MARA}"),
    "a boneyard in a line": ("The rain fades.", "The rain /* and fog */ fades."),
    "openings that never close, kept": ("[[ [[ /* Rain.", "![[ [[ /* Rain."),
}
PRINTS_OTHERWISE = {
    "a word is two": ("The rain[[?]]bow fades.", "The rain [[?]]bow fades."),
    "two words are one": ("The rain bow fades.", "The rain[[?]]bow fades."),
    "another style": ("The rain fades.", "The *rain* fades."),
    "another word beside a note": ("The rain [[?]] fades.", "The fog [[?]] fades."),
    "openings that never close": ("[[ [[ Rain.", "[[ [[ [[ Rain."),
}
SET_OTHERWISE = {
    "centred": ("Rain falls.", "> Rain falls. <"),
    "side by side": (f"NELL\nNo.\n\n{MARA}", f"NELL\nNo.\n\n{MARA}".replace("MARA", "MARA ^")),
}


def told(one: str, other: str) -> tuple[dict[str, int], set[str], str]:
    """The lines that the screen counts as changed, the fates of the scenes, and what the command says first."""
    comparison = compare(SCRIPT.format(one), SCRIPT.format(other))
    changes = set_out(comparison, lay_out(comparison.old).scenes, lay_out(comparison.new).scenes)
    marks = {mark: count for mark, count in changes.lines.items() if mark != "same"}
    return marks, {scene.fate.value for scene in comparison.scenes}, report(comparison).splitlines()[0]


def both_ways(cases: dict[str, tuple[str, str]]) -> pytest.MarkDecorator:
    pairs = cases | {f"{name}, back": pair[::-1] for name, pair in cases.items()}
    return pytest.mark.parametrize(("one", "other"), pairs.values(), ids=pairs)


@both_ways(PRINTS_THE_SAME)
def test_a_line_that_prints_the_same_is_as_it_was(one: str, other: str) -> None:
    marks, fates, counts = told(one, other)
    assert (marks, fates) == ({}, {"kept"})
    printed, _, unprinted = counts.partition(" Of what never prints: ")
    assert {word for word in ("reworded", "gone", "added") if word in printed} == set()
    assert "reworded" in unprinted


@both_ways(PRINTS_OTHERWISE)
def test_a_line_that_prints_otherwise_is_reworded(one: str, other: str) -> None:
    assert told(one, other) == ({"reworded": 1}, {"reworded"}, "Lines: 2 kept, 1 reworded.")


@both_ways(SET_OTHERWISE)
def test_a_line_that_is_set_otherwise_is_no_line_as_it_was(one: str, other: str) -> None:
    marks, fates, counts = told(one, other)
    assert set(marks) == {"set otherwise"}
    assert fates == {"reworded"}
    assert ", 1 reworded." in counts
    assert "never prints" not in counts
