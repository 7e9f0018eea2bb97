"""Verse, prose and prose broken by hand, set in several types and measures by another library and read back.

Source: reportlab from PyPI sets the PDFs by the measures of its own fonts (tests/typed_pdf.py). The texts are ours.
"""

from __future__ import annotations

from textwrap import wrap

import pytest

from screenplay import parse
from tests.read_back import Element, elements_of, read_here, share_alike
from tests.typed_pdf import Part, Sheets, set_script

VERSE = """
The ferry leaves its rope upon the quay
And turns its lamp to where the channel bends;
I counted all the years it brought to me,
And all it carried off, and called them friends.

Who keeps the tally when the keeper sleeps?
The tide will have its own account of this:
It takes the stones we pile in tidy heaps
And grinds them down to something we shall miss.

My mother said the river had a name
That none but drowned men ever learned to say.
I shouted every word I knew in shame,
And every one of them it took away.

So let the morning find me at the oar,
With salt upon my sleeve and in my bread,
Though nobody is waiting on the shore
Except the gulls, who know that I have said

That I would cross it once and not come home.
They hold me to it, wheeling in the spray;
They write it out in feathers and in foam
And read it to me at the end of day.

Yet I have crossed, and crossed, and here I stand,
As dry as chalk and twice as white with fear,
An honest fare held tightly in my hand
For him who has not come in forty year.
""".strip()

PROSE = """
I told the harbour office twice that the chain was worn, and twice they sent a boy with a pot of grey paint, as if rust
were a matter of opinion and could be talked round by anybody with a clean brush and an hour to spare.

You may laugh, but a man who has hauled wet rope since he was nine knows the sound a bad link makes; it sings a little,
a quarter of a tone under the rest, and after that you have a week, or you have an afternoon, and nobody will tell you
which of them it is.

There was a woman from the council here, very civil, with a folder under her arm. She asked me what the ferry was for.
I said it was for getting to the other side, and she wrote that down, underlined it, and thanked me for my trouble.

If the bridge is built they will want somebody to sit in a glass box and take the money, and they have let me know that
it might be me. I should have a heater. I should have a window on each side, and see the water go by underneath without
once being asked to do anything about it.

Sit down, then, and I will tell you how it was the night the lamp went out, for there are four who tell it, and three of
them were in bed.
""".strip()

TIMES = Sheets(font="Times-Roman", pitch=14, rows=44, left=100, dialogue=(70, 250), cue=150, scene_numbers=True)
TIMES_NARROW = Sheets(
    font="Times-Italic", size=11, rows=50, left=120, action_width=380, dialogue=(60, 200), cue=130, scene_numbers=True
)
HELVETICA = Sheets(paper="a4", font="Helvetica", size=11, pitch=13.2, rows=48, left=80, dialogue=(60, 280), cue=170)
ALL_SHEETS = {"courier": Sheets(), "times": TIMES, "times narrow": TIMES_NARROW, "helvetica": HELVETICA}


def speeches(text: str) -> list[list[str]]:
    return [speech.splitlines() for speech in text.split("\n\n")]


VERSE_SPEECHES = speeches(VERSE)
PROSE_SPEECHES = [[" ".join(lines)] for lines in speeches(PROSE)]


def script(said: list[list[str]]) -> list[Part]:
    """A scene in which two people say these lines in turn."""
    parts: list[Part] = [("scene_heading", "EXT. FERRY STAGE - DAWN"), ("action", "Fog. A bell, a long way off.")]
    for index, lines in enumerate(said):
        parts += [("character", "IVO" if index % 2 else "MARET"), *(("dialogue", line) for line in lines)]
    return parts


def share_that_comes_back(said: list[list[str]], sheets: str) -> float:
    parts = script(said)
    again = parse(read_here(set_script(parts, ALL_SHEETS[sheets])).text)
    after = [one._replace(kind="dialogue") if one.kind == "lyric" else one for one in elements_of(again, numbers=False)]
    return share_alike([Element(*part) for part in parts], after)


@pytest.mark.parametrize("sheets", ALL_SHEETS)
def test_verse_comes_back_line_by_line(sheets: str) -> None:
    assert share_that_comes_back(VERSE_SPEECHES, sheets) >= 0.98


@pytest.mark.parametrize("sheets", ALL_SHEETS)
def test_each_speech_in_prose_comes_back_as_one_line(sheets: str) -> None:
    assert share_that_comes_back(PROSE_SPEECHES, sheets) >= 0.98


@pytest.mark.parametrize("characters", [44, 50])
@pytest.mark.parametrize("sheets", ["courier", "times", "helvetica"])
def test_prose_broken_by_hand_between_verse_keeps_its_lines(sheets: str, characters: int) -> None:
    by_hand = [wrap(line, characters) for [line] in PROSE_SPEECHES]
    in_turn = [lines for pair in zip(VERSE_SPEECHES, by_hand, strict=False) for lines in pair]

    assert share_that_comes_back(in_turn, sheets) >= 0.98
