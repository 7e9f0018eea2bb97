"""Revises a play written as Fountain the way a rewrite does, and knows for each line where it went.

It reads no more of the standard than it needs: blocks apart by blank lines, a block that opens with INT., EXT. or a
dot is a heading, a block of two lines or more that opens in upper case is a speech. It shares no code with what it
measures.
"""

from __future__ import annotations

import random
import re
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

CUT, ADDED, REWORDED, JOINED = 0.03, 0.03, 0.08, 0.02
SCENES_MOVED, SCENES_CUT, SPEECHES_MOVED = 2, 1, 4
HEADINGS_CHANGED = 0.2
MIN_SPEECHES_TO_RENAME = 10
NEW_NAMES = ("OSWIN", "TAMSIN", "BERTRAND", "MARLOCK", "ISOLDE", "WENNA")
OTHER_TIMES = ("NIGHT", "DAWN", "LATER", "THE NEXT MORNING", "DUSK")

HEADING = re.compile(r"INT\.|EXT\.|\.[A-Z]")
WORD = re.compile(r"[A-Za-z']+")


@dataclass(frozen=True)
class Revision:
    """Two drafts and the truth between them.

    `truth` has an entry for every old line that is not blank: the new lines it is on, empty if it was cut. Lines count
    from 1. `added` are the new lines that came from nowhere. `replaced` are the old lines that were cut where, of the
    same speech, one line alone was added: nobody can tell these from lines that were written anew. `renamed` is the
    name before and after.
    """

    old: str
    new: str
    truth: dict[int, tuple[int, ...]]
    added: tuple[int, ...]
    replaced: frozenset[int]
    renamed: tuple[str, str]


@dataclass
class _Line:
    text: str
    origins: tuple[int, ...]


@dataclass
class _Block:
    lines: list[_Line]

    @property
    def is_heading(self) -> bool:
        return bool(HEADING.match(self.lines[0].text))

    @property
    def is_fixed(self) -> bool:
        return self.is_heading or self.lines[0].text.startswith("# ") or self.lines[0].text.startswith("Title:")

    @property
    def is_speech(self) -> bool:
        first = self.lines[0].text
        return len(self.lines) > 1 and first == first.upper() and not self.is_fixed

    def own_lines(self) -> list[_Line]:
        """What can be cut, joined and reworded on its own: not a cue, not a heading, nor title or section."""
        if self.is_fixed:
            return []
        return self.lines[1:] if self.is_speech else self.lines


@dataclass
class _Scene:
    blocks: list[_Block] = field(default_factory=list)


def revise_play(text: str, seed: int, *, rate: float = 1.0, other: str = "") -> Revision:
    """Revise a play; `rate` multiplies every proportion and count. Lines of `other` are among those added."""
    rewriter = _Rewriter(text, random.Random(seed), rate, other)
    return rewriter.revise()


