"""The form by which a writer says of two cues whether they are one character's."""

from __future__ import annotations

from review.productions.said_names import TwoNamesForm


class CuesForm(TwoNamesForm):
    """A cue, and the name of the character that it is, or is not."""

    two_names = "Choose two different names: one cue, and whose it is."
