"""How each character talks, in figures: how much, where, at what length, and how often they contract."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from screenplay.fountain import plain, same_name
from screenplay.model import Kind, Speech
from screenplay.speech.contractions import count_contractions
from screenplay.words import count_words

if TYPE_CHECKING:
    from collections.abc import Mapping

    from screenplay.script import LaidOut

_SPOKEN = frozenset({Kind.DIALOGUE, Kind.LYRIC})


@dataclass(frozen=True, slots=True)
class Voice:
    """One character's speech.

    A speech is a cue with something under it. `words` are those said or sung, parentheticals and notes left out, and
    `share` is their part, 0 to 1, of all words spoken in the script. `scenes` is the number of scenes with a speech of
    theirs; `first_page` and `last_page`, counted from 1, are where their first and last speech begins.
    `longest_speech` is its number of words, the first such if there are several, and `longest_speech_line` the source
    line of its cue; `mean_words` is words a speech.

    `contractions` counts contracted forms, `contractable` the places that could have contracted and did not, and
    `contraction_rate` is contractions ÷ (contractions + contractable), 0 to 1, None where there is neither
    (`contractions.py` has the rules, which are for English).
    """

    name: str
    speeches: int
    words: int
    share: float
    scenes: int
    first_page: int | None
    last_page: int | None
    longest_speech: int
    longest_speech_line: int
    mean_words: float
    contractions: int
    contractable: int
    contraction_rate: float | None


@dataclass(slots=True)
class _Said:
    """What a character has said so far: their speeches' cue lines and words, their scenes, and every line spoken."""

    cues: list[int] = field(default_factory=list)
    words: list[int] = field(default_factory=list)
    scenes: set[int] = field(default_factory=set)
    spoken: list[str] = field(default_factory=list)

    def add(self, speech: Speech, scene: int) -> None:
        lines = [plain(line) for line in speech.lines if line.kind in _SPOKEN]
        self.cues.append(speech.first_line)
        self.words.append(count_words("\n".join(lines)))
        self.spoken += lines
        if scene:
            self.scenes.add(scene)


def voices(pages: LaidOut) -> tuple[Voice, ...]:
    """Everybody who speaks, most words first, equals by name.

    The speeches of all voices are all the script's, and their words all its words of dialogue.
    """
    script, page_of = pages.script, pages.layout.page_of
    parts: dict[str, _Said] = {}
    for element in script.elements:
        if isinstance(element, Speech) and element.lines:
            part = parts.setdefault(element.name, _Said())
            part.add(element, script.scene_of[element.first_line - 1])
    all_words = sum(sum(part.words) for part in parts.values())
    found = [_voice(name, part, all_words, page_of) for name, part in parts.items()]
    return tuple(sorted(found, key=lambda voice: (-voice.words, same_name(voice.name))))


def _voice(name: str, part: _Said, all_words: int, page_of: Mapping[int, int]) -> Voice:
    words = sum(part.words)
    longest = max(part.words)
    counted = count_contractions("\n".join(part.spoken))
    places = counted.contracted + counted.uncontracted
    return Voice(
        name=name,
        speeches=len(part.cues),
        words=words,
        share=words / all_words if all_words else 0.0,
        scenes=len(part.scenes),
        first_page=page_of.get(part.cues[0]),
        last_page=page_of.get(part.cues[-1]),
        longest_speech=longest,
        longest_speech_line=part.cues[part.words.index(longest)],
        mean_words=words / len(part.cues),
        contractions=counted.contracted,
        contractable=counted.uncontracted,
        contraction_rate=counted.contracted / places if places else None,
    )
