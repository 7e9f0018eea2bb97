"""Edits several lines of a scene at once, as a writer does, and knows where the words of each line of it went."""

from __future__ import annotations

import random
import re
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from screenplay.model import Kind

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from screenplay.model import Screenplay

SENTENCE = re.compile(r".+?[.!?]+[\"']?(?:\s+|$)|.+$")
FEWEST_WORDS = 4  # of a line that is halved
ADDED = (
    "Nobody said anything about lanterns.",
    "I would rather count the buttons again.",
    "Bring the blue crate up first, then the rope.",
    "It was never the weather.",
    "Ask the woman with the geese.",
    "They painted over it in spring.",
)
Block = list[tuple[str, int]]  # texts, each with the line before that its words are of, or 0


@dataclass(frozen=True)
class EditedScene:
    """A text one scene of which was edited. `after` has the new lines of each line of the scene that is neither heading
    nor cue, `kinds` what was done to the edited ones. Lines count from 1."""

    new: str
    after: Mapping[int, frozenset[int]]
    kinds: Mapping[int, str]


@dataclass(frozen=True)
class Part:
    """A speech of one line, under its cue, or a paragraph of action of one line."""

    cue: tuple[str, int] | None
    text: str
    line: int

    def with_words(self, *texts: str) -> Block:
        return [*([self.cue] if self.cue else []), *((text, self.line) for text in texts)]

    @property
    def name(self) -> str:
        return self.cue[0].split("(")[0].strip() if self.cue else ""

    @cached_property
    def sentences(self) -> list[str]:
        return [sentence.strip() for sentence in SENTENCE.findall(self.text)]

    def half(self, *, last: bool) -> str:
        words = self.text.split()
        return " ".join(words[len(words) // 2 :] if last else words[: len(words) // 2])


class SceneEditor:
    """Draws scenes of a script, and what to do to lines of theirs."""

    def __init__(self, script: Screenplay, seed: int) -> None:
        self.script = script
        self.rng = random.Random(seed)
        self.lines = [line.rstrip("\n") for line in script.source]

    def edited(self, count: int) -> EditedScene:
        """So many edits of any kinds, each to another part of one scene that has more parts than these."""
        blocks: list[list[int]] = []
        parts: dict[int, Part] = {}
        while len(parts) <= count:
            blocks = self._blocks(self.rng.randint(1, max(self.script.scene_of)))
            parts = {at: part for at, block in enumerate(blocks) if (part := self._part(block)) is not None}
        self.names = sorted({part.name for part in parts.values() if part.cue})
        kinds: dict[int, str] = {}
        changed: dict[int, list[Block]] = {}
        for at in self.rng.sample(sorted(parts), count):
            part = parts[at]
            kinds[part.line] = self.rng.choice([kind for kind, (fits, _) in KINDS.items() if fits(part)])
            changed[at] = KINDS[kinds[part.line]][1](part, self)
        whole = [[(self.lines[line - 1], line) for line in block] for block in blocks]
        return self._written_out(blocks, [new for at, old in enumerate(whole) for new in changed.get(at, [old])], kinds)

    def _written_out(self, before: list[list[int]], after: list[Block], kinds: Mapping[int, str]) -> EditedScene:
        written = self.lines[: before[0][0] - 1]
        places: dict[int, set[int]] = {line: set() for block in before for line in block if self._is_noted(line)}
        for block in after:
            for text, line in block:
                written.append(text)
                if line in places:
                    places[line].add(len(written))
            written.append("")
        rest = "\n".join(self.lines[before[-1][-1] :]).lstrip("\n")
        return EditedScene("\n".join([*written, rest]), {line: frozenset(on) for line, on in places.items()}, kinds)

    def _is_noted(self, line: int) -> bool:
        return self.script.kinds[line - 1] not in {Kind.CHARACTER, Kind.SCENE_HEADING}

    def _blocks(self, scene: int) -> list[list[int]]:
        """The lines of a scene, heading and all, in stretches between blank ones."""
        blocks: list[list[int]] = [[]]
        for line, (ordinal, text) in enumerate(zip(self.script.scene_of, self.lines, strict=True), 1):
            if ordinal == scene and text.strip():
                blocks[-1].append(line)
            elif blocks[-1]:
                blocks.append([])
        return [block for block in blocks if block]

    def _part(self, block: list[int]) -> Part | None:
        kinds = [self.script.kinds[line - 1] for line in block]
        if kinds == [Kind.ACTION]:
            return Part(None, self.lines[block[0] - 1], block[0])
        if kinds == [Kind.CHARACTER, Kind.DIALOGUE] and "^" not in self.lines[block[0] - 1]:
            return Part((self.lines[block[0] - 1], block[0]), self.lines[block[1] - 1], block[1])
        return None

    def added(self, count: int = 1) -> str:
        return " ".join(self.rng.sample(ADDED, count))

    def anybody(self) -> tuple[str, int]:
        return self.rng.choice(self.names or ["NOBODY"]), 0


def _is_long(part: Part) -> bool:
    return len(part.text.split()) >= FEWEST_WORDS


def _has_sentences(part: Part) -> bool:
    return len(part.sentences) > 1


def _is_speech(part: Part) -> bool:
    return part.cue is not None


def _is_speech_of_sentences(part: Part) -> bool:
    return _is_speech(part) and _has_sentences(part)


def _is_action(part: Part) -> bool:
    return part.cue is None


def _made_several(part: Part, _: SceneEditor) -> list[Block]:
    return [part.with_words(*part.sentences)] if part.cue else [[(text, part.line)] for text in part.sentences]


def _parted(part: Part, *between: Block, cue: tuple[str, int]) -> list[Block]:
    return [part.with_words(part.sentences[0]), *between, [cue, (" ".join(part.sentences[1:]), part.line)]]


Change = tuple["Callable[[Part], bool]", "Callable[[Part, SceneEditor], list[Block]]"]
KINDS: dict[str, Change] = {
    "cut": (lambda _: True, lambda _, __: []),
    "trimmed to its first sentence": (_has_sentences, lambda part, _: [part.with_words(part.sentences[0])]),
    "trimmed to its last sentence": (_has_sentences, lambda part, _: [part.with_words(part.sentences[-1])]),
    "trimmed to its first half": (_is_long, lambda part, _: [part.with_words(part.half(last=False))]),
    "trimmed to its last half": (_is_long, lambda part, _: [part.with_words(part.half(last=True))]),
    "added to": (lambda _: True, lambda part, editor: [part.with_words(f"{part.text} {editor.added(3)}")]),
    "added before": (lambda _: True, lambda part, editor: [part.with_words(f"{editor.added(3)} {part.text}")]),
    "made several": (_has_sentences, _made_several),
    "written anew": (_is_speech, lambda part, editor: [part.with_words(editor.added())]),
    "given to another": (_is_speech, lambda part, editor: [[editor.anybody(), (part.text, part.line)]]),
    "made action": (_is_speech, lambda part, _: [[(part.text, part.line)]]),
    "made a speech": (_is_action, lambda part, editor: [[editor.anybody(), (part.text, part.line)]]),
    "followed by a new speech": (
        _is_speech,
        lambda part, editor: [part.with_words(part.text), [editor.anybody(), (editor.added(), 0)]],
    ),
    "broken by an action": (
        _is_speech_of_sentences,
        lambda part, _: _parted(part, [("A long pause.", 0)], cue=(f"{part.name} (CONT'D)", 0)),
    ),
    "shared out": (_is_speech_of_sentences, lambda part, editor: _parted(part, cue=editor.anybody())),
}
