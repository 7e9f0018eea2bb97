"""The page: a screenplay's text in, knowledge of it out. Plain Python, and nothing of the people who read it."""

from __future__ import annotations

from screenplay.emphasis import runs
from screenplay.layout import Paper, paginate
from screenplay.model import Kind, Screenplay
from screenplay.parse import parse
from screenplay.words import count_words, words

__all__ = ["Kind", "Paper", "Screenplay", "count_words", "paginate", "parse", "runs", "words"]
