"""Which nouns stand for somebody: words for people, their kin and their work, by list and by the ending of a trade.

The endings -er and -or are as often a tool's, so that a word with one of them that is on no list only may be somebody.
"""

from __future__ import annotations

from functools import lru_cache

from screenplay.breakdown.list_files import plain_words

PEOPLE = plain_words("grammar", "someone", "people") | plain_words("grammar", "children", "words")
_LISTED = PEOPLE | plain_words("work", "work", "trades") | plain_words("grammar", "children", "kin")
_MAN = ("man", "men", "woman", "women", "maid")
_NO_MEN = plain_words("work", "work", "no_men")
_OF_A_TRADE = ("ist", "eer")
_OF_A_TRADE_OR_TOOL = ("er", "or")
_NOT_OF_A_TRADE = plain_words("work", "work", "no_trades")
_SHORTEST_TRADE = 5  # letters: usher
# Of words put together the last says what they are: wallpaper, floodwater.
_THINGS = tuple(sorted(plain_words("work", "work", "no_trades_within")))


@lru_cache(maxsize=4096)
def is_person(word: str) -> bool:
    """Whether a word is for somebody, one or several of them: boy, roofers, stuntman, oboist; but not specimen."""
    if word in _LISTED or word.removesuffix("s") in _LISTED:
        return True
    return (word.endswith(_MAN) and word not in _NO_MEN) or _ends(word, _OF_A_TRADE)


@lru_cache(maxsize=4096)
def may_be_person(word: str) -> bool:
    """Whether a word is for somebody, or may be by its ending: flagger, which a tool might be called too; but not
    shutter, which is known for a thing."""
    return is_person(word) or _ends(word, _OF_A_TRADE_OR_TOOL)


def _ends(word: str, endings: tuple[str, ...]) -> bool:
    one = word.removesuffix("s")
    ends = len(one) >= _SHORTEST_TRADE and one.endswith(endings)
    return ends and one not in _NOT_OF_A_TRADE and not one.endswith(_THINGS)
