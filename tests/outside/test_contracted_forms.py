"""Contractions as we count them, beside how a tokenizer for English takes them apart.

Source: the Penn Treebank's conventions, as `nltk` from PyPI has them (tests/treebank.py). It parts n't, 'll,
're, 've, 'm, 's and 'd from what they lean on, possessives too; what it parts off that can be nothing but a verb or a
"not", we have to count, and we may count nothing that it leaves whole but what is named here.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

import review.demo
from screenplay import parse
from screenplay.fountain import plain
from screenplay.model import Speech
from tests.counted_contractions import count_contractions
from tests.plays import PLAYS, play_as_fountain
from tests.treebank import treebank_words

if TYPE_CHECKING:
    from collections.abc import Iterator

SURELY = frozenset({"n't", "'ll", "'re", "'ve", "'m"})
# `'t` for "it" in verse, whose last two letters look like a "not": to do it, an it please you.
OF_VERSE = frozenset({"on't", "in't", "upon't", "an't", "pardon't"})
DEMO = Path(review.demo.__file__).parent


def forms(name: str) -> set[str]:
    """The words with an apostrophe within that are said in a script."""
    return {
        word.lower().replace("’", "'")
        for line in said(name)
        for word in re.findall(r"[^\W\d_]+(?:['’][^\W\d_]+)+", line)
    }


def said(name: str) -> Iterator[str]:
    text = play_as_fountain(name) if name in PLAYS else (DEMO / f"{name}.fountain").read_text(encoding="utf-8")
    for element in parse(text).elements:
        if isinstance(element, Speech):
            yield from map(plain, element.lines)


@pytest.mark.parametrize("name", [*PLAYS, "first-draft", "second-draft"])
def test_what_a_tokenizer_parts_off_as_a_verb_or_a_not_is_counted(name: str) -> None:
    theirs = {form for form in forms(name) if treebank_words(form)[-1] in SURELY}

    assert len(theirs) > 5
    assert {form for form in theirs if count_contractions(form).contracted == 0} <= OF_VERSE


@pytest.mark.parametrize("name", [*PLAYS, "first-draft", "second-draft"])
def test_what_is_counted_a_tokenizer_takes_apart(name: str) -> None:
    ours = {form for form in forms(name) if count_contractions(form).contracted}

    assert len(ours) > 5
    assert [form for form in ours if len(treebank_words(form)) < 2] == []


@pytest.mark.parametrize("said", ["'tis so", "'twas so", "cannot"])
def test_older_forms_and_cannot_are_two_words_there_too(said: str) -> None:
    assert len(treebank_words(said)) == len(said.split()) + 1
    assert sum(count_contractions(said)) == 1
