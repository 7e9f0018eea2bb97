"""How each character talks."""

from __future__ import annotations

from screenplay.speech.voice import Voice, voices

__all__ = [
    "Voice",
    "voices",
]
