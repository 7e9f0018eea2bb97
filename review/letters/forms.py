"""What a member is asked about their mail."""

from __future__ import annotations

from django import forms

from review.mail.models import Pace


class PaceForm(forms.Form):
    pace = forms.ChoiceField(
        label="When it comes",
        choices=Pace.choices,
        widget=forms.RadioSelect,
        help_text="At once is within a minute or two, and what happens in a row comes in one mail. Once a day is at "
        "seven in the morning.",
        error_messages={"required": "Choose one.", "invalid_choice": "Choose one of these."},
    )
