"""The cautions found by lists of words, held against scenes that were judged by hand.

Source of the judgements: a first assistant director's work, common practice. Those of the demo's two drafts and of
"Twenty Minutes, She Said" were made by reading alone, by somebody who knew no list and had not seen the code; that
script, and one held out, were written and judged before anything was run on them. "Odd Jobs", "Small Hours", the
examples and the sentences were written to work on the lists. The files in `cautions/` say by which rules they were
judged.

A caution of a scene counts once, however many words it has. What is sure in the judgement and found is a hit; what is
found and not in the judgement at all is false; what the judgement calls arguable counts neither way. `pytest -s` shows
the figures, overall and by kind.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from review import demo
from screenplay import parse
from screenplay.breakdown import caution_names, cautions_of
from screenplay.script import headings_of

if TYPE_CHECKING:
    from collections.abc import Iterable

JUDGED = Path(__file__).parent / "cautions"
DEMO = Path(demo.__file__).parent
SENTENCES = tomllib.loads((JUDGED / "sentences.toml").read_text("utf-8"))
NINE_IN_TEN = 0.9
SENTENCES_RECALL = 0.8
# A twentieth, of strobes, came after all judging; nothing judged has one.
# The scripts were judged when there were thirteen kinds of caution. These six were looked for later, in all but the
# script held out, and judged before the lists were run on a script for them. Of what is sure, four of seventeen
# cautions of machinery and none of three of weather were found in the demo's drafts; when the lists had been mended by
# that, five of fifteen in the other three scripts, and one falsely, judged by somebody who knew the lists. They were
# mended by these too. A new script may well have three times as many as are found.
CAME_LATER = frozenset({"glass", "machinery", "confined", "gas", "crowds", "weather"})
NOT_JUDGED_FOR_THESE = frozenset({"held-out.toml"})
# Precision and recall that each script has to reach. "Twenty Minutes, She Said" was at 0.36 and 0.50 when it was first
# run, on lists of bare words that nobody had made for it, and the lists of today were made after it had been read. The
# script held out was read by nobody who worked on the lists, and run once when they were done: 0.875 and 0.808. When
# they were worked on again it stayed unread, but for the words that were found in it, and was where it had been; when
# they were a third time, by scenes of no judged script, it stayed unread, and is at 0.88 and 0.846. Who
# works on them again has to hold it out still, or to say so here.
SCRIPTS = {
    "the demo's first draft": (DEMO / "first-draft.fountain", "demo-first.toml", NINE_IN_TEN, NINE_IN_TEN),
    "the demo's second draft": (DEMO / "second-draft.fountain", "demo-second.toml", NINE_IN_TEN, NINE_IN_TEN),
    "Twenty Minutes, She Said": (JUDGED / "twenty-minutes.fountain", "twenty-minutes.toml", 0.8, 0.75),
    "a script held out": (JUDGED / "held-out.fountain", "held-out.toml", 0.85, 0.78),
    "Small Hours": (JUDGED / "small-hours.fountain", "small-hours.toml", NINE_IN_TEN, NINE_IN_TEN),
    "Odd Jobs": (JUDGED / "odd-jobs.fountain", "odd-jobs.toml", NINE_IN_TEN, 0.85),
}


@dataclass
class Score:
    """How many cautions of scenes were found that should be, found that should not, and missed, by kind."""

    hits: Counter[str] = field(default_factory=Counter)
    false: Counter[str] = field(default_factory=Counter)
    missed: Counter[str] = field(default_factory=Counter)

    def add(self, found: Iterable[str], sure: Iterable[str], arguable: Iterable[str] = ()) -> None:
        found, sure = set(found), set(sure)
        self.hits.update(found & sure)
        self.false.update(found - sure - set(arguable))
        self.missed.update(sure - found)

    @property
    def precision(self) -> float:
        return self.hits.total() / (self.hits.total() + self.false.total())

    @property
    def recall(self) -> float:
        return self.hits.total() / (self.hits.total() + self.missed.total())

    def __str__(self) -> str:
        kinds = [
            f"  {kind}: {self.hits[kind]} found, {self.false[kind]} false, {self.missed[kind]} missed"
            for kind in caution_names()
            if self.hits[kind] or self.false[kind] or self.missed[kind]
        ]
        totals = f"{self.hits.total()} found, {self.false.total()} false, {self.missed.total()} missed"
        return "\n".join([f"precision {self.precision:.2f}, recall {self.recall:.2f}: {totals}", *kinds])


def kinds_found(text: str) -> list[set[str]]:
    """The cautions of each scene."""
    return [{find.key for find in finds} for finds in cautions_of(parse(text))[1:]]


def score_of(script: Path, judgement: str) -> Score:
    found = kinds_found(script.read_text(encoding="utf-8"))
    unjudged = CAME_LATER if judgement in NOT_JUDGED_FOR_THESE else frozenset()
    score = Score()
    for kinds, scene in zip(found, tomllib.loads((JUDGED / judgement).read_text("utf-8"))["scene"], strict=True):
        cautions = scene["cautions"]
        sure = [caution["kind"] for caution in cautions if caution["sure"]]
        score.add(kinds - unjudged, sure, (caution["kind"] for caution in cautions if not caution["sure"]))
    return score


@pytest.mark.parametrize("title", SCRIPTS)
def test_what_is_found_in_a_script_is_what_was_judged_by_hand(title: str) -> None:
    script, judgement, precision, recall = SCRIPTS[title]
    score = score_of(script, judgement)
    print(f"\n{title}: {score}")  # noqa: T201 - the report
    assert score.precision >= precision
    assert score.recall >= recall


def test_what_is_found_in_the_examples_is_what_they_say() -> None:
    score = Score()
    for example in tomllib.loads((JUDGED / "examples.toml").read_text("utf-8"))["scene"]:
        action = "\n".join(map(_as_fountain, example["action"].splitlines()))
        [found] = kinds_found(f"{example['heading']}\n\n{action}\n")
        score.add(found, example["cautions"])
    print(f"\nThe examples: {score}")  # noqa: T201 - the report
    assert min(score.precision, score.recall) >= NINE_IN_TEN


@pytest.mark.parametrize("kind", SENTENCES)
def test_each_caution_is_found_in_sentences_that_have_it_and_not_in_others(kind: str) -> None:
    heading = "EXT. PLACE - NIGHT" if kind == "night_roads" else "EXT. PLACE - DAY"
    score = Score()
    for listed, sure in (("found", [kind]), ("not_found", [])):
        for sentence in SENTENCES[kind][listed].splitlines():
            score.add(kinds_found(f"{heading}\n\n{sentence}\n")[0] & {kind}, sure)
    print(f"\nSentences of {kind}: {score}")  # noqa: T201 - the report
    assert score.precision >= NINE_IN_TEN
    assert score.recall >= SENTENCES_RECALL


def _as_fountain(line: str) -> str:
    """NAME: what is said, as a speech; any other line as it is."""
    name, colon, said = line.partition(": ")
    return f"\n{name}\n{said}\n" if colon and name.isupper() else line


@pytest.mark.parametrize(
    "judgement", sorted({*JUDGED.glob("*.toml")} - {JUDGED / "sentences.toml"}), ids=lambda path: path.stem
)
def test_every_judgement_is_of_a_kind_that_there_is(judgement: Path) -> None:
    scenes = tomllib.loads(judgement.read_text("utf-8"))["scene"]
    kinds = {one if isinstance(one, str) else one["kind"] for scene in scenes for one in scene["cautions"]}
    assert kinds <= set(caution_names())
    assert len(scenes) >= 12


@pytest.mark.parametrize("title", SCRIPTS)
def test_the_judged_scenes_are_those_of_the_script(title: str) -> None:
    script, judgement, *_ = SCRIPTS[title]
    scenes = tomllib.loads((JUDGED / judgement).read_text("utf-8"))["scene"]
    headings = [heading.printed.text for heading in headings_of(parse(script.read_text("utf-8")))]
    assert [scene["heading"] for scene in scenes] == headings
