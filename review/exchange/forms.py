"""The forms that ask which notes are wanted, by GET, so that an address says what it gives; and for a file of them."""

from __future__ import annotations

from typing import Any

from django import forms

from review.exchange.read_annotations import UnreadableFile, read_annotations
from review.exchange.taken_notes import WhichNotes

ALL, OPEN = "all", "open"


class TakeForm(forms.Form):
    """`choice` is what was chosen; whatever an address says otherwise is the preset: all notes, and none of those for
    the writer's eyes only."""

    use_required_attribute = False

    which = forms.ChoiceField(
        label="Which notes",
        required=False,
        initial=ALL,
        choices=[(ALL, "All that stand"), (OPEN, "Those nobody has decided yet")],
        widget=forms.RadioSelect,
    )
    for_writers_too = forms.BooleanField(label="Those for the writer’s eyes only too", required=False)

    @property
    def choice(self) -> WhichNotes:
        self.is_valid()
        told = self.cleaned_data
        return WhichNotes(only_open=told.get("which") == OPEN, for_writers_too=told["for_writers_too"])


class BringForm(forms.Form):
    """Asks for a file of annotations, or has again what was `told` in one. `cleaned_data` has it `read`; `sure` says
    that it was looked at."""

    use_required_attribute = False

    file = forms.FileField(label="File of annotations", required=False, help_text="Up to 4 MiB, .jsonld or .json.")
    told = forms.CharField(required=False, strip=False, widget=forms.HiddenInput)
    sure = forms.BooleanField(required=False)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        file = cleaned.get("file")
        told: bytes = file.read() if file else str(cleaned.get("told") or "").encode("utf-8", "replace")
        if not told:
            raise forms.ValidationError("Choose a file first.")
        try:
            cleaned["read"] = read_annotations(told)
        except UnreadableFile as why:
            raise forms.ValidationError(str(why)) from None
        self.told_again = told.decode("utf-8-sig")
        return cleaned
