"""The form of a note, with a clear sentence for everything that can be wrong."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, ClassVar

from django import forms

from review.drafts.scripts import laid_out
from review.notes.forms import (
    MOST_CHARACTERS,
    MOST_WORDING_CHARACTERS,
    SentOnceForm,
    WithMeanings,
    WrittenText,
    kept_key,
    line_feeds,
)
from review.notes.lines import NoSuchLines, check, quote, source_lines, whole_lines
from review.notes.models import MOST_NAME, Audience, NoteKind, Subject
from review.notes.page_names import on_page, page_name
from review.notes.subjects import SPEAKER, About, parted, subjects_at, value_of, whole_subject
from screenplay import Span

if TYPE_CHECKING:
    from django.forms import BoundField

    from review.drafts.models import Draft
    from review.people.models import Member

MOST_LINES = 1_000_000
CHOSEN_LINES = re.compile(r"([1-9][0-9]{0,6})-([1-9][0-9]{0,6})")


class LineInViewForm(forms.Form):
    """The line at the head of a reader's screen."""

    line = forms.IntegerField(min_value=1, max_value=MOST_LINES)


class LinesForm(forms.Form):
    """Lines of a draft, in an address or a form: `from`, `from_char`, `to`, `to_char`. Cleaned, they are a `span`.

    The characters hold for the lines of `chosen` ("12-14") alone: when the reader sets other lines, they mean whole
    lines. Without `to` the span is one line; without characters it is whole lines.
    """

    first_line = forms.IntegerField(label="From", error_messages={"required": "Say which lines you mean."})
    last_line = forms.IntegerField(label="to", required=False)
    first_char = forms.IntegerField(min_value=0, required=False, widget=forms.HiddenInput)
    last_char = forms.IntegerField(min_value=0, required=False, widget=forms.HiddenInput)
    chosen = forms.CharField(required=False, widget=forms.HiddenInput)

    ADDRESS_NAMES: ClassVar[dict[str, str]] = {
        "first_line": "from",
        "last_line": "to",
        "first_char": "from_char",
        "last_char": "to_char",
    }

    span: Span | None = None

    def __init__(self, *args: Any, draft: Draft, **kwargs: Any) -> None:
        self.draft = draft
        super().__init__(*args, **kwargs)

    def add_prefix(self, field_name: str) -> str:
        return self.ADDRESS_NAMES.get(field_name, field_name)

    def clean(self) -> dict[str, Any]:
        super().clean()
        if not self.errors.keys() & self.ADDRESS_NAMES.keys():
            try:
                self.span = self.cleaned_data["span"] = self._span()
            except NoSuchLines as error:
                self.add_error("first_line", error.sentence)
        return self.cleaned_data

    def _span(self) -> Span:
        cleaned = self.cleaned_data
        first, last = cleaned["first_line"], cleaned.get("last_line") or cleaned["first_line"]
        cleaned["last_line"] = last
        first_char, last_char = cleaned.get("first_char") or 0, cleaned.get("last_char")
        lines = source_lines(self.draft.text)
        if last_char is None or not self.lines_as_chosen():
            first_char, last_char = 0, len(lines[last - 1]) if 1 <= last <= len(lines) else 0
        span = Span(first, first_char, last, last_char)
        check(self.draft.text, span)
        return span

    @property
    def lines_error(self) -> str:
        """What is wrong with the lines, in a sentence; empty where nothing is."""
        fields = (self[name] for name in self.ADDRESS_NAMES)
        return next((str(field.errors[0]) for field in fields if field.errors), "")

    def lines_as_chosen(self) -> bool:
        """Whether the lines are still those that the form was filled with."""
        cleaned = self.cleaned_data
        return cleaned.get("chosen") in ("", None, f"{cleaned['first_line']}-{cleaned['last_line']}")


