"""The forms of the scenes: a word for a department, and the story days of a draft's scenes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms

from review.people.models import Department
from review.scenes.models import MOST_MARKED
from screenplay.words import words

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from review.scenes.breakdown import BreakdownRow

LAST_DAY = 9_999


class WordMarkForm(forms.Form):
    """A word, or a few, and the department that it is for."""

    words = forms.CharField(
        label="Word or words",
        max_length=MOST_MARKED,
        error_messages={"required": "Write the word as it stands in the script."},
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    department = forms.ChoiceField(label="Department", choices=Department.choices)
    form_id = forms.UUIDField(widget=forms.HiddenInput)

    def clean_words(self) -> str:
        text = str(self.cleaned_data["words"])
        if not words(text):
            raise forms.ValidationError("Write a word: letters or digits.")
        return text


class DaysForm(forms.Form):
    """A day for each scene of a draft, empty for as proposed."""

    def __init__(self, *args: Any, rows: Sequence[BreakdownRow], set_days: Mapping[int, int], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.rows = rows
        for row in rows:
            ordinal = row.needs.ordinal
            label = f"Story day of scene {row.number}"
            self.fields[f"day-{ordinal}"] = forms.IntegerField(
                min_value=1,
                max_value=LAST_DAY,
                required=False,
                initial=set_days.get(ordinal),
                error_messages={"invalid": "Write the day as a number.", "min_value": "The first day is 1."},
                widget=forms.NumberInput(attrs={"aria-label": label, "min": 1, "inputmode": "numeric"}),
            )

    @property
    def lines(self) -> list[tuple[BreakdownRow, forms.BoundField]]:
        """Each scene with its field."""
        return [(row, self[f"day-{row.needs.ordinal}"]) for row in self.rows]

    @property
    def days(self) -> dict[int, int | None]:
        """The days that a valid form sets, by ordinal."""
        return {row.needs.ordinal: self.cleaned_data[f"day-{row.needs.ordinal}"] for row in self.rows}
