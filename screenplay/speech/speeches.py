"""What each character says, taken apart once for all that is measured of it: words and sentences."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from itertools import accumulate, chain, compress, count, filterfalse
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import plain
from screenplay.model import Kind, Screenplay, Speech
from screenplay.speech.contractions import straight
from screenplay.words import STOP, STOPS, each_as_words_and_stops, token_spans, words_and_stops

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

SPOKEN = frozenset({Kind.DIALOGUE, Kind.LYRIC})
_STRENGTH = ("", ".", "!", "?")
_TRAILING = re.compile(r"(?:\.\.+|…+)(?=\s+\W*([^\W\d_]))?")
# A full stop behind one of these ends no sentence (common practice in English print).
_ABBREVIATED = frozenset(("mr", "mrs", "ms", "dr", "st", "prof", "capt", "sgt", "lt", "rev", "messrs", "mme", "mlle"))


class SentencePlace(NamedTuple):
    """A sentence: its words, the mark it ends with, and where it stands: lines by number, each with its text and what
    of it is the sentence, from one character up to, and without, another."""

    words: int
    end: str
    lines: list[tuple[int, str, int, int]]


class Said(NamedTuple):
    """A speech taken apart: its words and stops, and its words alone, in small letters with straight apostrophes; how
    many words each of its sentences has, and the mark it ends with, "" where the speech ends without, and after how
    many words and stops; and the ordinal of its scene, 0 before the first."""

    speech: Speech
    scene: int
    apart: list[str]
    words: list[str]
    sentence_words: list[int]
    ends: list[str]
    stops: list[int]


@dataclass(slots=True)
class SpokenPart:
    """All that one character says, in order."""

    name: str
    said: list[Said] = field(default_factory=list)

    @property
    def words(self) -> list[str]:
        return list(chain.from_iterable([said.words for said in self.said]))

    @property
    def apart(self) -> list[str]:
        """All words and stops, with a stop behind each speech."""
        return list(chain.from_iterable([(*said.apart, STOP) for said in self.said]))

    @property
    def sentence_words(self) -> list[int]:
        return list(chain.from_iterable([said.sentence_words for said in self.said]))

    @property
    def ends(self) -> list[str]:
        return list(chain.from_iterable([said.ends for said in self.said]))


def spoken_parts(script: Screenplay) -> Mapping[str, SpokenPart]:
    """What everybody says who has something under a cue, in the order in which they first speak."""
    parts: dict[str, SpokenPart] = {}
    speeches = list(speeches_of(script))
    every = each_as_words_and_stops([spoken_text(speech) for _, speech in speeches])
    for (scene, speech), apart in zip(speeches, every, strict=True):
        part = parts.get(speech.name) or parts.setdefault(speech.name, SpokenPart(speech.name))
        part.said.append(_said(speech, scene, apart))
    return parts


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
    return _said(speech, scene, words_and_stops(spoken_text(speech)))


def _said(speech: Speech, scene: int, apart: list[str]) -> Said:
    lengths: list[int] = []
    ends: list[str] = []
    stops: list[int] = []
    told = 0  # words, up to the end of the sentence before
    stops_at = list(compress(count(), map(STOPS.__contains__, apart)))
    for nth, at in enumerate(stops_at):
        mark = apart[at]
        if mark == STOP or (mark == "." and at and _is_abbreviated(apart[at - 1])):
            continue
        if words := at - nth - told:
            lengths.append(words)
            ends.append(mark)
            stops.append(at + 1)
        elif ends and _STRENGTH.index(mark) > _STRENGTH.index(ends[-1]):
            ends[-1], stops[-1] = mark, at + 1
        told = at - nth
    if words := len(apart) - len(stops_at) - told:
        lengths.append(words)
        ends.append("")
        stops.append(len(apart))
    said = list(filterfalse(STOPS.__contains__, apart))
    return Said(speech, scene, apart, said, lengths, ends, stops)


def _is_abbreviated(word: str) -> bool:
    return word in _ABBREVIATED or "." in word


def spoken_text(speech: Speech) -> str:
    """What is said and sung in a speech, a line a line, in small letters and with straight apostrophes, each character
    where it stands in the lines."""
    text = "\n".join([plain(line) for line in speech.lines if line.kind in SPOKEN])
    if ".." in text or "…" in text:
        text = _TRAILING.sub(_trailed_off, text)
    return straight(text)


def spoken_lines(speech: Speech) -> list[tuple[int, str]]:
    """The lines of a speech that are said or sung, by their numbers, as they are printed."""
    return [(line.line, plain(line)) for line in speech.lines if line.kind in SPOKEN]


def sentence_places(said: Said) -> Iterator[SentencePlace]:
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
        yield SentencePlace(words, end, places)
        first = stop


def _trailed_off(met: re.Match[str]) -> str:
    """Stops for dots with which somebody trails off; the last is a full stop where they go on with a capital letter."""
    is_end = (met[1] or "").isupper()
    return STOP * (len(met[0]) - is_end) + "." * is_end
