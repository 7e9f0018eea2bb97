"""Whether a script reads as English, the one language of the word lists.

Told by how many of its action's words are the small ones without which no English is written: one in six at the least,
in scripts and in the stage directions of old plays, as counted; other languages have few words spelled alike.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.breakdown.list_files import plain_words
from screenplay.fountain import plain
from screenplay.model import Block, Kind
from screenplay.words import words

if TYPE_CHECKING:
    from screenplay.model import Screenplay

_SMALL = plain_words("grammar", "english", "small")
_FEWEST_WORDS = 40  # fewer say nothing
_LEAST_SHARE = 0.05


def reads_as_english(script: Screenplay) -> bool:
    """Whether its action does, or is too short to say."""
    told = [word.casefold() for line in _action(script) for word in words(line)]
    return len(told) < _FEWEST_WORDS or sum(word in _SMALL for word in told) >= _LEAST_SHARE * len(told)


def _action(script: Screenplay) -> list[str]:
    blocks = (each for each in script.elements if isinstance(each, Block) and each.kind is Kind.ACTION)
    return [plain(line) for block in blocks for line in block.lines]
