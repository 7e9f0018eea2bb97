"""The forms that ask which notes are wanted, by GET, so that an address says what it gives; and for a file of them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms

from review.cards.filters import LABELS
from review.cards.filters_in_words import sort_in_words
from review.decisions.states import TAKEN_BACK, UNDECIDED, WITHDRAWN
from review.exchange.read_annotations import UnreadableFile, read_annotations
from review.exchange.taken_notes import WhichNotes

if TYPE_CHECKING:
    from collections.abc import Mapping

    from django.http import QueryDict

    from review.cards.filters import FilteredNotes

ALL, OPEN, SHOWN = "all", "open", "shown"
ONLY_OPEN = {"state": UNDECIDED}
ALWAYS_OFFERED = [(ALL, "All that stand"), (OPEN, "Those nobody has decided yet")]


def narrowing_of(asked: QueryDict) -> dict[str, str]:
    """How an address narrows notes down, as that of Notes does. What was withdrawn is never taken along, so that it
    narrows nothing down to that."""
    told = {name: str(asked[name]) for name in LABELS if asked.get(name)}
    if told.get("state") in {WITHDRAWN, TAKEN_BACK}:
        del told["state"]
    return told


class TakeForm(forms.Form):
    """`choice` is what was chosen; whatever an address says otherwise is the preset: all notes, and none of those for
    the writer's eyes only. Where it narrows them down as Notes does, it gives those that Notes `shown`."""

    use_required_attribute = False

    which = forms.ChoiceField(
        label="Which notes",
        required=False,
        initial=ALL,
        choices=ALWAYS_OFFERED,
        widget=forms.RadioSelect,
    )
    for_writers_too = forms.BooleanField(label="Those for the writer’s eyes only too", required=False)

    def __init__(
        self,
        data: QueryDict | None = None,
        narrowing: Mapping[str, str] | None = None,
        shown: FilteredNotes | None = None,
    ) -> None:
        super().__init__(data)
        leaves_all = shown is not None and all(each.is_open for each in shown.filters.values())
        self.narrowing = {} if leaves_all else dict(narrowing or {})
        which = self.fields["which"]
        assert isinstance(which, forms.ChoiceField)
        if self.narrowing:
            label = f"As Notes showed them: {sort_in_words(shown.filters)}" if shown else "As Notes showed them"
            which.choices = [(SHOWN, label), *ALWAYS_OFFERED]
            which.initial = SHOWN

    @property
    def choice(self) -> WhichNotes:
        self.is_valid()
        told = self.cleaned_data
        narrowings = {SHOWN: self.narrowing, OPEN: ONLY_OPEN, ALL: {}}
        narrowing = narrowings[told.get("which") or (SHOWN if self.narrowing else ALL)]
        return WhichNotes(narrowing, for_writers_too=told["for_writers_too"])


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
