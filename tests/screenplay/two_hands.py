"""Scripts that two people write on from one, for property tests: every line is there once, and each edit is known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from random import Random

from hypothesis import strategies as st

WORDS = ("rope", "tide", "lamp", "gull", "oar", "fog", "pier", "salt", "rust", "bell", "winch", "hull", "keel", "mast")
SHARE_WITH_SOMETHING_ABOVE = 0.3


@dataclass
class Script:
    """Scenes, each a heading and paragraphs, and paragraphs before the first; `hand` is in each line it writes. With a
    heading goes a section, a synopsis or a note above it, if it has one."""

    hand: str
    rng: Random
    lead: list[str] = field(default_factory=list)
    scenes: list[list[str]] = field(default_factory=list)
    written: int = 0

    def line(self) -> str:
        """A new line, unlike any other."""
        self.written += 1
        words = " ".join(self.rng.choices(WORDS, k=self.rng.randint(3, 8)))
        return f"{words} {self.hand}{self.written}.".capitalize()

    def heading(self) -> str:
        """A new heading, unlike any other."""
        self.written += 1
        return f"INT. {self.rng.choice(WORDS)} {self.hand}{self.written}".upper()

    def above(self) -> str:
        """A new section, synopsis or note, unlike any other."""
        before, after = self.rng.choice([("# ", ""), ("= ", ""), ("[[", "]]")])
        return f"{before}{self.line()}{after}"

    def scene(self) -> list[str]:
        """A new heading with some lines under it."""
        return [self.heading(), *(self.line() for _ in range(self.rng.randint(1, 4)))]

    @property
    def text(self) -> str:
        return "\n\n".join([*self.lead, *(line for scene in self.scenes for line in scene)]) + "\n"

    def copy(self, hand: str) -> Script:
        return Script(hand, self.rng, list(self.lead), [list(scene) for scene in self.scenes])


def _reword(script: Script) -> None:
    scene = script.rng.choice(script.scenes)
    at = script.rng.randrange(1, len(scene))
    scene[at] = f"{scene[at].rpartition(' ')[0]} {script.line()}"


def _rename_scene(script: Script) -> None:
    scene = script.rng.choice(script.scenes)
    scene[0] = "\n\n".join([*scene[0].split("\n\n")[:-1], script.heading()])


def _add_line(script: Script) -> None:
    scene = script.rng.choice(script.scenes)
    scene.insert(script.rng.randint(1, len(scene)), script.line())


def _cut_line(script: Script) -> None:
    scene = script.rng.choice(script.scenes)
    if len(scene) > 2:
        del scene[script.rng.randrange(1, len(scene))]


def _add_scene(script: Script) -> None:
    script.scenes.insert(script.rng.randint(0, len(script.scenes)), script.scene())


def _cut_scene(script: Script) -> None:
    if len(script.scenes) > 1:
        del script.scenes[script.rng.randrange(len(script.scenes))]


def _move_scene(script: Script) -> None:
    scene = script.scenes.pop(script.rng.randrange(len(script.scenes)))
    script.scenes.insert(script.rng.randint(0, len(script.scenes)), scene)


def _move_line(script: Script) -> None:
    scene = script.rng.choice(script.scenes)
    if len(scene) > 2:
        line = scene.pop(script.rng.randrange(1, len(scene)))
        into = script.rng.choice(script.scenes)
        into.insert(script.rng.randint(1, len(into)), line)


def _part_scene(script: Script) -> None:
    at = script.rng.randrange(len(script.scenes))
    scene = script.scenes[at]
    if len(scene) > 2:
        place = script.rng.randrange(2, len(scene))
        script.scenes[at : at + 1] = [scene[:place], [script.heading(), *scene[place:]]]


def _change_lead(script: Script) -> None:
    script.lead.append(script.line())


def _join_scenes(script: Script) -> None:
    at = script.rng.randrange(len(script.scenes))
    if at:
        script.scenes[at - 1 : at + 1] = [[*script.scenes[at - 1], *script.scenes[at][1:]]]


def _put_above(script: Script) -> None:
    """A section, synopsis or note above a scene, in the place of the one that it has."""
    scene = script.rng.choice(script.scenes)
    scene[0] = "\n\n".join([script.above(), scene[0].split("\n\n")[-1]])


def _cut_above(script: Script) -> None:
    scene = script.rng.choice(script.scenes)
    scene[0] = scene[0].split("\n\n")[-1]


def _put_in_boneyard(script: Script) -> None:
    scene = script.rng.choice(script.scenes)
    scene[0], scene[-1] = f"/*\n{scene[0]}", f"{scene[-1]}\n*/"


Edit = Callable[[Script], None]
IN_PLACE: tuple[Edit, ...] = (_reword, _reword, _add_line, _cut_line, _add_scene, _cut_scene, _change_lead)
MOVES: tuple[Edit, ...] = (_move_scene,)
MOVES_OF_LINES: tuple[Edit, ...] = (_move_line,)
ABOVE: tuple[Edit, ...] = (_put_above, _put_above, _cut_above)
BONEYARDS: tuple[Edit, ...] = (_put_in_boneyard,)
NEW_BOUNDS: tuple[Edit, ...] = (_rename_scene, _part_scene, _join_scenes)


@st.composite
def from_one_text(
    draw: st.DrawFn, edits: tuple[Edit, ...] = IN_PLACE + ABOVE + MOVES + NEW_BOUNDS
) -> tuple[str, str, str]:
    """A script, and what two made of it by some such edits each."""
    rng = Random(draw(st.integers(0, 2**32)))
    base = Script("b", rng)
    base.lead = [base.line() for _ in range(rng.randint(0, 1))]
    base.scenes = [base.scene() for _ in range(draw(st.integers(1, 6)))]
    _give_some_above(base)
    sides = []
    for hand in ("o", "t"):
        side = base.copy(hand)
        for edit in draw(st.lists(st.sampled_from(edits), max_size=5)):
            edit(side)
        sides.append(side.text)
    return base.text, sides[0], sides[1]


@st.composite
def in_scenes_of_their_own(draw: st.DrawFn) -> tuple[str, str, str, str]:
    """A script, what two made of it, who each changed scenes that the other did not, and what both come to. One of them
    moved a scene too."""
    rng = Random(draw(st.integers(0, 2**32)))
    base = Script("b", rng)
    base.scenes = [base.scene() for _ in range(draw(st.integers(2, 6)))]
    _give_some_above(base)
    ours, theirs, both = (base.copy(hand) for hand in ("o", "t", "both"))
    for at in range(len(base.scenes)):
        side = draw(st.sampled_from([None, ours, theirs]))
        if side is not None:
            one = Script(f"{side.hand}{at}", rng, scenes=[list(base.scenes[at])])
            draw(st.sampled_from([_reword, _add_line, _put_above]))(one)
            side.scenes[at] = both.scenes[at] = one.scenes[0]
    at, place = rng.randrange(len(base.scenes)), rng.randrange(len(base.scenes))
    for side in (ours, both):
        side.scenes.insert(place, side.scenes.pop(at))
    return base.text, ours.text, theirs.text, both.text


@st.composite
def a_paragraph_cut_and_moved(draw: st.DrawFn) -> tuple[str, str, str, str]:
    """A scene, the same without one of its paragraphs, and with that in another place; and the paragraph."""
    base = Script("b", Random(draw(st.integers(0, 2**32))))
    base.scenes = [[base.heading(), *(base.line() for _ in range(draw(st.integers(2, 8))))]]
    without, moved = base.copy("o"), base.copy("t")
    count = len(base.scenes[0])
    at, place = draw(st.lists(st.integers(1, count - 1), min_size=2, max_size=2, unique=True))
    paragraph = without.scenes[0].pop(at)
    moved.scenes[0].insert(place, moved.scenes[0].pop(at))
    return base.text, without.text, moved.text, paragraph


@st.composite
def each_without_some_paragraphs(draw: st.DrawFn) -> tuple[str, str, str]:
    """A scene, and the same without some of its paragraphs, as each of two left it."""
    base = Script("b", Random(draw(st.integers(0, 2**32))))
    base.scenes = [[base.heading(), *(base.line() for _ in range(draw(st.integers(1, 8))))]]
    sides = []
    for hand in ("o", "t"):
        side = base.copy(hand)
        heading, *paragraphs = side.scenes[0]
        side.scenes = [[heading, *(paragraph for paragraph in paragraphs if draw(st.booleans()))]]
        sides.append(side.text)
    return base.text, sides[0], sides[1]


@st.composite
def each_with_a_boneyard(draw: st.DrawFn) -> tuple[str, str, str]:
    """A script, and the same with paragraphs in a row, in a scene or over several, that each of two put into a
    boneyard."""
    rng = Random(draw(st.integers(0, 2**32)))
    base = Script("b", rng)
    base.scenes = [base.scene() for _ in range(draw(st.integers(1, 5)))]
    _give_some_above(base)
    return base.text, _with_a_boneyard(draw, base), _with_a_boneyard(draw, base)


def _with_a_boneyard(draw: st.DrawFn, script: Script) -> str:
    paragraphs = script.text.rstrip().split("\n\n")
    first, last = sorted(draw(st.tuples(*[st.integers(0, len(paragraphs) - 1)] * 2)))
    apart = draw(st.sampled_from(["\n", "\n\n"]))
    paragraphs[first] = f"/*{apart}{paragraphs[first]}"
    paragraphs[last] = f"{paragraphs[last]}{apart}*/"
    return "\n\n".join(paragraphs) + "\n"


def _give_some_above(script: Script) -> None:
    for scene in script.scenes:
        if script.rng.random() < SHARE_WITH_SOMETHING_ABOVE:
            scene[0] = f"{script.above()}\n\n{scene[0]}"
