"""What is measured of speech, beside general libraries and direct readings of the papers.

Sources, each named beside its check: `lexicalrichness` and `pysbd` from PyPI; `nltk`'s Treebank tokenizer; and, by
numpy, the equations of Monroe, Colaresi, Quinn 2008 ("Fightin' Words", Political Analysis 16) and the steps of
Burrows 2002 ("'Delta'", Literary and Linguistic Computing 17), both from memory.
"""

from __future__ import annotations

import sys
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any
from unittest.mock import MagicMock, patch

import numpy as np
import pysbd
import pytest

import review.demo
from screenplay import LaidOut, lay_out, parse, voices
from screenplay.speech import COMMONEST_WORDS, FEWEST_WORDS, Figure, Voice, likeness, lines_behind
from screenplay.speech.distinctive import PRIOR_WORDS, weighted_log_odds
from screenplay.speech.speeches import spoken_parts
from screenplay.speech.variety import mtld
from tests.plays import PLAYS, play_as_fountain
from tests.treebank import treebank_words

DEMO = Path(review.demo.__file__).parent
SCRIPTS = (*PLAYS, "first-draft", "second-draft")


@cache
def pages_of(name: str) -> LaidOut:
    text = play_as_fountain(name) if name in PLAYS else (DEMO / f"{name}.fountain").read_text(encoding="utf-8")
    return lay_out(parse(text))


@cache
def voices_of(name: str) -> tuple[Voice, ...]:
    return voices(pages_of(name))


@pytest.fixture(scope="module")
def lexical_richness() -> Any:
    """The library's class, without what it imports to draw, fit and tag: that takes seconds, and this asks for none."""
    unasked = ("matplotlib", "matplotlib.pyplot", "pandas", "scipy", "scipy.optimize", "scipy.stats", "textblob")
    with patch.dict(sys.modules, {name: MagicMock() for name in unasked}):
        from lexicalrichness import LexicalRichness
    return LexicalRichness


@pytest.mark.parametrize("name", PLAYS)
def test_variety_is_what_lexicalrichness_measures(name: str, lexical_richness: Any) -> None:
    parts = spoken_parts(pages_of(name).script)
    long_enough = [voice for voice in voices_of(name) if voice.words >= FEWEST_WORDS]
    assert len(long_enough) > 8
    for voice in long_enough:
        words = parts[voice.name].words
        theirs = lexical_richness(words, preprocessor=None, tokenizer=None).mtld(threshold=0.72)
        assert voice.variety_of_words == mtld(words) == pytest.approx(theirs)


@pytest.mark.parametrize("name", PLAYS)
def test_distinctive_words_are_those_of_the_paper_s_equations(name: str) -> None:
    """Equations 15, 16, 20 and 22, from memory: y + alpha over n + alpha_0 - y - alpha, its log, the difference of two,
    and that by the root of its variance, 1 / (y + alpha) on either side."""
    every = voices_of(name)
    vocabulary = sorted(set().union(*(voice.counts for voice in every)))
    counts = np.array([[voice.counts.get(word, 0) for word in vocabulary] for voice in every], dtype=float)
    alpha = PRIOR_WORDS * counts.sum(axis=0) / counts.sum()
    for at, voice in enumerate(every[:6]):
        own, rest = counts[at], counts.sum(axis=0) - counts[at]
        omega = [(side + alpha) / (side.sum() + alpha.sum() - side - alpha) for side in (own, rest)]
        z = (np.log(omega[0]) - np.log(omega[1])) / np.sqrt(1 / (own + alpha) + 1 / (rest + alpha))
        theirs = {word: score for word, score, said in zip(vocabulary, z, own, strict=True) if said >= 3}
        first = sorted(theirs, key=lambda word: (-theirs[word], word))[: len(voice.distinctive_words)]
        assert len(voice.distinctive_words) > 3
        assert [one.word for one in voice.distinctive_words] == first
        assert [one.z for one in voice.distinctive_words] == pytest.approx([theirs[word] for word in first])


