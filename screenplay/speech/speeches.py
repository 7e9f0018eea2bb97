"""What each character says, taken apart once for all that is measured of it: words and sentences."""

from __future__ import annotations

import re
from itertools import accumulate, compress, count
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import plain, plain_lines
from screenplay.model import Kind, Screenplay, Speech
from screenplay.speech.contractions import TOLD_BY_THEIR_NEIGHBOURS, straight
from screenplay.words import STOP, STOPS, TEXT_END, token_spans, words_and_stops_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

SPOKEN = frozenset({Kind.DIALOGUE, Kind.LYRIC})
_NO_WORDS = STOPS | {TEXT_END}
_TELLING = _NO_WORDS | TOLD_BY_THEIR_NEIGHBOURS
_STRENGTH = ("", ".", "!", "?")
_TRAILING = re.compile(r"(?:\.\.+|…+)(?=\s+\W*([^\W\d_]))?")
# A full stop behind one of these ends no sentence (common practice in English print).
_ABBREVIATED = frozenset(("mr", "mrs", "ms", "dr", "st", "prof", "capt", "sgt", "lt", "rev", "messrs", "mme", "mlle"))


class SentenceOnLines(NamedTuple):
    """A sentence: its words, the mark it ends with, and where it stands: lines by number, each with its text and what
    of it is the sentence, from one character up to, and without, another."""

    words: int
    end: str
    lines: list[tuple[int, str, int, int]]


class Said(NamedTuple):
    """A speech taken apart: its words, in small letters with straight apostrophes; how many words each of its sentences
    has, the mark it ends with, "" where the speech ends without, and after how many words and stops; and the ordinal of
    its scene, 0 before the first."""

    speech: Speech
    scene: int
    words: list[str]
    sentence_words: list[int]
    ends: list[str]
    stops: list[int]


class SpokenPart(NamedTuple):
    """All that one character says, in order: each speech with the ordinal of its scene, and, of all of them together,
    words and stops, with TEXT_END behind each speech, and words alone; how many words each speech has, how many each
    sentence, and the marks that sentences end with, as in Said; and which of the words and stops may be a contraction
    or a place for one by what stands beside them."""

    name: str
    speeches: list[tuple[int, Speech]]
    apart: list[str]
    words: list[str]
    speech_words: list[int]
    sentence_words: list[int]
    ends: list[str]
    beside: list[int]

    @property
    def said(self) -> list[Said]:
        """Each speech taken apart by itself."""
        return [take_apart(speech, scene) for scene, speech in self.speeches]


def spoken_parts(script: Screenplay) -> Mapping[str, SpokenPart]:
    """What everybody says who has something under a cue, in the order in which they first speak."""
    speeches: dict[str, list[tuple[int, Speech]]] = {}
    for scene, speech in speeches_of(script):
        speeches.setdefault(speech.name, []).append((scene, speech))
    return {name: _part(name, these) for name, these in speeches.items()}


def _part(name: str, speeches: list[tuple[int, Speech]]) -> SpokenPart:
    found = _Counted(words_and_stops_of([spoken_text(speech) for _, speech in speeches]))
    return SpokenPart(
        name,
        speeches,
        found.apart,
        found.words,
        found.speech_words,
        found.sentence_words,
        found.ends,
        found.beside,
    )


def speeches_of(script: Screenplay) -> Iterator[tuple[int, Speech]]:
    """Every speech in which something stands under the cue, with the ordinal of its scene, 0 for none."""
    for element in script.elements:
        if isinstance(element, Speech) and element.lines:
            yield script.scene_of[element.first_line - 1], element


def take_apart(speech: Speech, scene: int) -> Said:
    """A speech as words and sentences.

    A sentence has one word at least. It ends with a full stop, a question mark or an exclamation mark, and with the
    speech; a full stop behind an abbreviation (Mrs., U.K.) ends none, and with several marks, `?!`, it asks, or else
    exclaims.
    """
    found = _Counted(words_and_stops_of([spoken_text(speech)]))
    return Said(speech, scene, found.words, found.sentence_words, found.ends, found.stops)


class _Counted:
    """What is counted in words and stops with TEXT_END behind each speech, as SpokenPart and Said have it."""

    def __init__(self, apart: list[str]) -> None:
        self.apart = apart
        self.words: list[str] = []
        self.speech_words: list[int] = []
        self.sentence_words: list[int] = []
        self.ends: list[str] = []
        self.stops: list[int] = []
        self.beside: list[int] = []
        self._count()

    def _count(self) -> None:
        apart, sentence_words, ends, stops = self.apart, self.sentence_words, self.ends, self.stops
        is_word = [True] * len(apart)
        told = begun = 0  # words, up to the end of the sentence before, and of the speech before
        sentences = 0  # up to the end of the speech before
        signs = 0
        for at in compress(count(), map(_TELLING.__contains__, apart)):
            sign = apart[at]
            if sign in TOLD_BY_THEIR_NEIGHBOURS:
                self.beside.append(at)
                continue
            is_word[at] = False
            signs += 1
            if sign == STOP or (sign == "." and at and _is_abbreviated(apart[at - 1])):
                continue
            so_far = at + 1 - signs
            if so_far > told:
                sentence_words.append(so_far - told)
                ends.append(sign if sign != TEXT_END else "")
                stops.append(at + 1 if sign != TEXT_END else at)
                told = so_far
            elif sign != TEXT_END and len(ends) > sentences and _STRENGTH.index(sign) > _STRENGTH.index(ends[-1]):
                ends[-1], stops[-1] = sign, at + 1
            if sign == TEXT_END:
                self.speech_words.append(so_far - begun)
                begun, sentences = so_far, len(ends)
        self.words = list(compress(apart, is_word))


def _is_abbreviated(word: str) -> bool:
    return word in _ABBREVIATED or "." in word


def spoken_text(speech: Speech) -> str:
    """What is said and sung in a speech, a line a line, in small letters and with straight apostrophes, each character
    where it stands in the lines."""
    text = plain_lines("\n".join([line.text for line in speech.lines if line.kind in SPOKEN]))
    if ".." in text or "…" in text:
        text = _TRAILING.sub(_trailed_off, text)
    return straight(text)


def spoken_lines(speech: Speech) -> list[tuple[int, str]]:
    """The lines of a speech that are said or sung, by their numbers, as they are printed."""
    return [(line.line, plain(line)) for line in speech.lines if line.kind in SPOKEN]


def sentences_on_lines(said: Said) -> Iterator[SentenceOnLines]:
    """Where each sentence of a speech stands."""
    lines = spoken_lines(said.speech)
    starts = [0, *accumulate(len(text) + 1 for _, text in lines)]
    spans = token_spans(spoken_text(said.speech))
    first = 0
    for words, end, stop_at in zip(said.sentence_words, said.ends, said.stops, strict=True):
        places = []
        stop = spans[stop_at - 1][1]
        for start, (number, text) in zip(starts, lines, strict=False):
            here, there = max(first - start, 0), min(stop - start, len(text))
            here += len(text[here:there]) - len(text[here:there].lstrip())
            if here < there:
                places.append((number, text, here, there))
        yield SentenceOnLines(words, end, places)
        first = stop


def _trailed_off(met: re.Match[str]) -> str:
    """Stops for dots with which somebody trails off; the last is a full stop where they go on with a capital letter."""
    is_end = (met[1] or "").isupper()
    return STOP * (len(met[0]) - is_end) + "." * is_end
