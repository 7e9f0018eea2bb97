"""Which scene has which number in a locked script: at locking, and from each draft to the next.

A scene keeps its number wherever it moves and whatever becomes of its heading. One added is lettered after the scene
before it; one cut stays as OMITTED at its place, and no other scene ever gets its number. A scene whose text is back
takes its old number again. Of a split scene the part under its heading keeps the number, else the first, and the others
are lettered; of merged scenes the number of the one whose heading stands stays, else the first, and the others are
OMITTED. (Common practice in the trade; houses differ.)
"""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from screenplay.comparing import in_order
from screenplay.fountain import plain, without_number
from screenplay.next_draft.scene_texts import texts_by_scene
from screenplay.page import SceneNumber, is_between, number_between, same_number
from screenplay.script import headings_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from screenplay.comparing import Comparison
    from screenplay.model import Heading, Screenplay

__all__ = ["NumberedScene", "SceneNumber", "carry_numbers", "first_numbers", "placed_numbers"]

BACK = 0.5  # of the characters of two scenes, on lines that both have, for the one to be the other


@dataclass(frozen=True, slots=True)
class NumberedScene:
    """A scene by its number: its ordinal in the draft from 1, and its heading as printed.

    One that is OMITTED has no ordinal; its heading and its `text` are those it last had, `text` being "" for others.
    """

    number: str
    ordinal: int | None
    heading: str
    text: str = ""


def placed_numbers(scenes: Sequence[NumberedScene]) -> tuple[SceneNumber, ...]:
    """The numbers alone, in the draft's order: what a page setting takes to print them."""
    return tuple(SceneNumber(scene.number, scene.ordinal) for scene in scenes)


def first_numbers(screenplay: Screenplay) -> tuple[NumberedScene, ...]:
    """The numbers that a script's scenes have when they are locked, in its order; no two are the same.

    A scene has the number in its heading; where two have the same, the first. Any other has its ordinal, so a script
    that numbers no scene is counted from 1; where that is another's or stands out of order, it is lettered as if added.
    """
    headings = headings_of(screenplay)
    given = _given_once(headings)
    taken = {same_number(number) for number in given if number is not None}
    following = _following(given)
    found: list[NumberedScene] = []
    for ordinal, (heading, own) in enumerate(zip(headings, given, strict=True), 1):
        before = found[-1].number if found else None
        number = own or _counted(ordinal, before, following[ordinal - 1], taken)
        taken.add(same_number(number))
        found.append(NumberedScene(number, ordinal, _words(heading)))
    return tuple(found)


def carry_numbers(scenes: Sequence[NumberedScene], comparison: Comparison) -> tuple[NumberedScene, ...]:
    """The numbers of a draft's scenes, from those of the draft before it and what lies between the two.

    `scenes` are the numbers of `comparison.old`, and the result, in the order of `comparison.new`, has every number
    of theirs: none is ever lost, nor given to another scene. The lock wins: numbers in the headings of the new text
    are not asked for. OMITTED scenes keep their order among themselves, each behind what it stood behind.

    A scene is the same one as the comparison pairs them. One OMITTED is back in a scene that has half its text or more,
    by the characters on lines that both have, and more than of the scenes it is paired with. A scene added at the end
    is lettered too.
    """
    if not scenes:
        return first_numbers(comparison.new)
    headings = headings_of(comparison.new)
    old_texts, sources = texts_by_scene(comparison.old), _sources(comparison)
    ordinals = _back(scenes, old_texts, texts_by_scene(comparison.new), sources)
    ordinals |= _kept(scenes, sources, comparison.same_headings, set(ordinals.values()))
    carried = [_carried(scene, ordinals.get(scene.number), headings, old_texts) for scene in scenes]
    moved = {fate.new for fate in comparison.scenes if fate.is_moved}
    return tuple(_with_letters(list(_in_order(carried, moved, len(headings))), headings))


def _words(heading: Heading) -> str:
    return plain(heading.printed).strip()


def _given_once(headings: Sequence[Heading]) -> list[str | None]:
    """The number in each heading, None where it has none or one that a heading before it has."""
    met: set[str] = set()
    given: list[str | None] = []
    for heading in headings:
        number = heading.number
        is_new = number is not None and same_number(number) not in met
        given.append(number if is_new else None)
        if number is not None:
            met.add(same_number(number))
    return given


def _following(given: Sequence[str | None]) -> list[str | None]:
    """For each scene, the first number given behind it."""
    following: list[str | None] = [None] * len(given)
    for at in range(len(given) - 2, -1, -1):
        following[at] = given[at + 1] or following[at + 1]
    return following


def _counted(ordinal: int, before: str | None, after: str | None, taken: set[str]) -> str:
    number = str(ordinal)
    fits = number not in taken and is_between(number, before, after)
    return number if fits else number_between(before, after, taken)


def _sources(comparison: Comparison) -> dict[int, list[int]]:
    """The old scenes that each new one is made of, by ordinal, in the old draft's order."""
    sources: dict[int, list[int]] = defaultdict(list)
    for fate in comparison.scenes:
        if fate.old is not None and fate.new is not None:
            sources[fate.new].append(fate.old)
    return {new: sorted(sources[new]) for new in sorted(sources)}


