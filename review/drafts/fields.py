"""The fields that ask for a draft's text, pasted, and for its revision colour, of those its production has."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar

from django import forms

from review.drafts.colours import round_with

if TYPE_CHECKING:
    from collections.abc import Sequence

NULL_IN_TEXT = "There is a null character in the text, which is no letter and cannot be kept: take it out."


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


class PastedText(forms.CharField):
    """Pasted text as it was typed. Browsers send every line end as CRLF, whatever it was: each is a plain LF here."""

    default_error_messages: ClassVar = {"null_characters_not_allowed": NULL_IN_TEXT}

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(strip=False, **kwargs)

    def to_python(self, value: Any) -> str:
        return str(super().to_python(value) or "").replace("\r\n", "\n")