class _Rewriter:
    def __init__(self, text: str, rng: random.Random, rate: float, other: str) -> None:
        self.text = text
        self.rng = rng
        self.rate = rate
        self.scenes = list(_scenes(text))
        self.vocabulary = WORD.findall(text)
        self.foreign = [line for line in other.splitlines() if len(line.split()) > 2 and line != line.upper()]

    def revise(self) -> Revision:
        self._cut_and_move_scenes()
        self._move_speeches()
        for scene in self.scenes[:]:
            scene.blocks = [block for block in map(self._revise_block, scene.blocks) if block.lines]
            self._add_blocks(scene)
        self._change_headings()
        renamed = self._rename_a_character()
        return self._written_out(renamed)

    def _times(self, count: int) -> int:
        return round(count * self.rate)

    def _cut_and_move_scenes(self) -> None:
        movable = self.scenes[1:] if not self.scenes[0].blocks[0].is_heading else self.scenes[:]
        chosen = self.rng.sample(movable, min(len(movable) - 1, self._times(SCENES_CUT) + self._times(SCENES_MOVED)))
        for scene in chosen:
            self.scenes.remove(scene)
        for scene in chosen[self._times(SCENES_CUT) :]:
            self.scenes.insert(self.rng.randrange(1, len(self.scenes) + 1), scene)

    def _move_speeches(self) -> None:
        speeches = [(scene, block) for scene in self.scenes for block in scene.blocks if block.is_speech]
        for scene, block in self.rng.sample(speeches, self._times(SPEECHES_MOVED)):
            scene.blocks.remove(block)
            target = self.rng.choice(self.scenes)
            target.blocks.insert(self.rng.randrange(1, len(target.blocks) + 1), block)

    def _revise_block(self, block: _Block) -> _Block:
        if block.is_fixed:
            return block
        head = block.lines[:1] if block.is_speech else []
        kept = [line for line in block.own_lines() if self.rng.random() >= CUT * self.rate]
        joined = list(self._joined(kept))
        body: list[_Line] = []
        for line in joined:
            if self.rng.random() < REWORDED * self.rate:
                line = _Line(self._reworded(line.text), line.origins)  # noqa: PLW2901 - the line as it now stands
            body.append(line)
            if block.is_speech and self.rng.random() < ADDED * self.rate * 0.8:
                body.insert(self.rng.randrange(len(body) + 1), _Line(self._new_line(), ()))
        return _Block(head + body if body else [])

    def _joined(self, lines: Sequence[_Line]) -> Iterator[_Line]:
        held: _Line | None = None
        for line in lines:
            if held is not None:
                yield _Line(f"{held.text} {line.text}", held.origins + line.origins)
                held = None
            elif self.rng.random() < JOINED * self.rate and line is not lines[-1]:
                held = line
            else:
                yield line

    def _add_blocks(self, scene: _Scene) -> None:
        """A fifth of what is added comes as speeches and actions of its own."""
        lines = sum(len(block.lines) for block in scene.blocks)
        cues = [block.lines[0].text for block in scene.blocks if block.is_speech]
        wanted = lines * ADDED * self.rate * 0.2
        while wanted > self.rng.random():
            block = _Block([_Line(self._new_line(), ())])
            if cues and self.rng.random() < 0.7:
                block.lines.insert(0, _Line(self.rng.choice(cues), ()))
            scene.blocks.insert(self.rng.randrange(1, len(scene.blocks) + 1), block)
            wanted -= len(block.lines)

    def _new_line(self) -> str:
        if self.foreign and self.rng.random() < 0.6:
            return self.rng.choice(self.foreign)
        words = [self.rng.choice(self.vocabulary).lower() for _ in range(self.rng.randint(2, 10))]
        return " ".join(words).capitalize() + self.rng.choice(".?!,")

    def _reworded(self, text: str) -> str:
        """Change up to two thirds of the words, at least one: by another word, by none, or by one more."""
        words = text.split()
        count = max(1, round(len(words) * self.rng.uniform(0.1, 0.67)))
        changed = list(words)
        for at in sorted(self.rng.sample(range(len(words)), min(count, len(words))), reverse=True):
            way = self.rng.random()
            other = self.rng.choice(self.vocabulary).lower()
            if way < 0.7 or len(changed) == 1:
                changed[at] = other
            elif way < 0.85:
                del changed[at]
            else:
                changed.insert(at, other)
        return " ".join(changed) if changed != words else f"{text} {self.rng.choice(self.vocabulary).lower()}"

    def _change_headings(self) -> None:
        for scene in self.scenes:
            heading = scene.blocks[0]
            if heading.is_heading and self.rng.random() < HEADINGS_CHANGED * self.rate:
                line = heading.lines[0]
                place, number = re.fullmatch(r"(.*?)( #[\w.-]+#)?", line.text).groups(default="")  # type: ignore[union-attr]
                line.text = f"{place.rsplit(' - ', 1)[0]} - {self.rng.choice(OTHER_TIMES)}{number}"

    def _rename_a_character(self) -> tuple[str, str]:
        speeches: dict[str, int] = {}
        for scene in self.scenes:
            for block in scene.blocks:
                if block.is_speech:
                    speeches[block.lines[0].text] = speeches.get(block.lines[0].text, 0) + 1
        often = [name for name, count in speeches.items() if count >= MIN_SPEECHES_TO_RENAME]
        before, after = self.rng.choice(often), self.rng.choice(NEW_NAMES)
        for scene in self.scenes:
            for block in scene.blocks:
                for line in block.lines:
                    line.text = _renamed(line.text, before, after)
        return before, after

    def _written_out(self, renamed: tuple[str, str]) -> Revision:
        truth: dict[int, tuple[int, ...]] = {
            number: () for number, line in enumerate(self.text.splitlines(), 1) if line.strip()
        }
        written: list[str] = []
        added = []
        for block in (block for scene in self.scenes for block in scene.blocks):
            if written:
                written.append("")
            for line in block.lines:
                written.append(line.text)
                for origin in line.origins:
                    truth[origin] = (len(written),)
                if not line.origins:
                    added.append(len(written))
        return Revision(self.text, "\n".join(written) + "\n", truth, tuple(added), frozenset(self._replaced()), renamed)

    def _replaced(self) -> Iterator[int]:
        """Behind a line that stayed and before the next that stayed, or the end of the speech, in both drafts."""
        ends = {number + 1 for number, line in enumerate(self.text.splitlines()) if not line.strip()}
        for block in (block for scene in self.scenes for block in scene.blocks if block.is_speech):
            around = pairwise([*block.lines[1:], None])
            for before, (line, after) in zip(block.lines, around, strict=False):
                if line is None or line.origins or not before.origins:
                    continue
                cut = before.origins[-1] + 1
                behind = cut + 1 if after is None else min(after.origins, default=0)
                if behind == cut + 1 and cut not in ends and (after is not None or behind in ends):
                    yield cut


def _renamed(text: str, before: str, after: str) -> str:
    text = re.sub(rf"\b{re.escape(before)}\b", after, text)
    return re.sub(rf"\b{re.escape(before.title())}\b", after.title(), text)


def _scenes(text: str) -> Iterator[_Scene]:
    scene = _Scene()
    for block in _blocks(text):
        if block.is_heading and scene.blocks:
            yield scene
            scene = _Scene()
        scene.blocks.append(block)
    yield scene


def _blocks(text: str) -> Iterator[_Block]:
    lines: list[_Line] = []
    for number, line in enumerate(text.splitlines(), 1):
        if line.strip():
            lines.append(_Line(line, (number,)))
        elif lines:
            yield _Block(lines)
            lines = []
    if lines:
        yield _Block(lines)
