"""What is asked before a production's scene numbers, or its pages, are locked or unlocked."""

from __future__ import annotations

from django import forms

LOCK, UNLOCK = "lock", "unlock"


class LockForm(forms.Form):
    """What is to be done, and the draft whose numbers, or whose pages, were shown."""

    act = forms.ChoiceField(choices=[(LOCK, "Lock"), (UNLOCK, "Unlock")])
    draft = forms.IntegerField(min_value=1)
