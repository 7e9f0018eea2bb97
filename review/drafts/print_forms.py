"""The forms that ask how a draft is to be printed, and whose sides. Sent by GET: an address says what it prints."""

from __future__ import annotations

from typing import Any

from django import forms

from screenplay import Paper

PAPERS = {"letter": Paper.LETTER, "a4": Paper.A4}


class PaperForm(forms.Form):
    """`cleaned_data` has a Paper and two truths; what an address leaves out is Letter, and no."""

    use_required_attribute = False

    paper = forms.ChoiceField(
        label="Paper",
        required=False,
        initial="letter",
        choices=[("letter", "US Letter"), ("a4", "A4")],
        widget=forms.RadioSelect,
    )
    scene_numbers = forms.BooleanField(label="Scene numbers in both margins", required=False)

    def clean_paper(self) -> Paper:
        return PAPERS[self.cleaned_data["paper"] or "letter"]


class PrintForm(PaperForm):
    notes = forms.BooleanField(label="Open notes, listed after the script", required=False)


class SidesForm(PaperForm):
    def __init__(self, *args: Any, characters: list[str], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choices = [(name, name) for name in characters]
        self.fields["character"] = forms.ChoiceField(label="Character", choices=choices)
