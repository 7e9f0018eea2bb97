"""The lines that a figure of a voice comes from, so that each can be read where it stands."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import plain
from screenplay.names import action_naming
from screenplay.speech.contractions import contraction_spans, straight
from screenplay.speech.habits import addressees
from screenplay.speech.speeches import sentences_on_lines, spoken_lines, spoken_parts
from screenplay.words import word_spans

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from screenplay.model import Screenplay
    from screenplay.speech.speeches import Said, SpokenPart


class Figure(StrEnum):
    """A figure of a voice that comes from some of its lines."""

    SPEECHES = "speeches"
    LONGEST_SPEECH = "longest_speech"
    QUESTIONS = "questions"
    EXCLAMATIONS = "exclamations"
    LONG_SENTENCES = "long_sentences"
    CONTRACTIONS = "contractions"
    NOT_CONTRACTED = "not_contracted"
    WORD = "word"
    OPENING = "opening"
    SPEAKS_TO = "speaks_to"
    SILENT_SCENES = "silent_scenes"


class LineBehind(NamedTuple):
    """A line that a figure comes from: its scene's ordinal, 0 before the first, its number, what it prints, and what of
    that counts, from one character up to, and without, another."""

    scene: int
    line: int
    text: str
    start: int
    end: int


def lines_behind(script: Screenplay, name: str, figure: Figure, of: str = "") -> tuple[LineBehind, ...]:
    """The lines of a character's that a figure comes from, in order; none where nobody of the name speaks.

    `of` is the word, the opening or the person spoken to, for those figures. Long sentences are the ten longest, or all
    that are as long as the tenth.
    """
    parts = spoken_parts(script)
    if name not in parts:
        return ()
    if figure is Figure.SILENT_SCENES:
        return tuple(_silent(script, parts[name]))
    if figure is Figure.SPEAKS_TO:
        to = addressees(parts)[name]
        return tuple(
            line for said, whom in zip(parts[name].said, to, strict=True) if whom == of for line in _whole(said)
        )
    return tuple(_BEHIND[figure](parts[name], of))


def _whole(said: Said) -> Iterator[LineBehind]:
    for line, text in spoken_lines(said.speech):
        yield LineBehind(said.scene, line, text, 0, len(text))


def _speeches(part: SpokenPart, _: str) -> Iterator[LineBehind]:
    for said in part.said:
        yield from _whole(said)


def _longest(part: SpokenPart, _: str) -> Iterator[LineBehind]:
    yield from _whole(max(part.said, key=lambda said: len(said.words)))


def _ending(mark: str) -> Callable[[SpokenPart, str], Iterator[LineBehind]]:
    def found(part: SpokenPart, _: str) -> Iterator[LineBehind]:
        for said in part.said:
            for sentence in sentences_on_lines(said):
                if sentence.end == mark:
                    yield from (LineBehind(said.scene, *place) for place in sentence.lines)

    return found


def _long_sentences(part: SpokenPart, _: str, most: int = 10) -> Iterator[LineBehind]:
    found = [(said, sentence) for said in part.said for sentence in sentences_on_lines(said)]
    least = sorted((sentence.words for _, sentence in found), reverse=True)[:most][-1:]
    for said, sentence in found:
        if least and sentence.words >= least[0]:
            yield from (LineBehind(said.scene, *place) for place in sentence.lines)


def _contracting(is_contracted: bool) -> Callable[[SpokenPart, str], Iterator[LineBehind]]:
    def found(part: SpokenPart, _: str) -> Iterator[LineBehind]:
        for line in _speeches(part, ""):
            for place in contraction_spans(line.text):
                if place.is_contracted is is_contracted:
                    yield line._replace(start=place.start, end=place.end)

    return found


def _word(part: SpokenPart, of: str) -> Iterator[LineBehind]:
    for line in _speeches(part, ""):
        lowered = straight(line.text)
        yield from (
            line._replace(start=start, end=end) for start, end in word_spans(lowered) if lowered[start:end] == of
        )


def _opening(part: SpokenPart, of: str) -> Iterator[LineBehind]:
    for said in part.said:
        if of and " ".join(said.words[: len(of.split())]) == of:
            first = next(line for line in _whole(said) if word_spans(line.text))
            yield first._replace(end=word_spans(first.text)[: len(of.split())][-1][1])


def _silent(script: Screenplay, part: SpokenPart) -> Iterator[LineBehind]:
    speaks_in = {scene for scene, _ in part.speeches}
    text_of = {line.line: plain(line) for element in script.elements for line in getattr(element, "lines", ())}
    for line in action_naming(script, [part.name])[part.name]:
        scene = script.scene_of[line - 1]
        if scene and scene not in speaks_in:
            yield LineBehind(scene, line, text_of[line], 0, len(text_of[line]))


_BEHIND: dict[Figure, Callable[[SpokenPart, str], Iterator[LineBehind]]] = {
    Figure.SPEECHES: _speeches,
    Figure.LONGEST_SPEECH: _longest,
    Figure.QUESTIONS: _ending("?"),
    Figure.EXCLAMATIONS: _ending("!"),
    Figure.LONG_SENTENCES: _long_sentences,
    Figure.CONTRACTIONS: _contracting(is_contracted=True),
    Figure.NOT_CONTRACTED: _contracting(is_contracted=False),
    Figure.WORD: _word,
    Figure.OPENING: _opening,
}
