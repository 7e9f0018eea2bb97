"""A draft as it is compared: its lines that are not blank, each with what tells it from others."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from screenplay.model import Kind, Speech

if TYPE_CHECKING:
    from screenplay.model import Screenplay

FREE = -1
_SPACES = re.compile(r"\s\s|[^\S ]")
SPEECH = frozenset({Kind.DIALOGUE, Kind.PARENTHETICAL, Kind.LYRIC})


class Side:
    """The lines of one draft that are not blank, as parallel lists; positions in them count from 0.

    `numbers` are source lines. `texts` have single spaces and none around; names may come to be written alike in them,
    while `written` keeps them as the draft has them. `bound` says that a line follows the one before it within one
    speech or paragraph, `speakers` has the name that heads a line's speech or "". `partner` is the position in the
    other draft that a line is placed on, or FREE.
    """

    def __init__(self, script: Screenplay) -> None:
        self.numbers: list[int] = []
        self.texts: list[str] = []
        self.kinds: list[Kind] = []
        self.scenes: list[int] = []
        self.bound: list[bool] = []
        self.speakers: list[str] = []
        self._read(script)
        self.written = list(self.texts)
        self.is_cue = [kind is Kind.CHARACTER for kind in self.kinds]
        self.is_heading = [kind is Kind.SCENE_HEADING for kind in self.kinds]
        self.partner = [FREE] * len(self.texts)

    def __len__(self) -> int:
        return len(self.texts)

    def _read(self, script: Screenplay) -> None:
        speeches = {element.first_line: element for element in script.elements if isinstance(element, Speech)}
        speaker, last_of_speech = "", 0
        before, heading_before = -1, False
        for number, (line, kind, scene) in enumerate(zip(script.source, script.kinds, script.scene_of, strict=True), 1):
            text = line.strip()
            if not text:
                continue
            if kind is Kind.CHARACTER and number in speeches:
                speaker, last_of_speech = speeches[number].name, speeches[number].last_line
            heading = kind is Kind.SCENE_HEADING
            self.numbers.append(number)
            self.texts.append(" ".join(text.split()) if _SPACES.search(text) else text)
            self.kinds.append(kind)
            self.scenes.append(scene)
            self.speakers.append(speaker if number <= last_of_speech else "")
            self.bound.append(number == before + 1 and not heading and not heading_before)
            before, heading_before = number, heading
