"""What each scene needs: when it is light, the cautions found in it, and the words that may concern a department."""

from __future__ import annotations

from screenplay.breakdown.caution_lists import caution_names
from screenplay.breakdown.cautions import Find, cautions_of
from screenplay.breakdown.light import lights
from screenplay.breakdown.trade_words import ListedWords, trade_keys, trade_words_in

__all__ = [
    "Find",
    "ListedWords",
    "caution_names",
    "cautions_of",
    "lights",
    "trade_keys",
    "trade_words_in",
]
