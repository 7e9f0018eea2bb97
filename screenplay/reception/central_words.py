"""Of what several people said, that which most of them say."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
# Words that say nothing by themselves; common ones of English, listed here by hand.
_EMPTY_WORDS = (
    "a an and are as at be been but by did do does for from had has have he her here him his i if in into is it its me"
    " my no not of on or our she so than that the their them then there they this to too up us was we were what when"
    " where which who why will with would you your"
)
_EMPTY = frozenset(_EMPTY_WORDS.split())


def said_by_most(said: Sequence[str]) -> str:
    """The one of these sayings whose words most of the others have too; of equals the shortest, then the first.

    Empty where nobody said anything. A word counts by how many of the sayings have it, so that the saying is found that
    stands nearest to all of them.
    """
    sayings = [each.strip() for each in said if each.strip()]
    words = [telling_words(each) for each in sayings]
    shared = Counter(word for each in words for word in each)
    scores = [sum(shared[word] - 1 for word in each) for each in words]
    ranked = sorted(range(len(sayings)), key=lambda at: (-scores[at], len(sayings[at]), at))
    return sayings[ranked[0]] if ranked else ""


def telling_words(saying: str) -> frozenset[str]:
    """The words of a saying that say something by themselves, whatever their case."""
    return frozenset(word.casefold() for word in _WORD.findall(saying)) - _EMPTY
