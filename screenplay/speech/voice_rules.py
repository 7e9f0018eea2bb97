"""Voice rules: what a character always or never does in speech, and where they break it."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import same_name
from screenplay.speech.address import names_in_address
from screenplay.speech.contractions import contraction_spans, straight
from screenplay.speech.speeches import sentences_on_lines, speeches_of, spoken_lines, take_apart
from screenplay.words import word_spans, words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from screenplay.model import Screenplay
    from screenplay.speech.speeches import Said

SCRIPTS = (
    "Latin",
    "Greek",
    "Cyrillic",
    "Arabic",
    "Hebrew",
    "Devanagari",
    "Thai",
    "Han",
    "Hiragana",
    "Katakana",
    "Hangul",
)
_NAMED_SCRIPTS = {"CJK": "Han", **{name.upper(): name for name in SCRIPTS}}


class RuleKind(StrEnum):
    """What a rule asks of a character."""

    NO_CONTRACTIONS = "no_contractions"
    ONLY_CONTRACTIONS = "only_contractions"
    NO_QUESTIONS = "no_questions"
    SHORT_SENTENCES = "short_sentences"
    NEVER_SAYS = "never_says"
    SAYS_EACH_SCENE = "says_each_scene"
    USES_NAMES = "uses_names"
    NEVER_USES_NAMES = "never_uses_names"
    SCRIPTS_ONLY = "scripts_only"


@dataclass(frozen=True, slots=True)
class VoiceRule:
    """A rule for one character.

    `most_words` is of SHORT_SENTENCES; `words` are the words or phrases of NEVER_SAYS, and of SAYS_EACH_SCENE, of which
    any will do; `scripts` are those of SCRIPTS_ONLY, by their names in Unicode. It holds from scene `first_scene` to
    `last_scene`, by ordinal, both included; None is from the start, and to the end.
    """

    character: str
    kind: RuleKind
    most_words: int = 0
    words: tuple[str, ...] = ()
    scripts: tuple[str, ...] = ()
    first_scene: int | None = None
    last_scene: int | None = None

    def holds_in(self, scene: int) -> bool:
        """Whether it holds in a scene, by ordinal; 0, before the first, is at the start."""
        return (self.first_scene or 0) <= scene and (self.last_scene is None or scene <= self.last_scene)


class Breach(NamedTuple):
    """Where a rule is broken: the scene's ordinal, the source line, what it prints, and what of that breaks it, from
    one character up to, and without, another; the cue where it is the whole scene."""

    scene: int
    line: int
    text: str
    start: int
    end: int

    @property
    def words(self) -> str:
        """What breaks the rule."""
        return self.text[self.start : self.end]


def breaches(script: Screenplay, rule: VoiceRule) -> tuple[Breach, ...]:
    """Where a rule is broken in a script, in order, each place once."""
    said = [
        take_apart(speech, scene)
        for scene, speech in speeches_of(script)
        if same_name(speech.name) == same_name(rule.character) and rule.holds_in(scene)
    ]
    if rule.kind in _OF_SCENES:
        wanted = _OF_SCENES[rule.kind](script, rule)
        return tuple(_scenes_without(said, wanted))
    found = _OF_SPEECHES[rule.kind](script, rule)
    return tuple(sorted({breach for each in said for breach in found(each)}))


def _lines(said: Said) -> Iterator[Breach]:
    for line, text in spoken_lines(said.speech):
        yield Breach(said.scene, line, text, 0, len(text))


def _contracting(is_contracted: bool) -> Callable[[Screenplay, VoiceRule], Callable[[Said], Iterator[Breach]]]:
    def found(said: Said) -> Iterator[Breach]:
        for line in _lines(said):
            for place in contraction_spans(line.text):
                if place.is_contracted is is_contracted:
                    yield line._replace(start=place.start, end=place.end)

    return lambda _script, _rule: found


def _questions(_script: Screenplay, _rule: VoiceRule) -> Callable[[Said], Iterator[Breach]]:
    def found(said: Said) -> Iterator[Breach]:
        for sentence in sentences_on_lines(said):
            if sentence.end == "?":
                yield from (Breach(said.scene, *place) for place in sentence.lines)

    return found


def _long_sentences(_script: Screenplay, rule: VoiceRule) -> Callable[[Said], Iterator[Breach]]:
    def found(said: Said) -> Iterator[Breach]:
        for sentence in sentences_on_lines(said):
            if sentence.words > rule.most_words:
                yield from (Breach(said.scene, *place) for place in sentence.lines)

    return found


def _said_words(_script: Screenplay, rule: VoiceRule) -> Callable[[Said], Iterator[Breach]]:
    def found(said: Said) -> Iterator[Breach]:
        for line in _lines(said):
            for start, end in _phrases_in(line.text, rule.words):
                yield line._replace(start=start, end=end)

    return found


def _addresses(script: Screenplay, _rule: VoiceRule) -> Callable[[Said], Iterator[Breach]]:
    names = _names(script)

    def found(said: Said) -> Iterator[Breach]:
        for line in _lines(said):
            for start, end in names_in_address(line.text, names):
                yield line._replace(start=start, end=end)

    return found


def _other_scripts(_script: Screenplay, rule: VoiceRule) -> Callable[[Said], Iterator[Breach]]:
    allowed = frozenset(rule.scripts)

    def found(said: Said) -> Iterator[Breach]:
        for line in _lines(said):
            for start, end in word_spans(line.text):
                if any(script_of(letter) not in allowed for letter in line.text[start:end] if letter.isalpha()):
                    yield line._replace(start=start, end=end)

    return found


_OF_SPEECHES: dict[RuleKind, Callable[[Screenplay, VoiceRule], Callable[[Said], Iterator[Breach]]]] = {
    RuleKind.NO_CONTRACTIONS: _contracting(is_contracted=True),
    RuleKind.ONLY_CONTRACTIONS: _contracting(is_contracted=False),
    RuleKind.NO_QUESTIONS: _questions,
    RuleKind.SHORT_SENTENCES: _long_sentences,
    RuleKind.NEVER_SAYS: _said_words,
    RuleKind.NEVER_USES_NAMES: _addresses,
    RuleKind.SCRIPTS_ONLY: _other_scripts,
}
# These are kept by a scene in which the character does something at least once.
_OF_SCENES: dict[RuleKind, Callable[[Screenplay, VoiceRule], Callable[[Said], Iterator[Breach]]]] = {
    RuleKind.SAYS_EACH_SCENE: _said_words,
    RuleKind.USES_NAMES: _addresses,
}


def _scenes_without(said: Sequence[Said], wanted: Callable[[Said], Iterator[Breach]]) -> Iterator[Breach]:
    """The cue of the first speech in each scene in which what is wanted is nowhere."""
    scenes: dict[int, list[Said]] = {}
    for each in said:
        scenes.setdefault(each.scene, []).append(each)
    for scene, speeches in scenes.items():
        if not any(True for speech in speeches for _ in wanted(speech)):
            cue = speeches[0].speech.cue
            yield Breach(scene, cue.line, cue.text, 0, len(cue.text))


def _phrases_in(text: str, phrases: Sequence[str]) -> Iterator[tuple[int, int]]:
    """Where any of some words or phrases stands in a line, in any letters, whatever stands between their words."""
    lowered = straight(text)
    spans = word_spans(lowered)
    said = [lowered[start:end] for start, end in spans]
    for phrase in phrases:
        sought = words(straight(phrase))
        for at in range(len(said) - len(sought) + 1):
            if sought and said[at : at + len(sought)] == sought:
                yield spans[at][0], spans[at + len(sought) - 1][1]


def _names(script: Screenplay) -> frozenset[str]:
    """The words in the names of everybody who speaks, in small letters."""
    return frozenset(
        word for _, speech in speeches_of(script) for word in words(straight(speech.name)) if len(word) > 1
    )


def script_of(letter: str) -> str:
    """The script of a letter by the first word of its name in Unicode, as in SCRIPTS; "" for any other."""
    name = re.split(r"[ -]", unicodedata.name(letter, ""))[0]
    return _NAMED_SCRIPTS.get(name, "")
