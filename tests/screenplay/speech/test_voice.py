"""A character's speech in figures, counted by hand."""

from __future__ import annotations

from collections import Counter
from statistics import pstdev
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay import Kind, lay_out, parse, voices
from screenplay.fountain import runs
from screenplay.model import Speech
from screenplay.script import characters_of
from screenplay.speech.habits import SpokenTo
from screenplay.speech.speeches import sentences_on_lines, take_apart
from screenplay.speech.voice import Voice
from screenplay.words import count_words, words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.model import Screenplay

SCRIPT = """Title: Slack Water

INT. BOATHOUSE - NIGHT

NELL mends a net.

NELL
Tide turns at four. [[Check the tables.]]

TOBIAS (O.S.)
(from the slip)
Then we go at *three*. I am not waiting.

/* NELL
Cut this. */

EXT. SLIPWAY - DAWN

NELL
(to herself)
He didn't wait.
~Row, row the half-built boat
He's gone, and it is cold.

===

EXT. SLIPWAY - LATER

NELL (CONT'D)
Gone.

A GULL
(screams)
"""


def voices_of(text: str) -> dict[str, Voice]:
    return {voice.name: voice for voice in voices(lay_out(parse(text)))}


def test_figures_counted_by_hand() -> None:
    # Nell: 4 words, then 3 + 5 + 6 (half-built and didn't are one each), then 1. Tobias: 9.
    found = voices_of(SCRIPT)
    assert found["NELL"] == Voice(
        name="NELL",
        speeches=3,
        words=19,
        share=19 / 28,
        scenes=3,
        pages=2,
        first_page=1,
        last_page=2,
        longest_speech=14,
        longest_speech_line=19,
        words_a_speech=19 / 3,
        words_a_speech_spread=pstdev([4, 14, 1]),
        sentences=4,  # her song has no full stop, and goes on into "He's gone, and it is cold."
        words_a_sentence=19 / 4,
        words_a_sentence_spread=pstdev([4, 3, 11, 1]),
        questions=0,
        exclamations=0,
        contractions=2,  # didn't, he's
        not_contracted=1,  # it is
        contraction_rate=2 / 3,
        variety_of_words=None,  # of 19 words
        distinctive_words=(),
        favourite_openings=(),
        speaks_to=(SpokenTo("TOBIAS", 1, 4), SpokenTo("A GULL", 1, 1)),  # nobody else speaks in the second scene
        silent_scenes=(),
        counts=Counter(
            words("tide turns at four he didn't wait row row the half-built boat he's gone and it is cold gone")
        ),
    )
    assert (found["TOBIAS"].words, found["TOBIAS"].contractions, found["TOBIAS"].not_contracted) == (9, 0, 1)


def test_who_says_most_comes_first() -> None:
    assert [voice.name for voice in voices(lay_out(parse(SCRIPT)))] == ["NELL", "TOBIAS", "A GULL"]


def test_a_speech_without_a_word_is_still_a_speech() -> None:
    gull = voices_of(SCRIPT)["A GULL"]
    assert (gull.speeches, gull.words, gull.share, gull.longest_speech, gull.words_a_speech) == (1, 0, 0.0, 0, 0.0)
    assert gull.contraction_rate is None


def test_the_first_of_two_longest_speeches_is_named() -> None:
    assert voices_of("NELL\nOne two.\n\nRain.\n\nNELL\nTwo one.\n")["NELL"].longest_speech_line == 1


@given(st.permutations(["NELL", "@iris", "TOBIAS", "ADA", "@Éva"]))
def test_equals_stand_by_name_wherever_they_come_in_the_script(names: list[str]) -> None:
    script = lay_out(parse("".join(f"{name}\nNot yet.\n\n" for name in names)))
    assert [voice.name for voice in voices(script)] == ["ADA", "iris", "NELL", "TOBIAS", "Éva"]
    assert [one.name for one in characters_of(script.script)] == ["ADA", "iris", "NELL", "TOBIAS", "Éva"]


def test_somebody_whom_the_action_names_and_who_says_nothing_is_silent_there() -> None:
    text = "INT. A - DAY\n\nNELL\nNo.\n\nINT. B - DAY\n\nNell mends a net.\n\nINT. C - DAY\n\nThe knell of a bell.\n"
    assert voices_of(text)["NELL"].silent_scenes == (2,)


def test_questions_and_exclamations_are_told_by_how_a_sentence_ends() -> None:
    nell = voices_of("NELL\nWhat?! Mr. Orr said so. He... No! You? And I\n")["NELL"]
    assert (nell.sentences, nell.questions, nell.exclamations) == (6, 2, 1)


