"""The form by which a writer says of two cues whether they are one character's."""

from __future__ import annotations

from typing import Any

from django import forms

from review.characters.models import MOST_NAME
from screenplay.fountain import same_name

TWO_NAMES = "Choose two different names: one cue, and whose it is."
TOO_LONG = f"A name can have {MOST_NAME} characters here, and one of these has more. Shorten it in the script first."


class CuesForm(forms.Form):
    """A cue, and the name of the character that it is, or is not."""

    cue = forms.CharField(max_length=MOST_NAME, error_messages={"required": TWO_NAMES, "max_length": TOO_LONG})
    name = forms.CharField(max_length=MOST_NAME, error_messages={"required": TWO_NAMES, "max_length": TOO_LONG})

    def clean(self) -> dict[str, Any]:
        said = super().clean() or self.cleaned_data
        if not self.errors and same_name(said["cue"]) == same_name(said["name"]):
            raise forms.ValidationError(TWO_NAMES)
        return said

    @property
    def sentences(self) -> list[str]:
        """What is wrong with the form, each once."""
        return list(dict.fromkeys(str(told) for errors in self.errors.values() for told in errors))
