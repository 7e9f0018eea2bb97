"""What a parsed script holds: its lines, its scenes and its characters, with their figures."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from screenplay.fountain.emphasis import plain
from screenplay.model import Character, Heading, Kind, Line, Scene, Screenplay, Speech
from screenplay.words import count_words

if TYPE_CHECKING:
    from collections.abc import Iterator

_PRINTS_NOTHING = frozenset(
    {Kind.BLANK, Kind.NOTE, Kind.BONEYARD, Kind.SECTION, Kind.SYNOPSIS, Kind.PAGE_BREAK, Kind.TITLE_PAGE}
)
_SPOKEN = frozenset({Kind.DIALOGUE, Kind.LYRIC})


def lines_of(screenplay: Screenplay) -> tuple[Line, ...]:
    """Every source line, with the page it first stands on where it prints something."""
    page_of = screenplay.layout.page_of
    found: list[Line] = []
    for number, (source, kind, scene) in enumerate(
        zip(screenplay.source, screenplay.kinds, screenplay.scene_of, strict=True), start=1
    ):
        text = source.rstrip("\r\n")
        page = None if kind in _PRINTS_NOTHING or not text.strip() else page_of.get(number)
        found.append(Line(number, kind, scene or None, page, text, source[len(text) :]))
    return tuple(found)


def scenes_of(screenplay: Screenplay) -> tuple[Scene, ...]:
    """Every scene, in order; its characters are in the order of their first speech in it. Its number is the locked one
    where the setting has any, else the one in its heading."""
    layout = screenplay.layout
    locked = {ordinal: number for number, ordinal in screenplay.setting.scene_numbers}
    headings = [element for element in screenplay.elements if isinstance(element, Heading)]
    speakers: dict[int, dict[str, None]] = defaultdict(dict)
    for scene, speech in _speeches(screenplay):
        speakers[scene][speech.name] = None
    ends = [*(heading.first_line - 1 for heading in headings[1:]), len(screenplay.source)][: len(headings)]
    return tuple(
        Scene(
            ordinal=ordinal,
            number=locked.get(ordinal, heading.number),
            heading=plain(heading.printed),
            setting=heading.setting,
            place=heading.place,
            time=heading.time,
            first_line=heading.first_line,
            last_line=end,
            page=layout.page_of.get(heading.first_line),
            eighths=layout.scene_eighths[ordinal - 1],
            characters=tuple(speakers[ordinal]),
        )
        for ordinal, (heading, end) in enumerate(zip(headings, ends, strict=True), start=1)
    )


def characters_of(screenplay: Screenplay) -> tuple[Character, ...]:
    """Everybody who speaks, most words first. Parentheticals, extensions and notes are no words of theirs."""
    speeches: dict[str, int] = defaultdict(int)
    spoken: dict[str, int] = defaultdict(int)
    scenes: dict[str, set[int]] = defaultdict(set)
    for scene, speech in _speeches(screenplay):
        speeches[speech.name] += 1
        spoken[speech.name] += speech_words(speech)
        if scene:
            scenes[speech.name].add(scene)
    found = [Character(name, speeches[name], spoken[name], len(scenes[name])) for name in speeches]
    return tuple(sorted(found, key=lambda character: (-character.words, -character.speeches)))


def first_cues(screenplay: Screenplay) -> dict[str, int]:
    """The source line of the cue under which each character first speaks, in that order. Nothing is laid out."""
    cues: dict[str, int] = {}
    for _, speech in _speeches(screenplay):
        cues.setdefault(speech.name, speech.cue.line)
    return cues


def speech_words(speech: Speech) -> int:
    """How many words are said or sung in a speech."""
    return sum(count_words(plain(line)) for line in speech.lines if line.kind in _SPOKEN)


def _speeches(screenplay: Screenplay) -> Iterator[tuple[int, Speech]]:
    """Every speech in which something stands under the cue, with the ordinal of its scene, 0 for none."""
    for element in screenplay.elements:
        if isinstance(element, Speech) and element.lines:
            yield screenplay.scene_of[element.first_line - 1], element
