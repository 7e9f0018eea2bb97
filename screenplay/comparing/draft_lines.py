"""A draft as it is compared: its lines that are not blank, each with what tells it from others."""

from __future__ import annotations

from functools import cached_property
from itertools import accumulate
from typing import TYPE_CHECKING

from screenplay.model import Kind, Speech
from screenplay.what_prints import PRINTS_NOTHING, as_printed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.model import Screenplay
    from screenplay.what_prints import AsPrinted

FREE = -1
_CUE, _HEADING = Kind.CHARACTER, Kind.SCENE_HEADING
SPEECH = frozenset({Kind.DIALOGUE, Kind.PARENTHETICAL, Kind.LYRIC})


class DraftLines:
    """The lines of one draft that are not blank, as parallel lists; positions in them count from 0.

    `numbers` are source lines. `texts` have single spaces and none around; names may come to be written alike in them,
    while `written` keeps them as the draft has them. `keys` are numbers, one for each text, that two drafts which are
    compared have in common (`two_drafts`). What is in the boneyard is in no scene. `bound` says that a line
    follows the one before it within one speech or paragraph, `speakers` has the name that heads a line's speech or "".
    `partner` is the position in the other draft that a line is placed on, or FREE; `headings` are the positions of
    those that are one.
    """

    def __init__(self, script: Screenplay) -> None:
        self._script = script
        stripped = [line.strip() for line in script.source]
        at = [position for position, text in enumerate(stripped) if text]
        self.numbers = [position + 1 for position in at]
        written = [stripped[position] for position in at]
        self.written = [text if "  " not in text and text.isprintable() else " ".join(text.split()) for text in written]
        self.keys: list[int] = []
        self.kinds = [script.kinds[position] for position in at]
        self.texts = list(self.written)
        self.scenes = [script.scene_of[position] for position in at]
        for taken_out in [position for position, kind in enumerate(self.kinds) if kind is Kind.BONEYARD]:
            self.scenes[taken_out] = 0
        self.is_cue = [kind is _CUE for kind in self.kinds]
        self.is_heading = [kind is _HEADING for kind in self.kinds]
        self.bound = [
            number == before + 1 and not heading and not heading_before
            for number, before, heading, heading_before in zip(
                self.numbers, [-1, *self.numbers], self.is_heading, [False, *self.is_heading], strict=False
            )
        ]
        self.speakers = self._speakers(script, list(accumulate(map(bool, stripped), initial=0)))
        self.partner = [FREE] * len(at)
        self.headings = [position for position, heading in enumerate(self.is_heading) if heading]

    @cached_property
    def printed(self) -> list[str]:
        """The text of each line as the pages of its scene have it, with single spaces; "" for one that is on none."""
        return ["" if line.kind is Kind.TITLE_PAGE else line.text for line in self.as_printed]

    @cached_property
    def as_printed(self) -> list[AsPrinted]:
        """What each line prints, those of the title page too."""
        found = as_printed(self._script)
        return [found.get(number, PRINTS_NOTHING) for number in self.numbers]

    def __len__(self) -> int:
        return len(self.texts)

    def _speakers(self, script: Screenplay, position_of: Sequence[int]) -> list[str]:
        speakers = [""] * len(self.texts)
        for element in script.elements:
            if isinstance(element, Speech):
                start, stop = position_of[element.first_line - 1], position_of[element.last_line]
                speakers[start:stop] = [element.name] * (stop - start)
        return speakers
