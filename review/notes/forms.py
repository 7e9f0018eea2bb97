"""The forms of a note and of a reply, with a clear sentence for everything that can be wrong."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any, ClassVar

from django import forms

from review.notes.lines import NoSuchLines, check, source_lines, whole_lines
from review.notes.models import Audience, Kind, Note, Reply

if TYPE_CHECKING:
    from collections.abc import Mapping

    from review.drafts.models import Draft
    from review.people.models import Member
    from screenplay.carry import Span

MOST_CHARACTERS = 10_000
MOST_WORDING_CHARACTERS = 20_000

KIND_MEANINGS = {
    Kind.QUESTION: "You need to know something",
    Kind.CONFUSION: "You lost the thread here",
    Kind.IDEA: "It could also go like this",
    Kind.PROBLEM: "Something does not hold",
    Kind.PRACTICAL: "What it takes to do it",
    Kind.SAFETY: "Someone could be hurt doing it",
    Kind.PRAISE: "Keep this",
}
AUDIENCE_MEANINGS = {
    Audience.EVERYONE: "Everyone on the production can read and answer it",
    Audience.WRITER: "Only you and the writer can see it",
}


class SentOnceForm(forms.Form):
    """A form whose `form_id` makes sending it twice count once."""

    form_id = forms.UUIDField(widget=forms.HiddenInput)

    made: type[Note | Reply]

    def __init__(self, author: Member, data: Mapping[str, Any] | None = None, **kwargs: Any) -> None:
        self.author = author
        super().__init__(data, **kwargs)
        self.fields["form_id"].initial = uuid.uuid4

    def clean_form_id(self) -> uuid.UUID:
        """The form's own id, or a new one where somebody else has used it."""
        form_id: uuid.UUID = self.cleaned_data["form_id"]
        taken = self.made.objects.filter(form_id=form_id).exclude(author=self.author).exists()
        return uuid.uuid4() if taken else form_id


class NoteForm(SentOnceForm):
    """A note on lines of a draft. In the address and the form the span is `from`, `from_char`, `to` and `to_char`.

    The characters hold for the lines of `chosen` ("12-14"); when the reader sets other lines, whole lines are meant.
    """

    first_line = forms.IntegerField(min_value=1, label="From line")
    last_line = forms.IntegerField(min_value=1, label="to line")
    first_char = forms.IntegerField(min_value=0, required=False, widget=forms.HiddenInput)
    last_char = forms.IntegerField(min_value=0, required=False, widget=forms.HiddenInput)
    chosen = forms.CharField(required=False, widget=forms.HiddenInput, max_length=24)
    kind = forms.ChoiceField(
        choices=Kind.choices,
        widget=forms.RadioSelect,
        error_messages={"required": "Choose what kind of note this is."},
    )
    body = forms.CharField(
        required=False,
        max_length=MOST_CHARACTERS,
        label="Your note",
        widget=forms.Textarea(attrs={"rows": 5}),
        error_messages={
            "max_length": f"A note can hold {MOST_CHARACTERS:,} characters. Shorten it, or leave two notes."
        },
    )
    wording = forms.CharField(
        required=False, strip=False, label="Wording", widget=forms.Textarea(attrs={"rows": 5})
    )
    audience = forms.ChoiceField(
        choices=Audience.choices, widget=forms.RadioSelect, initial=Audience.EVERYONE, label="Who can read it"
    )

    made = Note
    ADDRESS_NAMES: ClassVar[dict[str, str]] = {
        "first_line": "from",
        "last_line": "to",
        "first_char": "from_char",
        "last_char": "to_char",
    }

    def __init__(
        self, author: Member, draft: Draft, data: Mapping[str, Any] | None = None, **kwargs: Any
    ) -> None:
        self.draft = draft
        super().__init__(author, data, **kwargs)

    def add_prefix(self, field_name: str) -> str:
        return self.ADDRESS_NAMES.get(field_name, field_name)

    def clean_wording(self) -> str | None:
        """The wording with line feeds alone, None where the form had no such field."""
        if self.add_prefix("wording") not in self.data:
            return None
        wording: str = self.cleaned_data["wording"]
        return wording.replace("\r\n", "\n").replace("\r", "\n")

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if self.errors.keys() & {"first_line", "last_line", "first_char", "last_char"}:
            return cleaned
        try:
            span = self._span()
            check(self.draft.text, span)
        except NoSuchLines as error:
            self.add_error("first_line", error.sentence)
            return cleaned
        cleaned["span"] = span
        self._settle_wording(span)
        if not cleaned.get("body") and cleaned.get("wording") is None and "body" not in self.errors:
            self.add_error("body", "A note must say something: write a few words, or suggest a wording.")
        return cleaned

    def _span(self) -> Span:
        from screenplay.carry import Span

        cleaned = self.cleaned_data
        first, last = cleaned["first_line"], cleaned["last_line"]
        lines = source_lines(self.draft.text)
        whole = len(lines[last - 1]) if last <= len(lines) else 0
        if not self._lines_as_chosen():
            return Span(first, 0, last, whole)
        first_char, last_char = cleaned.get("first_char"), cleaned.get("last_char")
        return Span(first, first_char or 0, last, whole if last_char is None else last_char)

    def _lines_as_chosen(self) -> bool:
        cleaned = self.cleaned_data
        return cleaned.get("chosen") in ("", None, f"{cleaned['first_line']}-{cleaned['last_line']}")

    def _settle_wording(self, span: Span) -> None:
        """Keep a wording only where it differs from the lines that the form was filled with."""
        wording = self.cleaned_data.get("wording")
        if wording is None:
            return
        if wording in (self._chosen_lines(), whole_lines(self.draft.text, span.first_line, span.last_line)):
            self.cleaned_data["wording"] = None
        elif not self._lines_as_chosen():
            self.add_error(
                "wording", "The lines were changed after this was written. Look at both, then send again."
            )
        elif len(wording) > MOST_WORDING_CHARACTERS:
            limit = f"{MOST_WORDING_CHARACTERS:,}"
            self.add_error("wording", f"A wording can hold {limit} characters. Choose fewer lines.")

    def _chosen_lines(self) -> str | None:
        first, _, last = (self.cleaned_data.get("chosen") or "").partition("-")
        if not (first.isdecimal() and last.isdecimal()):
            return None
        return whole_lines(self.draft.text, int(first) or 1, int(last))


class ReplyForm(SentOnceForm):
    """A reply to a note; `shown` is the number of the draft on which the note was being looked at."""

    body = forms.CharField(
        max_length=MOST_CHARACTERS,
        label="Your reply",
        widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={
            "required": "Write a few words first.",
            "max_length": f"A reply can hold {MOST_CHARACTERS:,} characters. Shorten it, or send two.",
        },
    )

    made = Reply
