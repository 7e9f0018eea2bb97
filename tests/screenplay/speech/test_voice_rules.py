"""Voice rules and where they are broken."""

from __future__ import annotations

from typing import Any

import pytest

from screenplay import parse
from screenplay.speech import RuleKind, VoiceRule, breaches

SCRIPT = """INT. A - DAY #1#

NELL
I'm not going, Tobias. I am *tired*.
Tobias can't row. Why not?

TOBIAS
I'm off.

INT. B - DAY

NELL
(low)
Mrs. Orr, привет. Row the boat.
"""


def broken(kind: RuleKind, script: str = SCRIPT, **more: Any) -> list[tuple[int, str]]:
    return [(one.line, one.words) for one in breaches(parse(script), VoiceRule("nell", kind, **more))]


@pytest.mark.parametrize(
    ("kind", "more", "found"),
    [
        (RuleKind.NO_CONTRACTIONS, {}, [(4, "I'm"), (5, "can't")]),
        (RuleKind.ONLY_CONTRACTIONS, {}, [(4, "I am")]),
        (RuleKind.NO_QUESTIONS, {}, [(5, "Why not?")]),
        (RuleKind.SHORT_SENTENCES, {"most_words": 3}, [(4, "I'm not going, Tobias.")]),
        (RuleKind.NEVER_SAYS, {"words": ("row the", "TIRED")}, [(4, "tired"), (14, "Row the")]),
        (RuleKind.SAYS_EACH_SCENE, {"words": ("boat",)}, [(3, "NELL")]),
        (RuleKind.SAYS_EACH_SCENE, {"words": ("boat", "tired")}, []),
        (RuleKind.NEVER_USES_NAMES, {}, [(4, "Tobias"), (14, "Mrs. Orr")]),
        (RuleKind.USES_NAMES, {}, []),
        (RuleKind.SCRIPTS_ONLY, {"scripts": ("Latin",)}, [(14, "привет")]),
        (RuleKind.SCRIPTS_ONLY, {"scripts": ("Latin", "Cyrillic")}, []),
    ],
)
def test_the_breaches_of_each_rule(kind: RuleKind, more: dict[str, Any], found: list[tuple[int, str]]) -> None:
    assert broken(kind, **more) == found


def test_a_rule_holds_from_its_first_scene_to_its_last() -> None:
    assert broken(RuleKind.NO_CONTRACTIONS, first_scene=2) == []
    assert broken(RuleKind.NO_CONTRACTIONS, last_scene=1) == [(4, "I'm"), (5, "can't")]
    assert broken(RuleKind.NEVER_USES_NAMES, first_scene=2, last_scene=2) == [(14, "Mrs. Orr")]


def test_a_scene_without_anybody_addressed_by_name_breaks_the_rule_to_use_names() -> None:
    text = "INT. A - DAY\n\nNELL\nNo.\n\nTOBIAS\nNell!\n\nNELL\nTobias rows.\n"
    assert broken(RuleKind.USES_NAMES, text) == [(3, "NELL")]
    assert broken(RuleKind.USES_NAMES, text.replace("No.", "No, Tobias.")) == []


def test_a_breach_says_in_which_scene_it_is() -> None:
    (found,) = breaches(parse(SCRIPT), VoiceRule("TOBIAS", RuleKind.NO_CONTRACTIONS))
    assert (found.scene, found.text, found.start) == (1, "I'm off.", 0)


def test_a_sentence_over_two_lines_is_one() -> None:
    text = "NELL\nWe go when the tide\nturns. Not before.\n"
    assert broken(RuleKind.SHORT_SENTENCES, text, most_words=5) == [(2, "We go when the tide"), (3, "turns.")]
