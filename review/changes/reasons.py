"""Why a changed scene is on somebody's change sheet, in sentences."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.changes.department_rules import LIGHT, ORDER, PEOPLE, PLACE, TRADES, cautions_for
from screenplay.breakdown import caution_names
from screenplay.comparing import SceneFateKind

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from review.changes.scene_changes import SceneChange
    from review.people.models import Department
    from screenplay.next_draft import Caution, Presence, SceneConcerns

WORDS_TOLD = 6


@dataclass(frozen=True, slots=True)
class Reason:
    """A sentence, and whether it is about what changed rather than about what the changed scene had and still has: then
    `brief` says the same in a few words, for a list."""

    text: str
    is_about_change: bool = True
    brief: str = ""


_FATES: dict[str, str] = {
    SceneFateKind.ADDED: "A new scene.",
    SceneFateKind.CUT: "The scene is cut.",
    SceneFateKind.SPLIT: "The scene was split.",
    SceneFateKind.MERGED: "Scenes were made one.",
}


def department_reasons(department: Department, scene: SceneChange, concerns: SceneConcerns) -> list[Reason]:
    """Why the scene concerns a department; empty where nothing in it does."""
    told: list[str] = []
    if department in PLACE:
        told += [*_place(concerns), *_setting(scene, concerns)]
    if department in LIGHT:
        told += _light(concerns)
    if department in PEOPLE:
        told += _people(concerns)
    if department in ORDER:
        told += _order(scene)
    cautions = map(_caution, _cautions_for(department, concerns.cautions))
    trade = TRADES.get(department, "")
    words = [f"Words in changed lines: {_listed(found.words)}." for found in concerns.words if found.key == trade]
    return [*map(Reason, told), *cautions, *map(Reason, words)]


def character_reasons(
    name: str, scene: SceneChange, concerns: SceneConcerns, presence: Presence | None
) -> list[Reason]:
    """Why the scene concerns whoever plays the character; empty where the character is not in it."""
    if presence is None:
        return []
    told = [*_place(concerns), *_light(concerns), *_people(concerns), *_order(scene)]
    return [_presence(name, presence), *map(Reason, told), *(_caution(one) for one in concerns.cautions)]


def _presence(name: str, presence: Presence) -> Reason:
    if presence.lines_changed:
        changes = "one change" if presence.lines_changed == 1 else f"{presence.lines_changed} changes"
        return Reason(f"{name} speaks here, with {changes} in their speeches.")
    if presence.speaks:
        return Reason(
            f"{name} speaks here; their speeches are as they were.", is_about_change=False, brief="speaks here"
        )
    return Reason(f"{name} is named here.", is_about_change=False, brief="is named here")


def fate_reason(scene: SceneChange) -> str:
    """What became of the scene as a whole, "" where only lines in it changed."""
    return _FATES.get(scene.fate, "")


def _place(concerns: SceneConcerns) -> Iterator[str]:
    if concerns.place:
        before, after = concerns.place
        if before and after:
            yield f"The place was {before} and is {after}."
        elif after:
            yield f"Place: {after}."
        elif concerns.place_stays:
            yield f"Was played at {before}, where other scenes still are."
        else:
            yield f"No longer played at {before}."


def _setting(scene: SceneChange, concerns: SceneConcerns) -> Iterator[str]:
    if concerns.setting and scene.old and scene.new:
        before, after = (setting or "no setting" for setting in concerns.setting)
        yield f"It was {before} and is {after}"


def _light(concerns: SceneConcerns) -> Iterator[str]:
    if concerns.light:
        before, after = concerns.light
        if before and after:
            yield f"It was {before} and is {after}."
        elif after:
            yield f"Time: {after}."


def _people(concerns: SceneConcerns) -> Iterator[str]:
    if concerns.came:
        yield f"Speaking here now: {_listed(concerns.came)}."
    if concerns.left:
        yield f"No longer speaking here: {_listed(concerns.left)}."


def _order(scene: SceneChange) -> Iterator[str]:
    if scene.fate == SceneFateKind.MOVED:
        yield "The scene stands elsewhere in the story now."


def _cautions_for(department: Department, cautions: Sequence[Caution]) -> list[Caution]:
    wanted = cautions_for(department, [caution.key for caution in cautions])
    return [caution for caution in cautions if caution.key in wanted]


def _caution(caution: Caution) -> Reason:
    state = ""
    if caution.is_over:
        state = ", no longer in the scene, its words taken out"
    elif caution.is_new:
        state = ", new in the scene"
    elif not caution.in_new_lines:
        state = ", in lines that did not change"
    name, words = caution_names()[caution.key], _listed(caution.words)
    told = f"Caution, {name}{state}: {words}."
    if caution.taken_out:
        told += f" Taken out: {_listed(caution.taken_out)}."
    return Reason(told, is_about_change=caution.in_change, brief=f"{name}: {words}")


def _listed(words: Iterable[str] | Sequence[str]) -> str:
    told = list(words)
    more = len(told) - WORDS_TOLD
    return ", ".join(told[:WORDS_TOLD]) + (f" and {more} more" if more > 0 else "")
