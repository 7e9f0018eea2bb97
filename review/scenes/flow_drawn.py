"""Drafts as a flow of scenes: a column for each draft, a block for each of its scenes, as high as it is long, and from
draft to draft a band from what a scene was to what it is."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from review.drafts.scripts import compare_drafts, laid_out
from review.pictures.shapes import Band, Bar, DrawnMark, Picture, Stroke, Tone, WrittenWords, cut
from screenplay.comparing import SceneFateKind
from screenplay.page import in_pages

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from review.drafts.models import Draft
    from screenplay.comparing import SceneFate
    from screenplay.script import Scene

MOST_DRAFTS = 5
COLUMN, BETWEEN, HEAD, FOOT = 130, 100, 24, 40
TALL, LEAST, GAP = 420, 5, 2  # how high the longest draft is about, a block at least, and between two
ROOM_FOR_WORDS, LETTERS = 11, 20  # how high a block is that has its name on it, and how much of it
SIGNS: dict[str, str] = {
    SceneFateKind.KEPT: "kept",
    SceneFateKind.REWORDED: "kept, with changes",
    SceneFateKind.RENAMED: "kept under another heading",
    SceneFateKind.MOVED: "moved",
    SceneFateKind.SPLIT: "split",
    SceneFateKind.MERGED: "merged",
    SceneFateKind.CUT: "cut",
    SceneFateKind.ADDED: "added",
}


@dataclass(frozen=True, slots=True)
class SceneStep:
    """What became of a scene from one draft to the next: the scene in either, None where it has none, and in words."""

    before: Scene | None
    after: Scene | None
    became: str


@dataclass(frozen=True, slots=True)
class DraftStep:
    """Two drafts that follow each other, and what became of every scene."""

    old: Draft
    new: Draft
    scenes: tuple[SceneStep, ...]

    @property
    def counts(self) -> str:
        """How many scenes were kept, moved and so on, in words."""
        met = [step.became for step in self.scenes]
        return ", ".join(f"{met.count(became)} {became}" for became in SIGNS.values() if became in met)


@dataclass(frozen=True, slots=True)
class FlowDrawn:
    """The picture, and the same step by step; and how many earlier drafts it leaves out for room."""

    picture: Picture
    steps: tuple[DraftStep, ...]
    left_out: int


@dataclass(frozen=True, slots=True)
class _SceneBox:
    """A scene in its column: where its box stands."""

    scene: Scene
    x: float
    y: float
    height: float


def draw_flow(drafts: Sequence[Draft], address_of: Callable[[Draft], str]) -> FlowDrawn | None:
    """The last MOST_DRAFTS of some drafts, in their order; None of fewer than two that have scenes. `address_of` gives
    where a draft's pages are."""
    shown = [draft for draft in drafts if laid_out(draft).scenes]
    if len(shown) < 2:
        return None
    left_out = max(len(shown) - MOST_DRAFTS, 0)
    shown = shown[left_out:]
    columns = _columns(shown)
    fates = [compare_drafts(old, new).scenes for old, new in pairwise(shown)]
    marks: list[DrawnMark] = []
    for at, (old, new) in enumerate(pairwise(shown)):
        marks += _bands(columns[at], columns[at + 1], fates[at], (old, new), address_of(new))
    for at, draft in enumerate(shown):
        came = {one.new for one in fates[at - 1] if one.fate is SceneFateKind.ADDED} if at else set()
        went = {one.old for one in fates[at] if one.fate is SceneFateKind.CUT} if at < len(fates) else set()
        marks.append(DrawnMark((WrittenWords(columns[at][1].x, HEAD - 10, f"Draft {draft.number}", 12),)))
        for ordinal, block in columns[at].items():
            marks.append(_block(block, draft, ordinal in came, ordinal in went, address_of(draft)))
    bottom = max(block.y + block.height for column in columns for block in column.values())
    width = len(shown) * COLUMN + (len(shown) - 1) * BETWEEN
    picture = Picture(
        name="flow",
        label=f"The scenes of drafts {shown[0].number} to {shown[-1].number}, and what became of each",
        width=max(width, 480),
        height=round(bottom) + FOOT,
        marks=[*marks, *_key(round(bottom) + FOOT - 8)],
    )
    steps = tuple(_step(old, new, told) for (old, new), told in zip(pairwise(shown), fates, strict=True))
    return FlowDrawn(picture, steps, left_out)


def _columns(drafts: Sequence[Draft]) -> list[dict[int, _SceneBox]]:
    """The blocks of each draft, by the scene's ordinal: an eighth is as high in each of them."""
    scenes = [laid_out(draft).scenes for draft in drafts]
    unit = TALL / max(sum(scene.eighths for scene in these) for these in scenes)
    found: list[dict[int, _SceneBox]] = []
    for at, these in enumerate(scenes):
        x, y = at * (COLUMN + BETWEEN), float(HEAD)
        blocks: dict[int, _SceneBox] = {}
        for scene in these:
            height = max(unit * scene.eighths, LEAST)
            blocks[scene.ordinal] = _SceneBox(scene, x, y, height)
            y += height + GAP
        found.append(blocks)
    return found


