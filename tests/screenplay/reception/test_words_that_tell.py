"""Words that say something by themselves."""

from __future__ import annotations

from screenplay.reception import telling_words


def test_words_tell_whatever_their_case_and_those_that_every_sentence_has_do_not() -> None:
    assert telling_words("Who has the Key? NELL’s key, and it is lost.") == {"key", "nell’s", "lost"}
    assert telling_words("Who is it?") == frozenset()
