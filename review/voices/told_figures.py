"""The figures of a voice as they are told on screen: what each is called, how it is written, and what it is."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.speech import Figure, Voice

if TYPE_CHECKING:
    from collections.abc import Callable


@dataclass(frozen=True, slots=True)
class ToldFigure:
    """A figure: what it is called, which is its name in Voice, how a voice has it in words, what it is, how much it is
    as a number, None where that is withheld, and the lines behind it."""

    label: str
    of: Callable[[Voice], str]
    meaning: str
    amount: Callable[[Voice], float | None]
    lines: Figure = Figure.SPEECHES

    def briefly(self, voice: Voice) -> str:
        """The same in words without what stands behind it: "67 %" of "67 % (2 of 3)"."""
        return re.split(r" (?:±|\(|words$)", self.of(voice))[0]


def percent(share: float) -> str:
    """A share from 0 to 1 as a whole percentage; one that is there but rounds to nothing is under 1 %."""
    return "under 1 %" if 0 < share < 0.005 else f"{share:.0%}".replace("%", " %")


def _contracted(voice: Voice) -> str:
    if voice.contraction_rate is None:
        return "none to count"
    places = voice.contractions + voice.not_contracted
    return f"{percent(voice.contraction_rate)} ({voice.contractions} of {places})"


def _of_sentences(count: int, voice: Voice) -> str:
    return f"{count} ({percent(count / voice.sentences)})" if voice.sentences else "0"


WITHHELD = "–"  # of a voice that is too short; a page says so once
TOLD = (
    ToldFigure(
        "Words",
        lambda voice: f"{voice.words}",
        "Said or sung; no parentheticals.",
        lambda voice: voice.words,
    ),
    ToldFigure("Share", lambda voice: percent(voice.share), "Of all words under a cue.", lambda voice: voice.share),
    ToldFigure(
        "Speeches",
        lambda voice: f"{voice.speeches}",
        "Cues with something under them.",
        lambda voice: voice.speeches,
    ),
    ToldFigure("Scenes", lambda voice: f"{voice.scenes}", "With a speech of theirs.", lambda voice: voice.scenes),
    ToldFigure(
        "Silent scenes",
        lambda voice: f"{len(voice.silent_scenes)}",
        "The action names them, and they say nothing.",
        lambda voice: len(voice.silent_scenes),
        Figure.SILENT_SCENES,
    ),
    ToldFigure("Pages", lambda voice: f"{voice.pages}", "On which they begin to speak.", lambda voice: voice.pages),
    ToldFigure(
        "Longest speech",
        lambda voice: f"{voice.longest_speech} words",
        "The most words under one cue.",
        lambda voice: voice.longest_speech,
        Figure.LONGEST_SPEECH,
    ),
    ToldFigure(
        "Words a speech",
        lambda voice: f"{voice.words_a_speech:.1f} ± {voice.words_a_speech_spread:.1f}",
        "The mean, and the standard deviation.",
        lambda voice: voice.words_a_speech,
    ),
    ToldFigure(
        "Words a sentence",
        lambda voice: f"{voice.words_a_sentence:.1f} ± {voice.words_a_sentence_spread:.1f}",
        "A sentence ends with . ? ! or the speech. The lines are the longest.",
        lambda voice: voice.words_a_sentence,
        Figure.LONG_SENTENCES,
    ),
    ToldFigure(
        "Questions",
        lambda voice: _of_sentences(voice.questions, voice),
        "Sentences that end with a question mark.",
        lambda voice: voice.questions,
        Figure.QUESTIONS,
    ),
    ToldFigure(
        "Exclamations",
        lambda voice: _of_sentences(voice.exclamations, voice),
        "Sentences that end with an exclamation mark.",
        lambda voice: voice.exclamations,
        Figure.EXCLAMATIONS,
    ),
    ToldFigure(
        "Contractions",
        _contracted,
        "Contracted forms, of these and the places that could have been one.",
        lambda voice: voice.contraction_rate,
        Figure.CONTRACTIONS,
    ),
    ToldFigure(
        "Not contracted",
        lambda voice: f"{voice.not_contracted}",
        "Places that could have contracted: “it is”, “do not”.",
        lambda voice: voice.not_contracted,
        Figure.NOT_CONTRACTED,
    ),
    ToldFigure(
        "Variety of words",
        lambda voice: WITHHELD if voice.variety_of_words is None else f"{voice.variety_of_words:.0f}",
        "MTLD: the mean run of words over which most are new (McCarthy, Jarvis 2010).",
        lambda voice: voice.variety_of_words,
    ),
)
