"""What each character says, taken apart once for all that is measured of it: words and sentences."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from itertools import accumulate, chain
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import plain
from screenplay.model import Kind, Screenplay, Speech
from screenplay.speech.contractions import Contractions, count_in, may_contract, straight
from screenplay.words import STOP, words_and_stops

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

SPOKEN = frozenset({Kind.DIALOGUE, Kind.LYRIC})
_ENDS = {".": ".", "?": "?", "!": "!", "。": ".", "？": "?", "！": "!", "؟": "?", "।": "."}
_STRENGTH = ("", ".", "!", "?")
_TRAILING = re.compile(r"(?:\.\.+|…)(?=\s+\W*([^\W\d_]))?")
_END = re.compile(r"(?<=[?!。？！؟।])|(?<=\.)(?![^\W_])")
_JOINED = re.compile(r"\.[a-z0-9]|\0")
_CUT = "\0"
# A full stop behind one of these ends no sentence (common practice in English print).
_ABBREVIATED = frozenset(("mr", "mrs", "ms", "dr", "st", "prof", "capt", "sgt", "lt", "rev", "messrs", "mme", "mlle"))


class SentencePlace(NamedTuple):
    """A sentence: its words, the mark it ends with, and where it stands: lines by number, each with its text and what
    of it is the sentence, from one character up to, and without, another."""

    words: int
    end: str
    lines: list[tuple[int, str, int, int]]


class Said(NamedTuple):
    """A speech taken apart: its words in small letters with straight apostrophes; how many words each of its sentences
    has, and the mark it ends with, "" where the speech ends without, and where in `spoken_text` it stops; how often
    it contracts, and could have and did not; and the ordinal of its scene, 0 before the first."""

    speech: Speech
    scene: int
    words: list[str]
    sentence_words: list[int]
    ends: list[str]
    stops: list[int]
    contractions: Contractions


@dataclass(slots=True)
class SpokenPart:
    """All that one character says, in order."""

    name: str
    said: list[Said] = field(default_factory=list)

    @property
    def words(self) -> list[str]:
        return list(chain.from_iterable([said.words for said in self.said]))

    @property
    def sentence_words(self) -> list[int]:
        return list(chain.from_iterable([said.sentence_words for said in self.said]))

    @property
    def ends(self) -> list[str]:
        return list(chain.from_iterable([said.ends for said in self.said]))


def spoken_parts(script: Screenplay) -> Mapping[str, SpokenPart]:
    """What everybody says who has something under a cue, in the order in which they first speak."""
    parts: dict[str, SpokenPart] = {}
    for scene, speech in speeches_of(script):
        part = parts.get(speech.name) or parts.setdefault(speech.name, SpokenPart(speech.name))
        part.said.append(take_apart(speech, scene))
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
    said: list[str] = []
    lengths: list[int] = []
    ends: list[str] = []
    stops: list[int] = []
    contracted = uncontracted = waiting = read = 0
    for piece in _pieces(spoken_text(speech)):
        read += len(piece)
        apart = words_and_stops(piece)
        of_piece = [word for word in apart if word != STOP]
        said += of_piece
        waiting += len(of_piece)
        end = _ENDS.get(piece[-1:], "")
        if not waiting:
            if ends and _STRENGTH.index(end) > _STRENGTH.index(ends[-1]):
                ends[-1], stops[-1] = end, read
        elif end and not (end == "." and of_piece and _is_abbreviated(of_piece[-1])):
            lengths.append(waiting)
            ends.append(end)
            stops.append(read)
            waiting = 0
        if may_contract(piece, of_piece):
            here, not_here = count_in(apart)
            contracted += here
            uncontracted += not_here
    if waiting:
        lengths.append(waiting)
        ends.append("")
        stops.append(read)
    return Said(speech, scene, said, lengths, ends, stops, Contractions(contracted, uncontracted))


def _is_abbreviated(word: str) -> bool:
    return word in _ABBREVIATED or "." in word


def spoken_text(speech: Speech) -> str:
    """What is said and sung in a speech, a line a line, in small letters and with straight apostrophes, each character
    where it stands in the lines. Dots with which somebody trails off are ellipses, the last of them a full stop where
    they go on with a capital letter."""
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
    first = 0
    for words, end, stop in zip(said.sentence_words, said.ends, said.stops, strict=True):
        places = []
        for start, (number, text) in zip(starts, lines, strict=False):
            here, there = max(first - start, 0), min(stop - start, len(text))
            here += len(text[here:there]) - len(text[here:there].lstrip())
            if here < there:
                places.append((number, text, here, there))
        yield SentencePlace(words, end, places)
        first = stop


def _trailed_off(met: re.Match[str]) -> str:
    is_end = (met[1] or "").isupper()
    return "…" * (len(met[0]) - is_end) + "." * is_end


def _pieces(text: str) -> list[str]:
    """A text cut behind each mark that may end a sentence."""
    if not text.isascii() or _JOINED.search(text):
        return _END.split(text)
    for mark in ".?!":
        text = text.replace(mark, mark + _CUT)
    return text.split(_CUT)
