"""Which nouns stand for somebody: words for people, their kin and their work, by list and by the ending of a trade."""

from __future__ import annotations

from functools import lru_cache

from screenplay.breakdown.list_files import plain_words

PEOPLE = plain_words("grammar", "someone", "people") | plain_words("grammar", "children", "words")
_LISTED = PEOPLE | plain_words("grammar", "someone", "trades") | plain_words("grammar", "children", "kin")
_MAN = ("man", "men", "woman", "women", "maid")
_OF_A_TRADE = ("er", "or", "ist", "eer")
_NOT_OF_A_TRADE = plain_words("grammar", "someone", "no_trades")
_SHORTEST_TRADE = 5  # letters: usher
# Of words put together the last says what they are: wallpaper, floodwater.
_THINGS = tuple(sorted(plain_words("grammar", "someone", "no_trades_within")))


def is_listed_person(word: str) -> bool:
    """Whether a word is listed as one for people, one or several of them: boy, roofers, stuntman."""
    return word in _LISTED or word.removesuffix("s") in _LISTED or word.endswith(_MAN)


@lru_cache(maxsize=4096)
def is_person(word: str) -> bool:
    """Whether a noun is listed, or has the ending of a trade and is not known for a thing: verger, but not shutter."""
    one = word.removesuffix("s")
    if is_listed_person(word):
        return True
    ends = len(one) >= _SHORTEST_TRADE and one.endswith(_OF_A_TRADE)
    return ends and one not in _NOT_OF_A_TRADE and not one.endswith(_THINGS)
