"""Two texts made from one are put together: what one side changed is in, and what both did differently is stated."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from screenplay.next_draft.merge import Conflict, merge

BASE = "INT. FERRY - DAY\n\nRain.\n\nMARA\nHold on.\n"

texts = st.lists(st.sampled_from(["INT. FERRY - DAY\n", "\n", "Rain.\n", "MARA\n", "Hold on.\n"]), max_size=9).map(
    "".join
)


def test_what_each_side_changed_alone_is_taken_over() -> None:
    ours, theirs = BASE.replace("Rain.", "Fog."), BASE.replace("Hold on.", "Let go.")
    assert merge(BASE, ours, theirs).text == "INT. FERRY - DAY\n\nFog.\n\nMARA\nLet go.\n"


def test_lines_that_both_changed_in_their_own_way_are_a_conflict() -> None:
    merged = merge(BASE, BASE.replace("Rain.", "Fog."), BASE.replace("Rain.", "Hail."))
    assert merged.conflicts == (Conflict("Rain.\n", "Fog.\n", "Hail.\n"),)
    assert merged.text is None
    assert merged.settled(["Sun.\n"]) == BASE.replace("Rain.", "Sun.")


def test_a_choice_is_wanted_for_each_conflict() -> None:
    with pytest.raises(ValueError, match="1 conflicts and 0 choices"):
        merge("a\n", "b\n", "c\n").settled([])


@given(base=texts, ours=texts)
def test_a_side_that_changed_nothing_lets_the_other_stand(base: str, ours: str) -> None:
    assert merge(base, ours, base).text == ours
    assert merge(base, base, ours).text == ours
    assert merge(base, ours, ours).text == ours


@given(base=texts, ours=texts, theirs=texts)
def test_choosing_one_side_everywhere_keeps_every_line_of_its_own(base: str, ours: str, theirs: str) -> None:
    merged = merge(base, ours, theirs)
    backwards = merge(base, theirs, ours)
    assert [(one.ours, one.theirs) for one in merged.conflicts] == [
        (other.theirs, other.ours) for other in backwards.conflicts
    ]
    kept = merged.settled([conflict.ours for conflict in merged.conflicts])
    for line in set(ours.splitlines()) - set(base.splitlines()):
        assert line in kept.splitlines()
