"""The page: a screenplay's text in, knowledge of it out. Plain Python, and nothing of the people who read it."""

from __future__ import annotations

from screenplay.comparing.compare import compare
from screenplay.fountain.emphasis import runs
from screenplay.fountain.parse import parse
from screenplay.model import Kind, Screenplay
from screenplay.next_draft.carry import carry, carry_character, carry_scene
from screenplay.next_draft.edits import revise
from screenplay.page.layout import PageSetting, Paper, paginate
from screenplay.script import LaidOut, lay_out
from screenplay.speech.voices import voices
from screenplay.words import count_words, words

__all__ = [
    "Kind",
    "LaidOut",
    "PageSetting",
    "Paper",
    "Screenplay",
    "carry",
    "carry_character",
    "carry_scene",
    "compare",
    "count_words",
    "lay_out",
    "paginate",
    "parse",
    "revise",
    "runs",
    "voices",
    "words",
]