class NoteForm(WithMeanings, SentOnceForm, LinesForm):
    """A note on lines of a draft, on the scene that they begin in, or on a character: `about` says which, as
    `subjects.value_of` writes it. A `wording` is cleaned to None where it offers nothing new.
    """

    about = forms.CharField(
        required=False,
        max_length=len(SPEAKER) + MOST_NAME,
        initial=value_of(Subject.LINES),
        label="What it is about",
        error_messages={"max_length": "No name is that long. Choose again what the note is about."},
    )

    kind = forms.ChoiceField(
        choices=NoteKind.choices,
        widget=forms.RadioSelect,
        error_messages={"required": "Choose what kind of note this is."},
    )
    body = WrittenText(
        required=False,
        max_length=MOST_CHARACTERS,
        label="Your note",
        widget=forms.Textarea(attrs={"rows": 5}),
        error_messages={
            "max_length": f"A note can hold {MOST_CHARACTERS:,} characters. Shorten it, or leave two notes."
        },
    )
    wording = forms.CharField(
        required=False, strip=False, label="The lines, worded your way", widget=forms.Textarea(attrs={"rows": 5})
    )
    audience = forms.ChoiceField(
        choices=Audience.choices, widget=forms.RadioSelect, initial=Audience.EVERYONE, label="Who can read it"
    )

    @classmethod
    def on_lines(cls, author: Member, draft: Draft, span: Span, **initial: Any) -> NoteForm:
        """An empty form for a note on these lines; `initial` holds words that are already there."""
        lines = {
            "first_line": span.first_line,
            "last_line": span.last_line,
            "first_char": span.first_char,
            "last_char": span.last_char,
            "chosen": f"{span.first_line}-{span.last_line}",
            "wording": whole_lines(draft.text, span.first_line, span.last_line),
        }
        form = cls(initial=lines | initial, author=author, draft=draft)
        form.span = span
        return form

    def looked_at(self) -> NoteForm:
        """The form again, filled for the lines that the reader has just set, with what they had written."""
        cleaned = self.cleaned_data
        names = ("form_id", "kind", "body", "audience", "about")
        written = {name: self.data.get(name, "") for name in names}
        if cleaned.get("wording") is not None:
            written["wording"] = cleaned["wording"]
        return NoteForm.on_lines(self.author, self.draft, cleaned["span"], **written)

    def abouts(self) -> list[About]:
        """What the note can be about, given its lines; empty where it can be about them alone."""
        found = subjects_at(self.draft, self.span, self.about_value) if self.span else []
        return found if len(found) > 1 else []

    @property
    def about_value(self) -> str:
        """What is chosen, as one of the values that are offered."""
        return value_of(*parted(self["about"].value() or ""))

    @property
    def subject(self) -> str:
        return parted(self.about_value)[0]

    @property
    def character(self) -> str:
        return parted(self.about_value)[1]

    @property
    def quoted(self) -> str:
        return quote(self.draft.text, self.span) if self.span else ""

    @property
    def place_name(self) -> str:
        """Where the lines stand, as it reads after "on"; empty without lines."""
        span = self.span
        return on_page(page_name(laid_out(self.draft), span.first_line, span.last_line)) if span else ""

    @property
    def lines_as_they_are(self) -> str:
        """The whole lines that a wording would replace."""
        return whole_lines(self.draft.text, self.span.first_line, self.span.last_line) if self.span else ""

    @property
    def around_words(self) -> tuple[str, str]:
        """What stands before the chosen words in their first line, and behind them in their last."""
        span = self.span
        if span is None:
            return "", ""
        lines = source_lines(self.draft.text)
        return lines[span.first_line - 1][: span.first_char], lines[span.last_line - 1][span.last_char :]

    @property
    def kept_key(self) -> str:
        span = self.span
        lines = f"{span.first_line}.{span.first_char}-{span.last_line}.{span.last_char}" if span else "no lines"
        return kept_key(self.author, self.draft.number, "note", lines)

    @property
    def offers_wording(self) -> bool:
        """Whether the wording's field holds something of the reader's own, so that it should be seen."""
        wording = line_feeds(self["wording"].value() or "")
        return bool(self["wording"].errors) or (self.span is not None and wording != self.lines_as_they_are)

    def line_fields(self) -> list[BoundField]:
        return [self["first_line"], self["last_line"]]

    def clean_wording(self) -> str | None:
        """The wording with line feeds alone, None where the form had no such field."""
        if self.add_prefix("wording") not in self.data:
            return None
        return line_feeds(self.cleaned_data["wording"])

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        if "span" in cleaned:
            self._settle_wording(cleaned["span"])
            self._settle_subject(cleaned["span"])
        if not cleaned.get("body") and cleaned.get("wording") is None and not self.errors.keys() & {"body", "wording"}:
            self.add_error("body", "A note must say something: write a few words, or offer a wording.")
        return cleaned

    def _settle_subject(self, span: Span) -> None:
        cleaned = self.cleaned_data
        cleaned["subject"], character = parted(cleaned.get("about") or "")
        try:
            _, cleaned["character"] = whole_subject(self.draft, cleaned["subject"], span, character)
        except NoSuchLines as error:
            self.add_error("about", error.sentence)
        if cleaned["subject"] != Subject.LINES and cleaned.get("wording") is not None:
            self.add_error(
                "about", "A wording stands for lines. Choose “These lines”, or put the lines back as they are."
            )

    def _settle_wording(self, span: Span) -> None:
        """Keep a wording only where it differs from the lines that the form was filled with."""
        wording = self.cleaned_data.get("wording")
        if wording is None:
            return
        if wording in (self._began_with(), whole_lines(self.draft.text, span.first_line, span.last_line)):
            self.cleaned_data["wording"] = None
        elif not self.lines_as_chosen():
            self.add_error("wording", "This was written for other lines. Look at both, then send again.")
        elif len(wording) > MOST_WORDING_CHARACTERS:
            limit = f"{MOST_WORDING_CHARACTERS:,}"
            self.add_error("wording", f"A wording can hold {limit} characters. Choose fewer lines.")

    def _began_with(self) -> str:
        """What the wording's field held at first: nothing, where no lines were chosen yet."""
        chosen = CHOSEN_LINES.fullmatch(self.cleaned_data.get("chosen") or "")
        return whole_lines(self.draft.text, int(chosen[1]), int(chosen[2])) if chosen else ""