def _block(block: _SceneBox, draft: Draft, is_added: bool, is_cut: bool, script: str) -> DrawnMark:
    """Dark where it is new, struck through where it is cut from the next draft."""
    scene = block.scene
    paper, ink = (Tone.STRONG, Tone.PAPER) if is_added else (Tone.PAPER if is_cut else Tone.FAINT, Tone.INK)
    shapes: list[Bar | WrittenWords | Stroke] = [Bar(block.x, block.y, COLUMN, block.height, paper, Tone.INK)]
    if block.height >= ROOM_FOR_WORDS:
        words = cut(f"{_number(scene)}. {scene.place}", LETTERS)
        shapes.append(WrittenWords(block.x + 4, block.y + min(block.height, 16) / 2 + 3.5, words, 9.5, ink))
    if is_cut:
        ends = ((block.x, block.y + block.height), (block.x + COLUMN, block.y))
        shapes.append(Stroke(ends, ink, 1.5))
    fate = "".join([", added" if is_added else "", ", cut from the next" if is_cut else ""])
    says = f"Draft {draft.number}, scene {_number(scene)}, {scene.place}: {in_pages(scene.eighths)}{fate}"
    return DrawnMark(tuple(shapes), says, f"{script}#L{scene.first_line}")


def _bands(
    old: dict[int, _SceneBox],
    new: dict[int, _SceneBox],
    fates: Sequence[SceneFate],
    drafts: tuple[Draft, Draft],
    script: str,
) -> Iterator[DrawnMark]:
    """From what each scene was to what it is; a scene that was split has a part of its edge for each of what came of
    it, and so have merged ones on the other side. What moved lies over what stayed."""
    pairs = [(one.old, one.new, one.fate) for one in fates if one.old is not None and one.new is not None]
    came_of: dict[int, list[int]] = defaultdict(list)
    went_in: dict[int, list[int]] = defaultdict(list)
    for before, after, _ in pairs:
        came_of[before].append(after)
        went_in[after].append(before)
    for before, after, fate in sorted(pairs, key=lambda pair: (_strength(pair[2]), pair[1])):
        top, bottom = _part(old[before], [new[each] for each in sorted(came_of[before])], new[after])
        there, below = _part(new[after], [old[each] for each in sorted(went_in[after])], old[before])
        left, right = old[before].x + COLUMN, new[after].x
        tone, edge = _BANDS[_strength(fate)]
        yield DrawnMark(
            (Band(((left, top), (right, there), (right, below), (left, bottom)), tone, edge),),
            f"Scene {_number(old[before].scene)} of draft {drafts[0].number} is scene {_number(new[after].scene)} of "
            f"draft {drafts[1].number}: {SIGNS[fate]}",
            f"{script}#L{new[after].scene.first_line}",
        )


_BANDS = ((Tone.FAINT, None), (Tone.PAPER, Tone.STRONG), (Tone.MIDDLE, Tone.INK))


def _strength(fate: SceneFateKind) -> int:
    if fate is SceneFateKind.MOVED:
        return 2
    return 1 if fate in {SceneFateKind.SPLIT, SceneFateKind.MERGED} else 0


def _part(block: _SceneBox, others: Sequence[_SceneBox], other: _SceneBox) -> tuple[float, float]:
    """From where to where of a block's edge the band of one of others goes: by their lengths, in their order."""
    whole = sum(each.height for each in others)
    above = sum(each.height for each in others[: others.index(other)])
    top = block.y + block.height * above / whole
    return round(top, 2), round(top + block.height * other.height / whole, 2)


def _key(y: float) -> Iterator[DrawnMark]:
    """What the tones mean, as a part of the picture, so that it is there on paper too."""
    box = 14
    told: list[tuple[str, Tone, Tone | None]] = [
        ("kept", *_BANDS[0]),
        ("moved", *_BANDS[2]),
        ("split, merged", *_BANDS[1]),
        ("added", Tone.STRONG, Tone.INK),
        ("cut", Tone.PAPER, Tone.INK),
    ]
    x = 0.0
    for words, tone, edge in told:
        shapes: list[Bar | WrittenWords | Stroke] = [Bar(x, y - 10, box, 11, tone, edge)]
        if words == "cut":
            shapes.append(Stroke(((x, y + 1), (x + box, y - 10)), Tone.INK, 1.5))
        yield DrawnMark((*shapes, WrittenWords(x + box + 5, y, words, 10, Tone.SOFT)))
        x += box + 5 + 6 * len(words) + 22


def _step(old: Draft, new: Draft, fates: Sequence[SceneFate]) -> DraftStep:
    before, after = ({scene.ordinal: scene for scene in laid_out(draft).scenes} for draft in (old, new))
    steps = [SceneStep(before.get(one.old or 0), after.get(one.new or 0), SIGNS[one.fate]) for one in fates]
    return DraftStep(old, new, tuple(steps))


def _number(scene: Scene) -> str:
    return scene.number or str(scene.ordinal)
