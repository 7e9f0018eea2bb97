"""Voice rules follow their scenes."""

from __future__ import annotations

from screenplay import compare
from screenplay.next_draft import carry_rule
from screenplay.speech import RuleKind, VoiceRule

SCENES = {
    "A": "INT. PIER - DAY\n\nNELL\nNobody rows to the lighthouse.\n\n",
    "B": "EXT. FIELD - NIGHT\n\nNELL\nThe harvest came in early this year.\n\n",
    "C": "INT. KITCHEN - DAY\n\nNELL\nSalt, pepper, and two dozen eggs.\n\n",
    "D": "EXT. QUAY - DAWN\n\nNELL\nSomebody moved the yellow boat.\n\n",
}
NEW = "INT. ATTIC - DAY\n\nNELL\nBoxes full of unopened letters.\n\n"


def rule(first: int | None, last: int | None) -> VoiceRule:
    return VoiceRule("NELL", RuleKind.NO_QUESTIONS, first_scene=first, last_scene=last)


def carried(first: int | None, last: int | None, new: str) -> tuple[int | None, int | None] | None:
    old = "".join(SCENES.values())
    found = carry_rule(rule(first, last), compare(old, new))
    return (found.first_scene, found.last_scene) if found else None


def test_it_follows_its_scenes() -> None:
    assert carried(2, 3, NEW + "".join(SCENES.values())) == (3, 4)


def test_it_goes_on_between_scenes_that_live_on_where_one_was_cut() -> None:
    assert carried(2, 3, SCENES["A"] + SCENES["C"] + SCENES["D"]) == (2, 2)
    assert carried(2, None, SCENES["A"] + SCENES["C"] + SCENES["D"]) == (2, None)
    assert carried(None, 3, SCENES["A"] + SCENES["B"] + SCENES["D"]) == (None, 2)


def test_it_ends_where_all_its_scenes_were_cut() -> None:
    assert carried(2, 3, SCENES["A"] + SCENES["D"]) is None


def test_without_scenes_it_holds_throughout() -> None:
    assert carried(None, None, NEW) == (None, None)
