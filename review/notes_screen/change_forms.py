"""The forms in which a note's author changes it, or corrects what it says once somebody has answered it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Self

from django import forms

from review.notes.acts import NoteWords, change_note, correct_note
from review.notes.forms import (
    MOST_CHARACTERS,
    MOST_WORDING_CHARACTERS,
    WithMeanings,
    WrittenText,
    kept_key,
    line_feeds,
)
from review.notes.lines import whole_lines
from review.notes.models import Audience, NoteKind, Subject

if TYPE_CHECKING:
    from collections.abc import Mapping

    from review.notes.models import Note
    from review.people.models import Member

TOO_LONG = f"A note can hold {MOST_CHARACTERS:,} characters. Shorten it, or leave another."
NOTHING_SAID = "A note must say something. To take it back, withdraw it."


class CorrectNoteForm(forms.Form):
    """What a note says, and `version`, the text of it that its author was shown."""

    version = forms.IntegerField(min_value=1, widget=forms.HiddenInput)
    body = WrittenText(
        required=False,
        max_length=MOST_CHARACTERS,
        label="Your note",
        widget=forms.Textarea(attrs={"rows": 5}),
        error_messages={"max_length": TOO_LONG},
    )

    is_correction = True

    def __init__(
        self, note: Note, data: Mapping[str, Any] | None = None, initial: Mapping[str, Any] | None = None
    ) -> None:
        self.note = note
        standing = {
            "kind": note.kind,
            "body": note.body,
            "wording": self.lines if note.wording is None else note.wording,
            "audience": note.audience,
        }
        super().__init__(data, initial={**standing, **(initial or {}), "version": note.version})

    @property
    def lines(self) -> str:
        """The whole lines that a wording would replace."""
        return whole_lines(self.note.draft.text, self.note.first_line, self.note.last_line)

    def kept_key(self, member: Member) -> str:
        """The name under which a browser keeps what is half typed."""
        return kept_key(member, "change", self.note.public_id)

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if not cleaned.get("body") and not self.offers and not self.errors:
            self.add_error("body", NOTHING_SAID)
        return cleaned

    @property
    def offers(self) -> bool:
        """Whether the note offers a wording, so that it need not say anything else."""
        return self.note.wording is not None

    def on_what_stands(self) -> Self:
        """The form with what was written in it, against the words that the note has by now."""
        self.note.refresh_from_db()
        return type(self)(self.note, initial=self.cleaned_data)

    def store(self, by: Member) -> Note:
        return correct_note(by, self.note, self.cleaned_data["body"], self.cleaned_data["version"])


class ChangeNoteForm(WithMeanings, CorrectNoteForm):
    """All that may be changed of a note that nobody has answered. A `wording` is cleaned to None where it offers
    nothing; only a note on lines has one."""

    kind = forms.ChoiceField(choices=NoteKind.choices, error_messages={"required": "Choose what kind of note this is."})
    wording = forms.CharField(required=False, strip=False, label="The lines, worded your way", widget=forms.Textarea)
    audience = forms.ChoiceField(choices=Audience.choices, label="Who can read it")

    is_correction = False

    @property
    def takes_wording(self) -> bool:
        return self.note.subject == Subject.LINES

    @property
    def offers(self) -> bool:
        return self.cleaned_data.get("wording") is not None

    @property
    def offers_wording(self) -> bool:
        """Whether the wording's field holds something of the author's own, so that it should be seen."""
        return bool(self["wording"].errors) or line_feeds(self["wording"].value() or "") != self.lines

    def clean_wording(self) -> str | None:
        """The wording with line feeds alone, None where it is what the lines say, or where the form had none."""
        wording = line_feeds(self.cleaned_data["wording"])
        if not self.takes_wording or "wording" not in self.data or wording == self.lines:
            return None
        if len(wording) > MOST_WORDING_CHARACTERS:
            raise forms.ValidationError(f"A wording can hold {MOST_WORDING_CHARACTERS:,} characters. Shorten it.")
        return wording

    def store(self, by: Member) -> Note:
        said = self.cleaned_data
        words = NoteWords(said["kind"], said["body"], said["wording"], said["audience"])
        return change_note(by, self.note, words, said["version"])
