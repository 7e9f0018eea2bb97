"""Rewrites that a script coordinator judged by the page alone: where each note stands, what became of each scene.

Source: `fixtures/rewriting`, written by one person and judged by another, neither of whom knew this program; but for
`tried-afterwards`, of one person who did.
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest

from screenplay import Span, carry, compare
from screenplay.comparing import Comparison, LineFateKind, SceneFateKind
from tests.screenplay.rewriting_cases import Case, cases

if TYPE_CHECKING:
    from screenplay.comparing.scene_fates import SceneFate

CASES = list(cases())
LINE_FATES = {
    LineFateKind.KEPT: "kept",
    LineFateKind.MOVED: "moved",
    LineFateKind.REWORDED: "reworded",
    LineFateKind.NUMBERED: "kept",
    LineFateKind.JOINED: "reworded",
    LineFateKind.SPLIT: "reworded",
    LineFateKind.GONE: "gone",
}
SCENE_FATES = {
    SceneFateKind.KEPT: {"kept"},
    SceneFateKind.REWORDED: {"changed"},
    SceneFateKind.MOVED: {"moved", "moved and changed", "moved and renamed"},
    SceneFateKind.RENAMED: {"renamed", "renamed and changed"},
    SceneFateKind.SPLIT: {"changed"},
    SceneFateKind.MERGED: {"merged"},
    SceneFateKind.CUT: {"cut"},
    SceneFateKind.ADDED: {"new"},
}
each_case = pytest.mark.parametrize("case", CASES, ids=[case.name for case in CASES])


def compared(case: Case) -> Comparison:
    return _compared(case.before.text, case.after.text)


_compared = cache(compare)  # once for all that is asked of a case


def on(case: Case, comparison: Comparison, tag: str) -> set[int]:
    """The new lines that a note is on."""
    return {new for line in case.before.lines_of[tag] for new in comparison.by_old[line].new}


def test_there_are_more_than_sixty_cases_and_no_two_are_called_the_same() -> None:
    assert len({case.name for case in CASES}) == len(CASES) > 60


@each_case
def test_each_note_stands_where_its_words_are(case: Case) -> None:
    comparison = compared(case)

    for tag, fates in case.fates.items():
        found = on(case, comparison, tag)
        may_be_gone = "gone" in fates
        assert found == case.after.lines_of.get(tag, frozenset()) or (may_be_gone and not found), tag


@each_case
def test_a_note_is_carried_from_the_first_of_its_lines_to_the_last(case: Case) -> None:
    comparison = compared(case)

    for tag, lines in case.before.lines_of.items():
        first, last = min(lines), max(lines)
        end = len(comparison.old.source[last - 1].rstrip("\n"))
        span, found = carry(Span(first, 0, last, end), comparison).span, on(case, comparison, tag)
        assert (span is None) == (not found)
        if span is not None:
            assert (span.first_line, span.last_line) == (min(found), max(found)), tag


@each_case
def test_each_line_has_a_fate_that_may_be_said_of_it(case: Case) -> None:
    comparison = compared(case)

    for tag, fates in case.fates.items():
        for line in case.before.lines_of[tag]:
            assert LINE_FATES[comparison.by_old[line].fate] in fates, tag


@each_case
def test_of_several_notes_that_may_be_on_a_line_at_least_one_is(case: Case) -> None:
    comparison = compared(case)

    tags_on = Counter(line for lines in case.after.lines_of.values() for line in lines)
    noted = {line for tag in case.before.lines_of for line in on(case, comparison, tag)}
    assert {line for line, tags in tags_on.items() if tags > 1} <= noted


@each_case
def test_each_scene_has_a_fate_that_may_be_said_of_it(case: Case) -> None:
    comparison = compared(case)

    left = {(scene.old, scene.new): words_for(scene, comparison) for scene in comparison.scenes}
    for scene in case.scenes:
        pair = scene.before, scene.after
        if pair not in left and "cut" in scene.fates:
            pair = scene.before, None
        elif scene.fates == {"new"} and pair not in left:  # the part of a split scene under a heading newly set
            pair = next(told for told, words in left.items() if told[1] == scene.after)
        words = left.pop(pair)
        assert words & scene.fates, pair
    assert not left


def words_for(scene: SceneFate, comparison: Comparison) -> set[str]:
    """What is told of a scene, in the cases' words: of several in one, that whose heading stands lives on."""
    has_heading = comparison.same_headings.get(scene.new or 0) == scene.old
    if scene.fate is SceneFateKind.MERGED and has_heading:
        return {"changed", "renamed"}
    if scene.fate is SceneFateKind.SPLIT and not has_heading:
        return {"new"}
    return SCENE_FATES[scene.fate]


@each_case
def test_what_is_said_to_stay_keeps_its_order(case: Case) -> None:
    comparison = compared(case)

    leave = {SceneFateKind.MOVED, SceneFateKind.MERGED, SceneFateKind.SPLIT, SceneFateKind.CUT, SceneFateKind.ADDED}
    stayed = sorted((scene.old or 0, scene.new or 0) for scene in comparison.scenes if scene.fate not in leave)
    assert all(before[1] < after[1] for before, after in pairwise(stayed))
    kept = [line.new[0] for line in comparison.lines if line.fate is LineFateKind.KEPT]
    assert kept == sorted(kept)
