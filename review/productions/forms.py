"""What is asked when a production begins."""

from __future__ import annotations

import uuid

from django import forms


class ProductionForm(forms.Form):
    form_id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    name = forms.CharField(
        label="What is it called?",
        max_length=120,
        help_text="The title as it stands for now.",
        error_messages={"required": "Say what the production is called."},
    )
