"""What lists of words find in the scene that a note on safety stands in, to be seen before it is declined."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.scripts import read_script
from review.kept import kept
from screenplay.breakdown import caution_names, cautions_of, each_once

if TYPE_CHECKING:
    from review.drafts.models import Draft, TextKey
    from screenplay.breakdown import Find

BYTES_A_FIND = 150  # of what is kept, about


@dataclass(frozen=True, slots=True)
class CautionBeside:
    """A caution by its name, and the words of the scene that it was found by, each once."""

    name: str
    words: tuple[str, ...]


def cautions_beside(draft: Draft, line: int) -> list[CautionBeside]:
    """The cautions of the scene that has a line of the draft, in the order of the lists. They are found by words: no
    assessment of risk, and they can miss things."""
    finds = _cautions(draft.text_key)[read_script(draft).scene_of[line - 1]]
    words = {key: each_once(find.words for find in finds if find.key == key) for key in caution_names()}
    return [CautionBeside(name, words[key]) for key, name in caution_names().items() if words[key]]


def _weigh(scenes: tuple[tuple[Find, ...], ...]) -> int:
    return sum(BYTES_A_FIND * (1 + len(finds)) for finds in scenes)


@kept(_weigh)
def _cautions(text: TextKey) -> tuple[tuple[Find, ...], ...]:
    return tuple(cautions_of(read_script(text.draft)))
