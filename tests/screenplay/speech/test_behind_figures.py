"""The lines behind a figure add up to it."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay import lay_out, parse, voices
from screenplay.speech import Figure, lines_behind
from screenplay.words import count_words

SAID = ["I'm here.", "I am here.", "Do not go! Why?", "So? *So*.", "the half-built boat", "...", "Well, Tobias, no."]
CUES = ["NELL", "TOBIAS", "INT. SHED - DAY\n\nNELL", "Nell rows.\n\nTOBIAS", "INT. B\n\nNell waits.\n\nIRIS"]
SPEECHES = st.tuples(st.sampled_from(CUES), st.lists(st.sampled_from(SAID), min_size=1, max_size=3).map("\n".join)).map(
    "\n".join
)


@settings(max_examples=40)
@given(st.lists(SPEECHES, max_size=10).map("\n\n".join))
def test_each_figure_s_lines_are_as_many_as_it_says(text: str) -> None:
    script = parse(text)
    for voice in voices(lay_out(script)):
        found = {figure: lines_behind(script, voice.name, figure) for figure in Figure}
        ends = {figure: [line.text[: line.end][-1:] for line in lines] for figure, lines in found.items()}
        assert sum(count_words(line.text) for line in found[Figure.SPEECHES]) == voice.words
        assert sum(count_words(line.text) for line in found[Figure.LONGEST_SPEECH]) == voice.longest_speech
        assert len(found[Figure.CONTRACTIONS]) == voice.contractions
        assert len(found[Figure.NOT_CONTRACTED]) == voice.not_contracted
        assert ends[Figure.QUESTIONS].count("?") == voice.questions
        assert ends[Figure.EXCLAMATIONS].count("!") == voice.exclamations
        assert {line.scene for line in found[Figure.SILENT_SCENES]} == set(voice.silent_scenes)
        for word, times in voice.counts.items():
            assert len(lines_behind(script, voice.name, Figure.WORD, word)) == times
        for opening in voice.favourite_openings:
            assert len(lines_behind(script, voice.name, Figure.OPENING, opening.words)) == opening.times
        for to in voice.speaks_to:
            lines = lines_behind(script, voice.name, Figure.SPEAKS_TO, to.name)
            assert sum(count_words(line.text) for line in lines) == to.words


def test_what_counts_of_a_line_is_marked() -> None:
    script = parse("INT. A - DAY\n\nNELL\nSo I *am* here. It's wet.\n")
    (could,) = lines_behind(script, "NELL", Figure.NOT_CONTRACTED)
    assert (could.scene, could.line, could.text[could.start : could.end]) == (1, 4, "I am")
    assert lines_behind(script, "NOBODY", Figure.SPEECHES) == ()
