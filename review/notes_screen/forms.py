"""The forms of a reply, of a decision and of a note's place, with a clear sentence for everything that can be wrong."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from django import forms

from review.decisions.accepting import accepting_note
from review.decisions.acts import Shown
from review.decisions.models import Outcome
from review.decisions.states import ANSWERED
from review.decisions.together import MOST_TOGETHER
from review.drafts.scripts import read_script
from review.notes.forms import MOST_CHARACTERS, SentOnceForm, WrittenText
from review.notes.lines import NoSuchLines, check, source_lines
from review.notes.models import Note, Subject
from screenplay import Span
from screenplay.script import cue_span

if TYPE_CHECKING:
    from collections.abc import Mapping

    from django.http import QueryDict

    from review.drafts.models import Draft
    from review.people.models import Member

MOST_REASON_CHARACTERS = 5_000
AS_SHOWN = re.compile(r"([\w-]{1,16}):(\d{1,6}):(\d{1,6})", re.ASCII)
NO_LINES_CHOSEN = "Choose the lines first, or say that the note’s lines are gone."


class ReplyForm(SentOnceForm):
    """A reply to a note. `version` is the text of the note that was shown."""

    version = forms.IntegerField(required=False, widget=forms.HiddenInput)

    body = WrittenText(
        max_length=MOST_CHARACTERS,
        label="Your reply",
        widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={
            "required": "Write a few words first.",
            "max_length": f"A reply can hold {MOST_CHARACTERS:,} characters. Shorten it, or send two.",
        },
    )


class OutcomeForm(forms.Form):
    """What is decided, why, and whether a wording goes into the working draft with it."""

    outcome = forms.ChoiceField(
        choices=[choice for choice in Outcome.choices if choice[0] != Outcome.REOPENED],
        error_messages={
            "required": "Choose one of the three first.",
            "invalid_choice": "Choose one of the three first.",
        },
    )
    put_in = forms.BooleanField(required=False)
    reason = WrittenText(
        required=False,
        max_length=MOST_REASON_CHARACTERS,
        error_messages={
            "max_length": f"A reason can hold {MOST_REASON_CHARACTERS:,} characters. Shorten it, "
            "or put the rest into a reply."
        },
    )

    def ask_for_reason(self, note: Note) -> None:
        """Say what is owed to the note's author, where nothing was written."""
        outcome = self.cleaned_data.get("outcome")
        if self.cleaned_data.get("reason") or "reason" in self.errors:
            return
        if outcome == Outcome.DECLINED:
            self.add_error("reason", "Say why you decline it: the reader who wrote it will want to know.")
        elif outcome == Outcome.ACCEPTED and accepting_note(note).state == ANSWERED:
            self.add_error("reason", "Write the answer: the reader who asked is waiting for it.")


class DecisionForm(OutcomeForm):
    """A decision on a note. A declined note owes its author a reason, a question an answer; the others may have one.

    `seen` is the ordinal of the decision that the decider was shown, 0 for none; `version` the text of the note that
    they were shown; `shown` the number of the draft the note was looked at on; `next` the page to come back to.
    `put_in` is to take the note's wording into the working draft if it is accepted, `take_out` to take it out again if
    it is not.
    """

    def __init__(self, data: Mapping[str, Any], *, note: Note) -> None:
        super().__init__(data)
        self.note = note

    form_id = forms.UUIDField(widget=forms.HiddenInput)
    seen = forms.IntegerField(min_value=0, widget=forms.HiddenInput)
    version = forms.IntegerField(required=False, widget=forms.HiddenInput)
    take_out = forms.BooleanField(required=False)

    @property
    def with_wording(self) -> bool:
        """Whether the working draft is to follow the decision."""
        return bool(self.cleaned_data["put_in" if self.cleaned_data["outcome"] == Outcome.ACCEPTED else "take_out"])

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        self.ask_for_reason(self.note)
        return cleaned