@pytest.mark.parametrize(
    ("said", "lengths"),
    [
        ("Tide turns. At four.", [2, 2]),
        ("I was... going to say.", [5]),
        ("I was... Never mind.", [2, 2]),
        ("I was… Never mind…", [2, 2]),
        ("Wait. . . what", [1, 1]),
        ("It cost 3.50 at the U.K. desk.", [7]),
        ("Ask Mrs. Orr.", [3]),
        ("No.\nNo, no.\nWhy", [1, 2, 1]),
        ("Ja。 Nein？", [1, 1]),
        ("!!!", []),
    ],
)
def test_the_sentences_of_a_speech(said: str, lengths: list[int]) -> None:
    speech = parse(f"NELL\n{said}\n").elements[0]
    assert isinstance(speech, Speech)
    apart = take_apart(speech, 0)
    assert apart.sentence_words == lengths
    assert [sentence.words for sentence in sentences_on_lines(apart)] == lengths


def test_a_script_without_speech_has_no_voices() -> None:
    assert voices(lay_out(parse("INT. SHED - DAY\n\nRain.\n"))) == ()
    assert voices(lay_out(parse(""))) == ()


def test_a_contraction_is_looked_for_within_a_line() -> None:
    found = voices_of("NELL\nDo\nnot go.\n\nTOBIAS\nDo not go.\n")
    assert (found["NELL"].not_contracted, found["TOBIAS"].not_contracted) == (0, 1)


def test_both_sides_of_dual_dialogue_are_counted() -> None:
    found = voices_of("NELL\nNow!\n\nTOBIAS ^\nNot yet!\n")
    assert (found["NELL"].words, found["TOBIAS"].words) == (1, 2)


SAID = st.lists(
    st.sampled_from(["I am", "it's", "(low)", "[[no]]", "*row*", "half-built", "...", "  ", "~la la"]), min_size=1
)
SPEECHES = st.tuples(
    st.sampled_from(
        ["NELL", "@Nell", "TOBIAS (O.S.)", "IRIS ^", "INT. SHED - DAY\n\nNELL", "Rain.\n\nIRIS", "/* x */"]
    ),
    SAID.map("\n".join),
).map("\n".join)


@settings(max_examples=150)
@given(st.lists(SPEECHES, max_size=12).map("\n\n".join))
def test_the_voices_of_any_speeches_keep_the_laws(text: str) -> None:
    screenplay = parse(text)
    found = voices(lay_out(screenplay))

    speeches_and_words_of_all_voices_are_the_script_s(found, screenplay)
    a_voice_agrees_with_the_script_s_own_count_of_the_character(found, screenplay)
    for voice in found:
        each_figure_keeps_within_its_bounds(voice)
        words_are_in_sentences_and_said_to_somebody_or_nobody(voice)


def speeches_and_words_of_all_voices_are_the_script_s(found: Sequence[Voice], screenplay: Screenplay) -> None:
    speeches = [element for element in screenplay.elements if isinstance(element, Speech) and element.lines]
    spoken = [
        count_words("".join(run.text for run in runs(line)))
        for speech in speeches
        for line in speech.lines
        if line.kind is not Kind.PARENTHETICAL
    ]
    assert sum(voice.speeches for voice in found) == len(speeches)
    assert sum(voice.words for voice in found) == sum(spoken)
    assert sum(voice.share for voice in found) == pytest.approx(1.0 if sum(spoken) else 0.0)


def a_voice_agrees_with_the_script_s_own_count_of_the_character(found: Sequence[Voice], screenplay: Screenplay) -> None:
    assert [(voice.name, voice.speeches, voice.words, voice.scenes) for voice in found] == [
        (character.name, character.speeches, character.words, character.scenes)
        for character in characters_of(screenplay)
    ]


def each_figure_keeps_within_its_bounds(voice: Voice) -> None:
    assert 0 <= voice.share <= 1
    assert voice.words_a_speech <= voice.longest_speech <= voice.words
    assert voice.contraction_rate is None or 0 <= voice.contraction_rate <= 1
    assert (voice.contraction_rate is None) == (voice.contractions + voice.not_contracted == 0)


def words_are_in_sentences_and_said_to_somebody_or_nobody(voice: Voice) -> None:
    assert voice.words_a_sentence * voice.sentences == pytest.approx(voice.words)
    assert sum(voice.counts.values()) == voice.words
    assert sum(to.words for to in voice.speaks_to) <= voice.words
    assert voice.name not in {to.name for to in voice.speaks_to}
    assert voice.questions + voice.exclamations <= voice.sentences
