"""The form that asks which notes are wanted. Sent by GET: an address says what it gives."""

from __future__ import annotations

from django import forms

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
