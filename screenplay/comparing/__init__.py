"""Two drafts held against each other: their scenes paired, their lines placed, their words told apart."""

from __future__ import annotations

from screenplay.comparing.comparison import Comparison, LineFate, LineFateKind, compare
from screenplay.comparing.line_origins import LineOrigins
from screenplay.comparing.ordering import in_order
from screenplay.comparing.renames import Rename, with_names_of_now
from screenplay.comparing.scene_fates import SceneFate, SceneFateKind
from screenplay.comparing.word_diff import WordChange, shares, word_changes

__all__ = [
    "Comparison",
    "LineFate",
    "LineFateKind",
    "LineOrigins",
    "Rename",
    "SceneFate",
    "SceneFateKind",
    "WordChange",
    "compare",
    "in_order",
    "shares",
    "with_names_of_now",
    "word_changes",
]
