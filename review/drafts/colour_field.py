"""The field that asks for a draft's revision colour, of those that its production has."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms

from review.drafts.colours import round_with

if TYPE_CHECKING:
    from collections.abc import Sequence


class ColourField(forms.ChoiceField):
    """Offers the round of a production's colours that the preset one is in.

    What is sent is taken in any case, and given as it is spelled here.
    """

    def __init__(self, preset: str, order: Sequence[str], **kwargs: Any) -> None:
        self.colours = round_with(preset, order)
        choices = [(colour, colour) for colour in self.colours]
        super().__init__(choices=choices, initial=preset, widget=forms.RadioSelect, **kwargs)

    def to_python(self, value: Any) -> str:
        sent = super().to_python(value)
        return next((colour for colour in self.colours if colour.casefold() == sent.casefold()), sent)