def _kept(
    scenes: Sequence[NumberedScene],
    sources: Mapping[int, Sequence[int]],
    same_headings: Mapping[int, int],
    held: set[int],
) -> dict[str, int]:
    """The new ordinal of each number whose scene stands on: with its heading; else in the first new scene that it went
    into and that has no number, of those that went in the first. Scenes already `held` have their number."""
    number_of = {scene.ordinal: scene.number for scene in scenes if scene.ordinal is not None}
    kept = {number_of[old]: new for new, old in same_headings.items() if old in number_of and new not in held}
    numbered = {*held, *kept.values()}
    for new in (new for new in sources if new not in numbered):
        numbers = [number_of[old] for old in sources[new] if old in number_of]
        number = next((number for number in numbers if number not in kept), None)
        if number is not None:
            kept[number] = new
    return kept


def _back(
    scenes: Sequence[NumberedScene], old: Sequence[str], new: Sequence[str], sources: Mapping[int, Sequence[int]]
) -> dict[str, int]:
    """The new ordinal of each OMITTED number whose scene is back, in a scene that is less like those it is paired
    with."""
    omitted = [scene for scene in scenes if scene.ordinal is None]
    if not omitted:
        return {}
    lines_of = [_TellingLines.of(scene.text) for scene in omitted]
    by_mark: dict[str, list[int]] = defaultdict(list)
    for at, lines in enumerate(lines_of):
        for mark in lines.marks:
            by_mark[mark].append(at)
    found: list[tuple[float, int, int]] = []
    for ordinal in range(1, len(new)):
        lines = _TellingLines.of(new[ordinal])
        for at in {at for mark in lines.marks for at in by_mark.get(mark, ())}:
            likeness = lines.likeness(lines_of[at])
            others = (lines.likeness(_TellingLines.of(old[other])) for other in sources.get(ordinal, ()))
            if likeness >= BACK and likeness > max(others, default=0.0):
                found.append((-likeness, at, ordinal))
    back: dict[str, int] = {}
    for _, at, ordinal in sorted(found):
        if omitted[at].number not in back and ordinal not in back.values():
            back[omitted[at].number] = ordinal
    return back


@dataclass(frozen=True, slots=True)
class _TellingLines:
    """The lines of a scene, by which it is known again: how often each is there, white space and numbers apart.

    Two scenes are held against each other where they share a mark: the heading, or the longest line under it.
    """

    lines: Counter[str]
    marks: frozenset[str]

    @classmethod
    def of(cls, text: str) -> _TellingLines:
        heading, *rest = [" ".join(line.split()) for line in text.splitlines() if line.strip()] or [""]
        heading = without_number(heading)[0]
        return cls(Counter([heading, *rest]), frozenset([heading, max(rest, key=len, default=heading)]))

    @property
    def characters(self) -> int:
        return _characters(self.lines)

    def likeness(self, other: _TellingLines) -> float:
        """The share, 0 to 1, of both scenes' characters that stand on lines which both have."""
        whole = self.characters + other.characters
        return 2 * _characters(self.lines & other.lines) / whole if whole else 1.0


def _characters(lines: Mapping[str, int]) -> int:
    return sum(len(line) * count for line, count in lines.items())


def _carried(
    scene: NumberedScene, ordinal: int | None, headings: Sequence[Heading], old_texts: Sequence[str]
) -> NumberedScene:
    """A number in the new draft: with its scene there, or OMITTED with the text it last had."""
    if ordinal is not None:
        return NumberedScene(scene.number, ordinal, _words(headings[ordinal - 1]))
    if scene.ordinal is None:
        return scene
    return replace(scene, ordinal=None, text=old_texts[scene.ordinal])


def _in_order(carried: Sequence[NumberedScene], moved: set[int | None], scenes: int) -> Iterator[NumberedScene | int]:
    """The new draft's scenes in order, those without a number as ordinals, each OMITTED behind what it stood behind.

    What an OMITTED scene stood behind is the nearest number before it whose scene did not move.
    """
    unmoved = [scene.ordinal for scene in carried if scene.ordinal and scene.ordinal not in moved]
    staying = {unmoved[at] for at in in_order(unmoved)}
    behind: dict[int, list[NumberedScene]] = defaultdict(list)
    last = 0
    for scene in carried:
        if scene.ordinal is None:
            behind[last].append(scene)
        elif scene.ordinal in staying:
            last = scene.ordinal
    by_ordinal = {scene.ordinal: scene for scene in carried if scene.ordinal}
    yield from behind[0]
    for ordinal in range(1, scenes + 1):
        yield by_ordinal.get(ordinal, ordinal)
        yield from behind[ordinal]


def _with_letters(order: Sequence[NumberedScene | int], headings: Sequence[Heading]) -> Iterator[NumberedScene]:
    """The scenes with a number for each that has none yet."""
    taken = {same_number(scene.number) for scene in order if isinstance(scene, NumberedScene)}
    after: list[str | None] = [None] * len(order)
    for at in range(len(order) - 2, -1, -1):
        behind = order[at + 1]
        after[at] = behind.number if isinstance(behind, NumberedScene) else after[at + 1]
    before: str | None = None
    for at, scene_or_ordinal in enumerate(order):
        scene = scene_or_ordinal
        if isinstance(scene, int):
            number = number_between(before, after[at], taken)
            taken.add(same_number(number))
            scene = NumberedScene(number, scene, _words(headings[scene - 1]))
        before = scene.number
        yield scene
