"""The words of what people said that say something by themselves, and those that most of them say."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
# Words that say nothing by themselves; common ones of English, listed here by hand.
_EMPTY_WORDS = (
    "a after an and are as at be been before but by did do does for from had has have he her here him his i if in into"
    " is it its me my no not of on or our she so than that the their them then there they this to too up us was we were"
    " what when where which who whose why will with would you your"
)
_EMPTY = frozenset(_EMPTY_WORDS.split())


def telling_words(saying: str) -> frozenset[str]:
    """The words of a saying that say something by themselves, whatever their case."""
    return frozenset(word.casefold() for word in _WORD.findall(saying)) - _EMPTY


def words_of_most(sayings: Sequence[str]) -> tuple[str, ...]:
    """The words that more than half of these sayings share, of two at least, each as it is written where it comes first
    and in that order."""
    said_by = Counter(word for saying in sayings for word in telling_words(saying))
    written = dict.fromkeys(word for saying in sayings for word in _WORD.findall(saying))
    first = {word.casefold(): word for word in reversed(written)}
    shared = [word for word, count in said_by.items() if count > 1 and count * 2 > len(sayings)]
    order = list(written)
    return tuple(sorted((first[word] for word in shared), key=order.index))
