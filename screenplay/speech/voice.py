"""How each character talks, in figures: how much, where, at what length, in what words, and to whom."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from math import sqrt
from operator import mul
from typing import TYPE_CHECKING

from screenplay.fountain import same_name
from screenplay.names import action_naming
from screenplay.speech.contractions import count_in
from screenplay.speech.distinctive import DistinctiveWord, distinctive_words
from screenplay.speech.habits import Opening, SpokenTo, addressees, openings, spoken_to
from screenplay.speech.nearness import FEWEST_WORDS, added_up
from screenplay.speech.speeches import spoken_parts
from screenplay.speech.variety import mtld

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from screenplay.script import LaidOut
    from screenplay.speech.speeches import SpokenPart


@dataclass(frozen=True, slots=True)
class Voice:
    """One character's speech.

    A speech is a cue with something under it. `words` are those said or sung, parentheticals and notes left out, and
    `share` is their part, 0 to 1, of all words spoken in the script. `scenes` is the number of scenes with a speech of
    theirs, `pages` that of pages on which one begins; `first_page` and `last_page`, counted from 1, are where
    their first and last do.
    `longest_speech` is its number of words, the first such if there are several, and `longest_speech_line` the source
    line of its cue; `words_a_speech` is the mean, and `words_a_speech_spread` the standard deviation.

    `sentences` have a word at least and end with . ? ! or the speech; `words_a_sentence` and `words_a_sentence_spread`
    are the mean and the standard deviation, 0 where nothing is said. `questions` and `exclamations` are the sentences
    that end with ? and with !.

    `contractions` counts contracted forms, `not_contracted` the places that could have contracted and did not, and
    `contraction_rate` is contractions ÷ (contractions + not_contracted), 0 to 1, None where there is neither
    (`contractions.py` has the rules, which are for English).

    `variety_of_words` is MTLD in words (`variety.py`), None for a voice of fewer than FEWEST_WORDS words.
    `distinctive_words` set it apart from all others together (`distinctive.py`), with `favourite_openings` its speeches
    begin, and `speaks_to` has whom it speaks to, by alternation within a scene (`habits.py`). `silent_scenes` are the
    ordinals of scenes whose action names the character, who says nothing there. `counts` has each of its words, in
    small letters, with how often it comes.

    A figure has the name here that it has on screen, Words a speech as `words_a_speech`.
    """

    name: str
    speeches: int
    words: int
    share: float
    scenes: int
    pages: int
    first_page: int | None
    last_page: int | None
    longest_speech: int
    longest_speech_line: int
    words_a_speech: float
    words_a_speech_spread: float
    sentences: int
    words_a_sentence: float
    words_a_sentence_spread: float
    questions: int
    exclamations: int
    contractions: int
    not_contracted: int
    contraction_rate: float | None
    variety_of_words: float | None
    distinctive_words: tuple[DistinctiveWord, ...]
    favourite_openings: tuple[Opening, ...]
    speaks_to: tuple[SpokenTo, ...]
    silent_scenes: tuple[int, ...]
    counts: Mapping[str, int]


def voices(pages: LaidOut) -> tuple[Voice, ...]:
    """Everybody who speaks, most words first, equals by name.

    The speeches of all voices are all the script's, and their words all its words of dialogue.
    """
    parts = spoken_parts(pages.script)
    counts = {name: Counter(part.words) for name, part in parts.items()}
    together = added_up(counts.values())
    all_words = sum(together.values())
    to = addressees(parts)
    silent = _silent_scenes(pages, parts)
    found = [
        _voice(part, pages, counts[name], together, all_words, to[name], silent[name]) for name, part in parts.items()
    ]
    return tuple(sorted(found, key=lambda voice: (-voice.words, same_name(voice.name))))


def _voice(
    part: SpokenPart,
    pages: LaidOut,
    counts: Counter[str],
    together: Mapping[str, int],
    all_words: int,
    to: Sequence[str],
    silent: tuple[int, ...],
) -> Voice:
    lengths, sentence_lengths = part.speech_words, part.sentence_words
    words, longest = len(part.words), max(lengths)
    cues = [speech.first_line for _, speech in part.speeches]
    page_of = pages.layout.page_of
    contracted, uncontracted = count_in(part.apart, counts, part.beside)
    places = contracted + uncontracted
    return Voice(
        name=part.name,
        speeches=len(lengths),
        words=words,
        share=words / all_words if all_words else 0.0,
        scenes=len({scene for scene, _ in part.speeches} - {0}),
        pages=len({page_of[cue] for cue in cues if cue in page_of}),
        first_page=page_of.get(cues[0]),
        last_page=page_of.get(cues[-1]),
        longest_speech=longest,
        longest_speech_line=cues[lengths.index(longest)],
        words_a_speech=_mean(lengths),
        words_a_speech_spread=_spread(lengths),
        sentences=len(sentence_lengths),
        words_a_sentence=_mean(sentence_lengths),
        words_a_sentence_spread=_spread(sentence_lengths),
        questions=part.ends.count("?"),
        exclamations=part.ends.count("!"),
        contractions=contracted,
        not_contracted=uncontracted,
        contraction_rate=contracted / places if places else None,
        variety_of_words=mtld(part.words) if words >= FEWEST_WORDS else None,
        distinctive_words=distinctive_words(counts, together, all_words),
        favourite_openings=openings(part),
        speaks_to=spoken_to(part, to),
        silent_scenes=silent,
        counts=counts,
    )


def _silent_scenes(pages: LaidOut, parts: Mapping[str, SpokenPart]) -> dict[str, tuple[int, ...]]:
    """The scenes in which each character is named in action and says nothing."""
    scene_of = pages.script.scene_of
    return {
        name: tuple(sorted({scene_of[line - 1] for line in lines} - {scene for scene, _ in parts[name].speeches} - {0}))
        for name, lines in action_naming(pages.script, parts.keys()).items()
    }


def _mean(numbers: Sequence[int]) -> float:
    return sum(numbers) / len(numbers) if numbers else 0.0


def _spread(numbers: Sequence[int]) -> float:
    """The standard deviation of all of some numbers."""
    count = len(numbers)
    return sqrt(count * sum(map(mul, numbers, numbers)) - sum(numbers) ** 2) / count if numbers else 0.0
