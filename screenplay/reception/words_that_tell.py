"""The words of what somebody said that say something by themselves."""

from __future__ import annotations

import re

_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
# Words that say nothing by themselves; common ones of English, listed here by hand.
_EMPTY_WORDS = (
    "a an and are as at be been but by did do does for from had has have he her here him his i if in into is it its me"
    " my no not of on or our she so than that the their them then there they this to too up us was we were what when"
    " where which who why will with would you your"
)
_EMPTY = frozenset(_EMPTY_WORDS.split())


def telling_words(saying: str) -> frozenset[str]:
    """The words of a saying that say something by themselves, whatever their case."""
    return frozenset(word.casefold() for word in _WORD.findall(saying)) - _EMPTY