def test_the_prior_does_what_the_paper_says_it_does() -> None:
    """Known behaviour: of two words said by one side alone the more frequent is the more distinctive, and one that both
    sides say as often for their length is none; one said once is none either, which
    without a prior would be the most distinctive of all."""
    rare, frequent = (weighted_log_odds(times, 0, times * 0.1, 1000, 9000) for times in (3, 30))
    assert frequent > rare > 0
    assert weighted_log_odds(50, 450, 25.0, 1000, 9000) == pytest.approx(0, abs=0.05)
    assert 0 < weighted_log_odds(1, 0, 0.05, 1000, 9000) < 1.96


@pytest.mark.parametrize("name", PLAYS)
def test_likeness_is_delta_as_burrows_computes_it(name: str) -> None:
    """The commonest words of the whole set, each voice's share of each as a z-score by the set's mean and standard
    deviation, and the mean of the absolute differences of these."""
    every = voices_of(name)
    found = likeness(every)
    assert found is not None
    setting = [voice for voice in every if voice.words >= 100]
    together: Counter[str] = sum((Counter(voice.counts) for voice in setting), Counter())
    common = sorted(together, key=lambda word: (-together[word], word))[:COMMONEST_WORDS]
    shares = {voice.name: np.array([voice.counts.get(word, 0) for word in common]) / voice.words for voice in every}
    table = np.array([shares[voice.name] for voice in setting])
    mean, spread = table.mean(axis=0), table.std(axis=0, ddof=1)
    z = np.array([(shares[voice] - mean) / spread for voice in found.names])
    theirs = np.abs(z[:, None, :] - z[None, :, :]).mean(axis=2)
    assert len(found.names) > 8
    assert np.array(found.deltas) == pytest.approx(theirs)


# What pysbd does otherwise, and why: it goes on over "Peace! who comes here?", where small letters follow a mark; it
# takes the I of "and so am I. Kindly look" for an initial; and within quotation marks it ends no sentence.
MOST_OTHERWISE = {"hamlet": 0.06, "king-lear": 0.06, "first-draft": 0.03, "second-draft": 0.03}


@pytest.mark.parametrize("name", SCRIPTS)
def test_speeches_have_as_many_sentences_as_pysbd_finds(name: str) -> None:
    segmenter = pysbd.Segmenter(language="en", clean=False)
    said = [each for part in spoken_parts(pages_of(name).script).values() for each in part.said][:300]
    otherwise = 0
    for each in said:
        text = " ".join(line.text for line in each.speech.lines if line.kind != "parenthetical").strip()
        theirs = [one for one in segmenter.segment(text) if any(letter.isalnum() for letter in one)]
        otherwise += len(theirs) != len(each.sentence_words)
    assert otherwise / len(said) <= MOST_OTHERWISE[name]


# Places of disagreement with the Treebank's splitting, and why. It parts 's off a noun as it does off "it", whether
# it is a verb or a possessive; in verse it takes the end of on't and in't for a "not".
VERSE = frozenset({"on't", "in't", "upon't", "an't", "pardon't", "to't", "is't", "was't", "for't", "do't", "see't"})
NEVER_POSSESSIVE = frozenset({"n't", "'ll", "'re", "'ve", "'m"})


@pytest.mark.parametrize("name", ["first-draft", "second-draft"])
def test_contraction_rates_are_those_of_the_treebank_s_splitting(name: str) -> None:
    """Every voice contracts at least as often as it parts off what can be no possessive, and at most as often as it
    parts off anything."""
    script = pages_of(name).script
    for voice in voices_of(name):
        ours = lines_behind(script, voice.name, Figure.CONTRACTIONS)
        of_them = Counter(line.text[line.start : line.end].lower() for line in ours)
        speeches = lines_behind(script, voice.name, Figure.SPEECHES)
        parts = [treebank_words(line.text.replace("’", "'")) for line in speeches]
        surely = sum(part.lower() in NEVER_POSSESSIVE for line in parts for part in line)
        split = sum(part.lower() in NEVER_POSSESSIVE | {"'s", "'d"} for line in parts for part in line)
        double = sum(form.count("'") - 1 for form in of_them.elements())  # couldn't've is one form, and two splits
        assert surely - double <= voice.contractions <= split
