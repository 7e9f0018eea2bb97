"""How long the words that changed in a very long text take to find: against difflib's time for a small part of them."""

from __future__ import annotations

from difflib import SequenceMatcher

from screenplay.comparing import word_changes
from tests.bench.stopwatch import least_until, seconds

BEFORE, AFTER = "a rope and a bell ", "a bell and a rope "


def test_two_hundred_thousand_words_take_no_longer_than_difflib_takes_for_500() -> None:
    """Its time grows with the cube of these: it would take years for them all."""
    few = (BEFORE * 100).split(), (AFTER * 100).split()
    assert len(few[0]) == 500
    theirs = seconds(lambda: SequenceMatcher(None, *few, autojunk=False).get_opcodes())

    assert least_until(lambda: word_changes(BEFORE * 40_000, AFTER * 40_000), enough=theirs) <= theirs
