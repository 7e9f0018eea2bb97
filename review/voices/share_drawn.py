"""Who says how much of all that is said, as a picture: a bar for each character."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.pictures.shapes import Bar, DrawnMark, Picture, Tone, WrittenWords, cut
from review.voices.told_figures import percent

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from screenplay.speech import Voice

LABEL, LONGEST, ROW, BAR, LETTERS, MOST_VOICES = 130, 560, 24, 14, 18, 40


def draw_share(voices: Sequence[Voice], voice_address: Callable[[str], str]) -> Picture | None:
    """The shares of those who say most, MOST_VOICES at the most; None where nobody says a word. `voice_address` is
    where a character's voice is told of."""
    shown = [voice for voice in voices if voice.words][:MOST_VOICES]
    if not shown:
        return None
    most = shown[0].share
    return Picture(
        name="share",
        label="The share of all words under a cue that each character says",
        width=LABEL + LONGEST + 70,
        height=ROW * len(shown),
        marks=[_mark(voice, ROW * at, most, voice_address(voice.name)) for at, voice in enumerate(shown)],
    )


def _mark(voice: Voice, top: float, most: float, to: str) -> DrawnMark:
    length = LONGEST * voice.share / most
    middle = top + ROW / 2
    return DrawnMark(
        (
            WrittenWords(0, middle + 4, cut(voice.name, LETTERS)),
            Bar(LABEL, middle - BAR / 2, round(length, 1), BAR, Tone.STRONG),
            WrittenWords(LABEL + length + 6, middle + 4, percent(voice.share), 10, Tone.SOFT),
        ),
        f"{voice.name}: {percent(voice.share)}, {voice.words} words",
        f"{to}?lines=speeches#lines",
    )
