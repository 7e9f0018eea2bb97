"""Why a changed scene is on somebody's change sheet, in sentences."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.changes.department_rules import LIGHT, ORDER, PEOPLE, PLACE, SEEN, TRADES, cautions_for
from screenplay.breakdown import caution_names, each_once
from screenplay.comparing import SceneFateKind
from screenplay.fountain import same_name

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from review.changes.scene_changes import SceneChange
    from review.people.models import Department
    from screenplay.next_draft import Caution, Presence, SceneConcerns
    from screenplay.script import Scene

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


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
}


def department_reasons(
    department: Department, scene: SceneChange, concerns: SceneConcerns, *, is_listed: bool = False
) -> list[Reason]:
    """Why the scene concerns a department; empty where nothing in it does and it is not listed for another reason.

    Which cautions put a scene on a sheet is the department's business. Once it is there, all of its cautions are told:
    who sets a fire has to know that a child runs through it.
    """
    told: list[str] = []
    if department in PLACE:
        told += [*_place(concerns), *_setting(scene, concerns), *_places_along(scene, concerns)]
    if department in LIGHT:
        told += [*_light(concerns), *_light_along(scene, concerns)]
    if department in PEOPLE:
        told += _people(scene, concerns)
    if department in SEEN:
        told += _named(concerns)
    if department in ORDER:
        told += _order(scene)
    trade = TRADES.get(department, "")
    words = [f"Words in changed lines: {_listed(found.words)}." for found in concerns.words if found.key == trade]
    is_new = scene.fate == SceneFateKind.ADDED
    own = cautions_for(department, [caution.key for caution in concerns.cautions], is_new=is_new)
    if not (told or words or own or is_listed):
        return [_nothing_found(concerns)] if is_new else []
    return [*map(Reason, told), *_cautions(scene, concerns), *map(Reason, words)]


def _nothing_found(concerns: SceneConcerns) -> Reason:
    """That a scene is new, for a department of which no list found anything there; with the cautions of others."""
    others = "".join(f"; {caution_names()[one.key]}: {_listed(one.words)}" for one in concerns.cautions)
    return Reason("", is_about_change=False, brief=f"a new scene{others}")


def character_reasons(
    name: str, scene: SceneChange, concerns: SceneConcerns, presence: Presence | None, *, is_listed: bool = False
) -> list[Reason]:
    """Why the scene concerns whoever plays the character; but for its cautions, where it is listed for another reason,
    empty where the character is not in it."""
    if presence is None:
        return list(_cautions(scene, concerns)) if is_listed else []
    told = [
        *_place(concerns),
        *_light(concerns),
        *_places_along(scene, concerns),
        *_light_along(scene, concerns),
        *_people(scene, concerns, but=name),
        *_named(concerns, but=name),
        *_order(scene),
    ]
    return [_presence(name, presence), *map(Reason, told), *_cautions(scene, concerns)]


def _presence(name: str, presence: Presence) -> Reason:
    """How a character is in the scene. What changed for them is what they say, and action that names them."""
    acts = " Named in changed action." if presence.acts else ""
    if presence.speeches:
        told = ", ".join(f"{_number(count)} {what}" for what, count in presence.speeches.items())
        return Reason(f"{name} {'speaks' if presence.speaks else 'no longer speaks'} here. Speeches: {told}.{acts}")
    if presence.speaks:
        told, brief = f"{name} speaks here; their speeches are as they were.", "speaks here"
    elif presence.spoke:
        told, brief = f"{name} spoke here.", "spoke here"
    else:
        verb = "is" if presence.is_in_it else "was"
        told, brief = f"{name} {verb} named here.", f"{verb} named here"
    return Reason(told + acts, is_about_change=presence.acts, brief="" if presence.acts else brief)


def fate_reason(scene: SceneChange) -> str:
    """What became of the scene as a whole, "" where only lines in it changed."""
    told = [_FATES.get(scene.fate, "")]
    if scene.fate == SceneFateKind.SPLIT and scene.old:
        told.append(f"It is {scene.share} of what was {_called(scene.old)}.")
    told += [f"What was {_called(each)}, is part of it now." for each in scene.joined]
    return " ".join(filter(None, told))


def _called(scene: Scene) -> str:
    return f"scene {scene.number or scene.ordinal}, {scene.heading}"


def _number(count: int) -> str:
    return NUMBERS[count] if count < len(NUMBERS) else str(count)


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
        yield _ended(f"It was {before} and is {after}")


def _ended(sentence: str) -> str:
    """A setting ends in a full stop of its own."""
    return sentence if sentence.endswith(".") else f"{sentence}."


def _light(concerns: SceneConcerns) -> Iterator[str]:
    if concerns.light:
        before, after = concerns.light
        if before and after:
            yield f"It was {before} and is {after}."
        elif after:
            yield f"Time: {after}."


def _places_along(scene: SceneChange, concerns: SceneConcerns) -> Iterator[str]:
    """Where the scenes were played that are part of this one now."""
    for each in concerns.along:
        which = _came_with(scene, each.scene)
        if each.place and each.place[0]:
            still = "where other scenes still are" if each.place_stays else "where no scene is any more"
            yield f"{which} was played at {each.place[0]}, {still}."
        if each.setting:
            yield _ended(f"{which} was {each.setting[0] or 'of no setting'} and is {each.setting[1] or 'of none'}")


def _light_along(scene: SceneChange, concerns: SceneConcerns) -> Iterator[str]:
    for each in concerns.along:
        if each.light and all(each.light):
            yield f"{_came_with(scene, each.scene)} was {each.light[0]} and is {each.light[1]}."


def _came_with(scene: SceneChange, ordinal: int) -> str:
    """What came from an old scene, by what that was called."""
    return f"What came from {_by_number(scene, ordinal)}"


def _by_number(scene: SceneChange, ordinal: int) -> str:
    came = next(each for each in scene.joined if each.ordinal == ordinal)
    return f"scene {came.number or came.ordinal}"


def _people(scene: SceneChange, concerns: SceneConcerns, but: str = "") -> Iterator[str]:
    """Who came and who left, but for one of whom that is said already."""
    along = (("Came along with " + _by_number(scene, each.scene), each.speakers) for each in concerns.along)
    yield from (f"{told}: {_listed(names)}." for told, names in along if names)
    yield from _came_and_left("Speaking here now", concerns.came, but)
    yield from _came_and_left("No longer speaking here", concerns.left, but)


def _named(concerns: SceneConcerns, but: str = "") -> Iterator[str]:
    """Whom the action names now, and no longer, of those who do not speak here."""
    yield from _came_and_left("Named in the action now", concerns.named, but)
    yield from _came_and_left("No longer named in the action", concerns.unnamed, but)


def _came_and_left(told: str, who: Iterable[str], but: str) -> Iterator[str]:
    if names := [name for name in who if same_name(name) != same_name(but)]:
        yield f"{told}: {_listed(names)}."


def _order(scene: SceneChange) -> Iterator[str]:
    if scene.is_moved:
        yield "The scene stands elsewhere in the story now."


def _cautions(scene: SceneChange, concerns: SceneConcerns) -> Iterator[Reason]:
    return (_caution(one, scene) for one in concerns.cautions)


def _caution(caution: Caution, scene: SceneChange) -> Reason:
    name, words = caution_names()[caution.key], _listed(caution.words)
    if caution.is_over:
        gone = _taken_out(caution) if scene.new else f"went with the scene: {words}."
        return Reason(f"Caution, {name}: {gone}", brief=f"{name}: {words}")
    state = ""
    if caution.came_with is not None:
        state = f", came along with {_by_number(scene, caution.came_with)}"
    elif caution.is_new:
        state = ", new in the scene"
    elif not caution.in_new_lines:
        state = ", in lines that did not change"
    told = f"Caution, {name}{state}: {words}."
    if caution.taken_out:
        told += f" Taken out: {_listed(caution.taken_out)}."
    if caution.standing:
        told += f" No longer found by any list, though the scene still says it: {_listed(caution.standing)}."
    return Reason(told, is_about_change=caution.in_change, brief=f"{name}: {words}")


def _taken_out(caution: Caution) -> str:
    """What became of the words of a caution that no list finds in the scene any more: some may stand there still."""
    gone = _listed(word for word in caution.words if word not in caution.standing)
    told = f"its words were taken out ({gone}). " if gone else ""
    if not caution.standing:
        return f"{told}No list finds others in the scene, which does not say that it is clear of it."
    return f"{told}No longer found by any list, though the scene still says it: {_listed(caution.standing)}."


def _listed(words: Iterable[str]) -> str:
    """All of them, however many: none is more dangerous than the one that is not told."""
    return ", ".join(each_once(words))