class TogetherForm(OutcomeForm):
    """A decision on several notes, with one reason for all of them.

    Each of its `notes` comes as it was shown, by its public id, the ordinal of its latest decision, and the version of
    its text: `id:0:1`. `shown` has those that the decider can read. `then` is the note to go on with, `next` the page
    to come back to.
    """

    form_id = forms.UUIDField()
    then = forms.CharField(required=False, max_length=16)

    def __init__(self, data: QueryDict, *, by: Member) -> None:
        super().__init__(data)
        self.by, self.asked = by, data.getlist("notes")
        self.shown: list[Shown] = []

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        told = [match for each in self.asked if (match := AS_SHOWN.fullmatch(each))]
        by_id = {match[1]: match for match in told}
        found = Note.objects.visible_to(self.by).filter(public_id__in=list(by_id)).select_related("author__person")
        self.shown = [Shown(note, int(by_id[note.public_id][2]), int(by_id[note.public_id][3])) for note in found]
        if not self.shown:
            self.add_error(None, "Tick the notes first that are decided together.")
        elif len(self.shown) > MOST_TOGETHER:
            self.add_error(None, f"At most {MOST_TOGETHER} notes are decided together. Untick some of them.")
        else:
            self.ask_for_reason(self.shown[0].note)
        return cleaned


class ReopenForm(forms.Form):
    """Opening a decided note again, with its wording taken out of the working draft or left in."""

    form_id = forms.UUIDField()
    seen = forms.IntegerField(min_value=1)
    take_out = forms.BooleanField(required=False)


class UndoForm(forms.Form):
    """Taking a decision back, which is named by its public id."""

    form_id = forms.UUIDField()
    decision = forms.CharField(max_length=16)


class PlaceForm(forms.Form):
    """The lines of a draft on which a note stands from now on, as whole lines; `gone` says that it has none there.

    A note on a scene is given the scene's first line, one on a character their name. `shown` is the number of the draft
    that these were chosen in.
    """

    character = forms.CharField(required=False)
    shown = forms.IntegerField(widget=forms.HiddenInput, required=False)
    gone = forms.BooleanField(required=False)
    first_line = forms.IntegerField(required=False, error_messages={"invalid": "Give the first line as a number."})
    last_line = forms.IntegerField(required=False, error_messages={"invalid": "Give the last line as a number."})

    def __init__(self, note: Note, draft: Draft, data: Mapping[str, Any] | None = None, **kwargs: Any) -> None:
        self.note, self.draft = note, draft
        super().__init__(data, **kwargs)

    @property
    def is_outdated(self) -> bool:
        """The lines were chosen in another draft than the one that is current."""
        return self.cleaned_data.get("shown") not in (None, self.draft.number)

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        cleaned["span"] = None
        if self.is_outdated:
            self.add_error(None, f"{self.draft} was published meanwhile, and its lines are shown now. Choose again.")
        elif not cleaned.get("gone") and not self.errors:
            find = self._find_character if self.note.subject == Subject.CHARACTER else self._find_lines
            find(cleaned)
        return cleaned

    def _find_character(self, cleaned: dict[str, Any]) -> None:
        name = cleaned.get("character", "")
        cleaned["span"] = cue_span(read_script(self.draft), name)
        if cleaned["span"] is None:
            self.add_error("character", "Choose who it is about now, or say that they are gone.")

    def _find_lines(self, cleaned: dict[str, Any]) -> None:
        given = [line for line in (cleaned.get("first_line"), cleaned.get("last_line")) if line is not None]
        if not given:
            is_scene = self.note.subject == Subject.SCENE
            ask = "Choose the scene first, or say that it is gone." if is_scene else NO_LINES_CHOSEN
            self.add_error("first_line", ask)
            return
        try:
            cleaned["span"] = self._span(given[0], given[-1])
        except NoSuchLines as error:
            self.add_error("first_line", error.sentence)

    def _span(self, first_line: int, last_line: int) -> Span:
        lines = source_lines(self.draft.text)
        last_char = len(lines[last_line - 1]) if 1 <= last_line <= len(lines) else 0
        span = Span(first_line, 0, last_line, last_char)
        check(self.draft.text, span)
        return span
