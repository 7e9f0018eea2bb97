"""What a picture that stands by itself has of its own: its colours, on white paper, and a margin."""

from __future__ import annotations

from review.pictures.shapes import Tone

# But for paper and faint, each has three times the paper's contrast at least (WCAG 2.2, 1.4.11).
COLOURS: dict[str, str] = {
    Tone.INK: "#26221d",
    Tone.STRONG: "#1d4d6b",
    Tone.SOFT: "#5e574d",
    Tone.MIDDLE: "#8b8479",
    Tone.FAINT: "#ddd7cb",
    Tone.PAPER: "#ffffff",
}

MARGIN = 12  # units on each side
