"""The forms of the scenes: a word for a department, a scene's place in the order, the story days of a draft's scenes,
and which places are one."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from django import forms

from review.people.models import Department
from review.productions.said_names import TwoNamesForm
from review.scenes.models import LAST_DAY, MOST_MARKED
from screenplay.words import words

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from review.scenes.breakdown import BreakdownRow

_SEEN_DAY = re.compile(r"([0-9]{1,9})=([0-9]{1,9})")


class MarkedWordForm(forms.Form):
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


class MoveForm(forms.Form):
    """A scene of a draft, by ordinal, and the place in the order that it goes to, counted from 1."""

    scene = forms.IntegerField(min_value=1)
    to = forms.IntegerField(min_value=1)


class PlacesForm(TwoNamesForm):
    """A place, and the name of the one that it is, or is not."""

    two_names = "Choose two different places, neither of which is within the other: a name, and the place that it is."


class DaysForm(forms.Form):
    """A day for each scene of a draft, empty for as proposed; `seen` has those that were set when it was shown."""

    seen = forms.CharField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args: Any, rows: Sequence[BreakdownRow], set_days: Mapping[int, int], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.rows = rows
        self.fields["seen"].initial = _as_seen(set_days)
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

    @property
    def days_seen(self) -> dict[int, int]:
        """The days that were set when a valid form was shown, by ordinal."""
        return {int(scene): int(day) for scene, day in _SEEN_DAY.findall(self.cleaned_data["seen"])}

    def say_set_meanwhile(self, standing: Mapping[int, int], scenes: Iterable[int]) -> None:
        """Say at each of these scenes what was set meanwhile, and take what stands now as seen."""
        self.data = {**dict(self.data.items()), "seen": _as_seen(standing)}
        for scene in scenes:
            day = standing.get(scene)
            told = f"set day {day} here" if day else "took the day back that was set here"
            self.add_error(f"day-{scene}", f"Somebody {told} meanwhile. Save again to put yours in its place.")


def _as_seen(days: Mapping[int, int]) -> str:
    return " ".join(f"{scene}={day}" for scene, day in sorted(days.items()))
