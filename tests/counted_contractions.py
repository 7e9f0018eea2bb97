"""The contractions of a text, counted as those of a speech are."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from screenplay.speech.contractions import TOLD_BY_THEIR_NEIGHBOURS, count_in, straight
from screenplay.words import words_and_stops_of

if TYPE_CHECKING:
    from screenplay.speech.contractions import Contractions


def count_contractions(text: str) -> Contractions:
    said = words_and_stops_of([straight(text)])
    return count_in(said, Counter(said), [at for at, word in enumerate(said) if word in TOLD_BY_THEIR_NEIGHBOURS])
