"""What is asked of a talk: when, where, who comes; and what somebody says in it."""

from __future__ import annotations

import uuid
from dataclasses import replace
from datetime import datetime, time, timedelta
from typing import TYPE_CHECKING, Any

from django import forms
from django.utils import timezone

from review.notes.forms import MOST_CHARACTERS, OnceForm, WrittenText
from review.notes.models import NoteKind
from review.readings.forms import ReadersField
from review.talks.acts import When
from review.talks.models import MOST_PLACE

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from review.people.models import Member
    from review.readings.forms import DepartmentChoice
    from review.talks.models import Talk

LENGTHS = [(30, "Half an hour"), (60, "An hour"), (90, "An hour and a half"), (120, "Two hours"), (180, "Three hours")]
USUAL_TIME = time(18)
KEPT = {"data-kept": ""}  # on the device, with the words that are half typed
OTHER_LINES = "These are lines of another scene. Choose them again."


def _tomorrow() -> str:
    return (timezone.localdate() + timedelta(days=1)).isoformat()


class TalkForm(ReadersField):
    """When, where, and who comes."""

    asked_before: frozenset[str] | None = None

    form_id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    seen = forms.IntegerField(widget=forms.HiddenInput(KEPT), initial=0, min_value=0)
    day = forms.DateField(
        label="Day",
        initial=_tomorrow,
        widget=forms.DateInput(attrs={"type": "date", **KEPT}, format="%Y-%m-%d"),
        error_messages={"required": "Say on which day.", "invalid": "Give the day as year, month and day."},
    )
    time = forms.TimeField(
        label="From",
        initial=USUAL_TIME,
        widget=forms.TimeInput(attrs={"type": "time", **KEPT}, format="%H:%M"),
        error_messages={"required": "Say when it begins.", "invalid": "Give the time as hours and minutes."},
    )
    minutes = forms.TypedChoiceField(
        label="It lasts", choices=LENGTHS, coerce=int, initial=60, widget=forms.Select(KEPT)
    )
    place = forms.CharField(
        label="Where",
        required=False,
        max_length=MOST_PLACE,
        help_text="A room, an address, or the address of a call.",
        widget=forms.TextInput(attrs={"autocomplete": "off", "data-words": ""}),
    )

    @classmethod
    def of(cls, talk: Talk, members: Iterable[Member]) -> TalkForm:
        """The form with a talk as it stands."""
        begins = timezone.localtime(talk.starts_at)
        told = {"day": begins.date(), "time": begins.time(), "minutes": talk.minutes, "place": talk.place}
        asked = frozenset(member.public_id for member in talk.members.all())
        form = cls(members, initial={**told, "seen": talk.sequence})
        form.asked_before = asked
        return form

    @property
    def groups(self) -> list[DepartmentChoice]:
        """As everywhere; of a talk that stands, those are chosen who were asked."""
        groups = super().groups
        if self.is_bound or self.asked_before is None:
            return groups
        asked = self.asked_before
        return [
            replace(each, members=tuple((one, one.public_id in asked) for one, _ in each.members)) for each in groups
        ]

    def clean_place(self) -> str:
        return " ".join(str(self.cleaned_data["place"]).split())

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        if {"day", "time"} <= cleaned.keys() and self.when.starts_at < timezone.now():
            self.add_error("day", "This is past. Choose a later day or time.")
        return cleaned

    @property
    def when(self) -> When:
        told = self.cleaned_data
        begins = timezone.make_aware(datetime.combine(told["day"], told["time"]))
        return When(begins, told.get("minutes", 0), told.get("place", ""))


def _one_of_its_lines(label: str) -> forms.TypedChoiceField:
    return forms.TypedChoiceField(
        label=label,
        coerce=int,
        required=False,
        empty_value=None,
        widget=forms.Select(KEPT),
        error_messages={"invalid_choice": OTHER_LINES},
    )


class TakeDownForm(OnceForm):
    """What somebody says in a talk, on a scene, or on lines of it: of those that it is given, by their numbers."""

    scene = forms.TypedChoiceField(
        label="On",
        coerce=int,
        widget=forms.Select(KEPT),
        error_messages={"required": "Say which scene it is about."},
    )
    first = _one_of_its_lines("From its line")
    last = _one_of_its_lines("to its line")
    who = forms.ChoiceField(
        label="Who says it", widget=forms.Select(KEPT), error_messages={"required": "Say whose words these are."}
    )
    kind = forms.ChoiceField(label="What it is", choices=NoteKind.choices, initial=NoteKind.PROBLEM)
    body = WrittenText(
        label="What they say",
        max_length=MOST_CHARACTERS,
        widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={"required": "Write down what was said."},
    )

    def __init__(
        self,
        members: Sequence[Member],
        scenes: Sequence[tuple[int, str]],
        data: Mapping[str, Any] | None = None,
        lines: Sequence[tuple[int, str]] = (),
        initial: Mapping[str, Any] | None = None,
    ) -> None:
        super().__init__(data, label_suffix="", auto_id="taken-%s", initial=dict(initial or {}))
        self.by_id = {member.public_id: member for member in members}
        who, scene = self.fields["who"], self.fields["scene"]
        assert isinstance(who, forms.ChoiceField)
        assert isinstance(scene, forms.ChoiceField)
        who.choices = [("", "Choose"), *((member.public_id, member.name) for member in members)]
        scene.choices = [("", "Choose"), *scenes]
        self.has_scenes, self.has_lines = bool(scenes), bool(lines)
        for name, none in (("first", "The whole scene"), ("last", "That line alone")):
            field = self.fields[name]
            assert isinstance(field, forms.TypedChoiceField)
            field.choices = [("", none), *lines]

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        first, last = cleaned.get("first"), cleaned.get("last")
        if last is not None and (first is None or last < first) and not self.errors:
            self.add_error("last", "This stands before the first of the lines. Choose from where to where.")
        return cleaned

    @property
    def lines(self) -> tuple[int, int] | None:
        """The first and the last of the lines that were chosen, None where it is about the whole scene."""
        first, last = self.cleaned_data["first"], self.cleaned_data["last"]
        return None if first is None else (first, last or first)

    @property
    def author(self) -> Member:
        return self.by_id[self.cleaned_data["who"]]
