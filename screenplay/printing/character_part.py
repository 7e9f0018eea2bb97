"""A character's part: the lines of the scenes they are in, and those of their own speeches."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.fountain.cues import same_name
from screenplay.fountain.emphasis import plain
from screenplay.model import Block, Kind, Speech

if TYPE_CHECKING:
    from collections.abc import Iterator

    from screenplay.model import Screenplay


@dataclass(frozen=True, slots=True)
class Part:
    """`lines` are the source lines of the character's scenes, `speeches` those of their speeches, cues included."""

    name: str
    lines: frozenset[int]
    speeches: frozenset[int]


def part_of(screenplay: Screenplay, character: str) -> Part:
    """The part of a character, whose name is spelled in capitals or not; without lines where they are in no scene.

    They are in the scenes they speak in, and in those whose action names them with a capital letter, or in any letters
    if the name has several words. What stands before the first heading counts as a scene. Someone who is only meant,
    as "he" or as "the twins", is not found.
    """
    theirs = [speech for speech in _speeches(screenplay) if same_name(speech.name) == same_name(character)]
    said = {line for speech in theirs for line in range(speech.first_line, speech.last_line + 1)}
    scenes = {screenplay.scene_of[line - 1] for line in (*said, *_lines_naming(screenplay, character))}
    lines = frozenset(line for line, scene in enumerate(screenplay.scene_of, 1) if scene in scenes)
    return Part(theirs[0].name if theirs else character, lines, frozenset(said))


def _speeches(screenplay: Screenplay) -> Iterator[Speech]:
    return (element for element in screenplay.elements if isinstance(element, Speech))


def _lines_naming(screenplay: Screenplay, name: str) -> Iterator[int]:
    if not name.strip():
        return
    pattern = _pattern(name)
    for element in screenplay.elements:
        if isinstance(element, Block) and element.kind is Kind.ACTION:
            yield from (line.line for line in element.lines if _names(plain(line), pattern, " " in name.strip()))


def _pattern(name: str) -> re.Pattern[str]:
    words = r"\s+".join(map(re.escape, name.split()))
    has_case = name.upper() != name.lower()
    return re.compile(rf"(?<!\w){words}(?!\w)" if has_case else words, re.IGNORECASE)


def _names(text: str, pattern: re.Pattern[str], in_any_letters: bool) -> bool:
    return any(in_any_letters or found[0][0] == found[0][0].upper() for found in pattern.finditer(text))
