"""How each character talks, how near their voices are, and what a writer has them always or never do."""

from __future__ import annotations

from screenplay.speech.behind_figures import Figure, LineBehind, lines_behind
from screenplay.speech.changed_figures import FIGURES, VoiceChange, voice_changes
from screenplay.speech.distinctive import DistinctiveWord
from screenplay.speech.habits import Opening, SpokenTo
from screenplay.speech.nearness import COMMONEST_WORDS, FEWEST_WORDS, DeltaMeasure, VoiceLikeness, likeness, measure_of
from screenplay.speech.part import LineBefore, PartSpeech, part_speeches
from screenplay.speech.voice import Voice, voices
from screenplay.speech.voice_rules import SCRIPTS, Breach, RuleKind, VoiceRule, breaches

__all__ = [
    "COMMONEST_WORDS",
    "FEWEST_WORDS",
    "FIGURES",
    "SCRIPTS",
    "Breach",
    "DeltaMeasure",
    "DistinctiveWord",
    "Figure",
    "LineBefore",
    "LineBehind",
    "Opening",
    "PartSpeech",
    "RuleKind",
    "SpokenTo",
    "Voice",
    "VoiceChange",
    "VoiceLikeness",
    "VoiceRule",
    "breaches",
    "likeness",
    "lines_behind",
    "measure_of",
    "part_speeches",
    "voice_changes",
    "voices",
]
