"""How each character talks, how near their voices are, and what a writer has them always or never do."""

from __future__ import annotations

from screenplay.speech.behind_figures import Figure, LineBehind, lines_behind
from screenplay.speech.changed_figures import voice_changes
from screenplay.speech.nearness import (
    COMMONEST_WORDS,
    FEWEST_WORDS,
    FEWEST_WORDS_TO_SET,
    DeltaMeasure,
    VoiceLikeness,
    likeness,
    measure_of,
)
from screenplay.speech.part import part_speeches, silent_scenes
from screenplay.speech.voice import Voice, voices
from screenplay.speech.voice_rules import SCRIPTS, Breach, RuleKind, VoiceRule, breaches

__all__ = [
    "COMMONEST_WORDS",
    "FEWEST_WORDS",
    "FEWEST_WORDS_TO_SET",
    "SCRIPTS",
    "Breach",
    "DeltaMeasure",
    "Figure",
    "LineBehind",
    "RuleKind",
    "Voice",
    "VoiceLikeness",
    "VoiceRule",
    "breaches",
    "likeness",
    "lines_behind",
    "measure_of",
    "part_speeches",
    "silent_scenes",
    "voice_changes",
    "voices",
]
