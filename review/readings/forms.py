"""What is asked when a reading is opened, changed or opened again, and what a reader says at a scene's end."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby
from typing import TYPE_CHECKING, Any

from django import forms
from django.utils import timezone

from review.access import Role
from review.notes.forms import WrittenText
from review.people.models import Department
from review.readers.models import MOST_LOOK_FOR
from review.readings.acts import Asked
from review.readings.models import MOST_WHY, ClarityWord

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.http import QueryDict

    from review.people.models import Member

USUAL_TIME = timedelta(days=7)
BLIND = (
    ("yes", "Keep them from each other until each has finished"),
    ("no", "Let everybody read everything from the start"),
)


@dataclass(frozen=True, slots=True)
class DepartmentChoice:
    """A department and those of it who can be asked, each with whether they are chosen; `is_chosen` of it whole."""

    value: str
    label: str
    is_chosen: bool
    members: tuple[tuple[Member, bool], ...]


def _until_default() -> date:
    return timezone.localdate() + USUAL_TIME


def until_to_offer(until: date) -> date:
    """The date a reading has, to be kept or changed; once it is past, the usual time from today."""
    return until if until >= timezone.localdate() else _until_default()


class AskForm(forms.Form):
    """Until when, and what to look for."""

    use_required_attribute = False

    until = forms.DateField(
        label="Until",
        initial=_until_default,
        widget=forms.DateInput(attrs={"type": "date", "data-kept": ""}, format="%Y-%m-%d"),
        error_messages={"required": "Say until when you would like it read."},
        help_text="The end of that day. The reading stays open until you close it, so that nobody is cut off.",
    )
    look_for = WrittenText(
        label="What to look for",
        required=False,
        max_length=MOST_LOOK_FOR,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="If there is something: “Does the second half hold? Read it in one sitting.”",
    )

    def clean_until(self) -> date:
        until: date = self.cleaned_data["until"]
        if until < timezone.localdate():
            raise forms.ValidationError("This day is past. Choose today or a later day.")
        return until

    @property
    def asked(self) -> Asked:
        """What the form asks for, once it is valid."""
        return Asked(self.cleaned_data["until"], self.cleaned_data["look_for"])


class ReadersField(forms.Form):
    """Who reads: members one by one, or departments whole. `chosen` are they, once the form is valid."""

    use_required_attribute = False

    def __init__(self, members: Iterable[Member], data: QueryDict | None = None, **kwargs: Any) -> None:
        super().__init__(data, label_suffix="", **kwargs)
        by_department = sorted(members, key=lambda member: (member.get_department_display(), member.name))
        self.can_be_asked = [member for member in by_department if member.role != Role.WRITER]
        self.fields["members"] = forms.MultipleChoiceField(
            choices=[(member.public_id, member.name) for member in self.can_be_asked], required=False
        )
        self.fields["departments"] = forms.MultipleChoiceField(choices=Department.choices, required=False)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if not self.errors and not self.chosen:
            self.add_error("members", "Choose at least one person or department.")
        return cleaned

    @property
    def chosen(self) -> list[Member]:
        names = set(self.cleaned_data.get("members", ()))
        departments = set(self.cleaned_data.get("departments", ()))
        return [each for each in self.can_be_asked if each.public_id in names or each.department in departments]

    @property
    def groups(self) -> list[DepartmentChoice]:
        """The choice as it is shown: everybody is chosen at first, and afterwards whom the form named."""
        names = set(self.data.getlist("members")) if self.is_bound else None  # type: ignore[attr-defined]  # a QueryDict
        whole = set(self.data.getlist("departments")) if self.is_bound else set()  # type: ignore[attr-defined]  # the same
        groups = groupby(self.can_be_asked, key=lambda member: member.department)
        return [
            DepartmentChoice(
                value,
                Department(value).label,
                value in whole,
                tuple((member, names is None or member.public_id in names) for member in members),
            )
            for value, members in groups
        ]

    @property
    def chosen_at_first(self) -> int:
        """How many are chosen as the form is shown, one by one or with their departments."""
        return sum(group.is_chosen or is_chosen for group in self.groups for _, is_chosen in group.members)


class ReadingForm(AskForm, ReadersField):
    """A new reading: who, until when, what to look for, and whether they are kept from each other."""

    form_id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    blind = forms.ChoiceField(
        label="Notes and marks of other readers",
        choices=BLIND,
        initial="yes",
        widget=forms.RadioSelect({"data-kept": ""}),
        help_text="This holds as long as the reading lasts. You see everything from the start.",
    )

    field_order = ["form_id", "members", "departments", "until", "look_for", "blind"]

    @property
    def is_blind(self) -> bool:
        return bool(self.cleaned_data["blind"] == "yes")


class ClarityForm(forms.Form):
    """A clarity mark, with a word why if the reader likes."""

    mark = forms.ChoiceField(
        choices=ClarityWord.choices,
        error_messages={"required": "Choose one of the three.", "invalid_choice": "Choose one."},
    )
    why = forms.CharField(
        required=False,
        max_length=MOST_WHY,
        error_messages={"max_length": f"A word or two: {MOST_WHY} characters at most. For more, leave a note."},
    )
