"""A character's part: all their speeches in order, each with its scene and with what stands before it."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import zip_longest
from typing import TYPE_CHECKING

from screenplay.fountain import plain, same_name
from screenplay.model import Block, Heading, Kind, Screenplay, Speech
from screenplay.names import action_naming

if TYPE_CHECKING:
    from collections.abc import Iterator

    from screenplay.model import Printed

_SHOWN = frozenset({Kind.ACTION, Kind.CENTERED, Kind.LYRIC, Kind.TRANSITION})


@dataclass(frozen=True, slots=True)
class LineBefore:
    """The last line before a speech within its scene: who says it, "" for what nobody says, its number and its text."""

    speaker: str
    line: int
    text: str


@dataclass(frozen=True, slots=True)
class PartSpeech:
    """One speech of the part. `lines` are the kinds and texts of what stands under the cue, parentheticals included;
    `before` is None where the speech follows its heading; `at_once_with` is who speaks at the same time, or ""."""

    scene: int
    line: int
    extensions: tuple[str, ...]
    lines: tuple[tuple[Kind, str], ...]
    before: LineBefore | None
    at_once_with: str = ""


def silent_scenes(script: Screenplay, name: str) -> tuple[int, ...]:
    """The ordinals of the scenes whose action names a character, as `action_naming` has it, who says nothing there."""
    speaks_in = {speech.scene for speech in part_speeches(script, name)}
    named_in = {script.scene_of[line - 1] for line in action_naming(script, [name])[name]}
    return tuple(sorted(named_in - speaks_in - {0}))


def part_speeches(script: Screenplay, name: str) -> tuple[PartSpeech, ...]:
    """The speeches of a character, whose name is spelled in capitals or not, in order; none where nobody of the name
    speaks. Scenes are ordinals, 0 before the first heading."""
    return tuple(_found(script, same_name(name)))


def _found(script: Screenplay, name: str) -> Iterator[PartSpeech]:
    before: LineBefore | None = None
    beside: Speech | None = None
    for element, following in zip_longest(script.elements, script.elements[1:]):
        if isinstance(element, Heading):
            before = None
        elif isinstance(element, Speech) and element.lines:
            if not element.dual:
                beside = following if isinstance(following, Speech) and following.dual else None
            if same_name(element.name) == name:
                yield PartSpeech(
                    scene=script.scene_of[element.first_line - 1],
                    line=element.cue.line,
                    extensions=element.extensions,
                    lines=tuple((line.kind, plain(line)) for line in element.lines),
                    before=before,
                    at_once_with=beside.name if beside else "",
                )
            if beside and not element.dual:
                beside = element
            else:
                before = _last_said(element) or before
        elif isinstance(element, Block) and element.kind in _SHOWN:
            before = _last(element.lines, "") or before


def _last_said(speech: Speech) -> LineBefore | None:
    said = [line for line in speech.lines if line.kind is not Kind.PARENTHETICAL]
    return _last(said, speech.name)


def _last(lines: tuple[Printed, ...] | list[Printed], speaker: str) -> LineBefore | None:
    shown = [line for line in lines if plain(line).strip()]
    return LineBefore(speaker, shown[-1].line, plain(shown[-1])) if shown else None
