"""The page: a screenplay's text in, knowledge of it out. Plain Python, and nothing of the people who read it."""

from __future__ import annotations

from screenplay.breakdown import break_down
from screenplay.comparing import compare
from screenplay.fountain import parse
from screenplay.model import Kind, Screenplay, Span
from screenplay.next_draft import carry, carry_character, carry_scene, merge, revise
from screenplay.page import PageSetting, PaperSize, paginate
from screenplay.script import LaidOut, lay_out
from screenplay.speech import voices

__all__ = [
    "Kind",
    "LaidOut",
    "PageSetting",
    "PaperSize",
    "Screenplay",
    "Span",
    "break_down",
    "carry",
    "carry_character",
    "carry_scene",
    "compare",
    "lay_out",
    "merge",
    "paginate",
    "parse",
    "revise",
    "voices",
]
