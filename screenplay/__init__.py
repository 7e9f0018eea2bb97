"""The page: a screenplay's text in, knowledge of it out. Plain Python, and nothing of the people who read it."""

from __future__ import annotations

from screenplay.carry import carry, carry_character, carry_scene
from screenplay.compare import compare
from screenplay.emphasis import runs
from screenplay.layout import PageSetting, Paper, paginate
from screenplay.model import Kind, Screenplay
from screenplay.parse import parse
from screenplay.revise import revise
from screenplay.voices import voices
from screenplay.words import count_words, words

__all__ = [
    "Kind",
    "PageSetting",
    "Paper",
    "Screenplay",
    "carry",
    "carry_character",
    "carry_scene",
    "compare",
    "count_words",
    "paginate",
    "parse",
    "revise",
    "runs",
    "voices",
    "words",
]
