"""The forms that put up a draft: a file or pasted text, or the working draft; a label and a revision colour."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms
from django.core.files.uploadhandler import FileUploadHandler

from review.drafts.fields import ColourField, PastedText
from review.drafts.texts import hash_text
from review.notes.forms import WrittenText
from review.publishing.acts import MOST_FILENAME
from screenplay import parse
from screenplay.intake import (
    MAXIMUM_BYTES,
    Intake,
    Unreadable,
    from_columns,
    is_pdf,
    looks_typed_in_columns,
    read_bytes,
    read_pdf,
    read_text,
    refuse_more_than_a_script,
)

if TYPE_CHECKING:
    from django.core.files.uploadedfile import UploadedFile
    from django.http import QueryDict
    from django.utils.datastructures import MultiValueDict

    from review.productions.models import Production
    from review.publishing.models import HeldDraft
    from review.rewriting.models import WorkingDraft
    from screenplay.intake import Conversion
    from screenplay.model import Warning  # noqa: A004 - the word the screens use


MOST_REASON = 1_000  # characters


class OnlyAsMuchAsIsRead(FileUploadHandler):
    """Lets a file through up to a little over the most that is read, so that no more of a huge one is copied.

    What comes after that is received and dropped; the file's size then still says that it was too large.
    """

    def receive_data_chunk(self, raw_data: bytes, start: int) -> bytes | None:
        return raw_data if start <= MAXIMUM_BYTES else None

    def file_complete(self, file_size: int) -> None:
        return None


class DraftForm(forms.Form):
    """Gives `cleaned_data["intake"]`, the text as read, or the sentence that says why it cannot be.

    What had to be guessed at, a PDF or a script typed in columns, comes back as Fountain in the text field for its
    writer to correct: `converted` is what was made of it, `warnings` are those of its Fountain.
    """

    use_required_attribute = False

    file = forms.FileField(
        label="A file",
        required=False,
        allow_empty_file=True,
        help_text="Fountain, plain text or a PDF, of up to 4 MiB.",
        widget=forms.FileInput(attrs={"accept": ".fountain,.txt,.pdf,text/plain,application/pdf"}),
    )
    text = PastedText(
        label="Or pasted text",
        required=False,
        widget=forms.Textarea(attrs={"rows": 12, "spellcheck": "false", "autocomplete": "off"}),
    )
    as_it_stands = forms.BooleanField(required=False, widget=forms.HiddenInput)
    came_as = forms.CharField(required=False, max_length=MOST_FILENAME, widget=forms.HiddenInput({"data-kept": "text"}))

    def __init__(
        self,
        data: QueryDict | None = None,
        files: MultiValueDict[str, UploadedFile[bytes]] | None = None,
        initial: dict[str, Any] | None = None,
    ) -> None:
        super().__init__(data, files, initial=initial, label_suffix="")
        self.converted: Conversion | None = None
        self.warnings: tuple[Warning, ...] = ()

    @classmethod
    def to_correct(cls, held: HeldDraft) -> DraftForm:
        """The form with a text that is held, for its writer to go over."""
        return cls(initial={"text": held.text, "came_as": held.filename, "as_it_stands": True})

    @property
    def is_shown_first(self) -> bool:
        """Whether the text field has what was read, for the writer to correct."""
        return bool(self["as_it_stands"].value())

    @property
    def filename(self) -> str:
        """The name of the file that was sent, now or before its text was corrected; "" for a pasted text."""
        file: UploadedFile[bytes] | None = self.cleaned_data.get("file")
        came_as: str = self.cleaned_data.get("came_as", "")
        return (file.name or "")[-MOST_FILENAME:] if file else came_as

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        file: UploadedFile[bytes] | None = cleaned.get("file")
        text: str = cleaned.get("text", "")
        if file and text.strip():
            self.add_error(None, "There is a file and a pasted text. Choose one of the two, and leave the other empty.")
        elif file:
            self._read("file", file)
        elif text.strip():
            self._read("text", text)
        elif not self.errors:
            self.add_error(None, "There is nothing to put up yet. Choose a file, or paste the script’s text.")
        return cleaned

    def _read(self, name: str, source: UploadedFile[bytes] | str) -> None:
        try:
            read = read_text(source) if isinstance(source, str) else read_file(source)
            if isinstance(read, Intake) and not (name == "text" and self.cleaned_data["as_it_stands"]):
                read = _out_of_columns(read)
            it = "The pasted text" if isinstance(source, str) else f"“{source.name}”"
            refuse_more_than_a_script(parse(read.text), it)
        except Unreadable as problem:
            self.add_error(name, str(problem))
            return
        if isinstance(read, Intake):
            self.cleaned_data["intake"] = read
        else:
            self._show_first(read)

    def _show_first(self, converted: Conversion) -> None:
        """Hold back what was guessed at: its Fountain goes into the text field for the writer to look at."""
        self.converted = converted
        self.warnings = parse(converted.text).warnings
        shown = {"text": converted.text, "as_it_stands": "on", "came_as": self.filename}
        self.data = {**{name: self.data[name] for name in self.data}, **shown}
        self.add_error("as_it_stands", "See what was read before it goes up.")


def _out_of_columns(intake: Intake) -> Intake | Conversion:
    return from_columns(intake.text) if looks_typed_in_columns(intake.text) else intake


def read_file(file: UploadedFile[bytes]) -> Intake | Conversion:
    """Read an upload. Of one that is too large no more is read than it takes to say so."""
    data = file.read(MAXIMUM_BYTES + 1)
    name = file.name or ""
    return read_pdf(data, name) if is_pdf(data) else read_bytes(data, name)


class LabelAndColour(forms.Form):
    """What the next draft is called, and its colour; the first is asked for none, since it has the order's first."""

    use_required_attribute = False

    label = forms.CharField(
        required=False, max_length=80, help_text="What you call this draft, if you like: “After the table read”."
    )

    def __init__(
        self, production: Production, data: QueryDict | None = None, initial: dict[str, Any] | None = None
    ) -> None:
        super().__init__(data, initial=initial, label_suffix="")
        if production.drafts.exists():
            self.fields["colour"] = ColourField(
                production.drafts.next_colour(production.revision_colours),
                production.revision_colours,
                label="Revision colour",
                help_text="Preset to the next in this production’s order.",
            )

    @property
    def chosen_colour(self) -> str:
        """The colour that was chosen; "" for the next in order."""
        chosen: str = self.cleaned_data.get("colour", "")
        return chosen


class HeldForm(LabelAndColour):
    """`seen` is the number of the draft that was current when its writer was shown what the text changes, 0 for none. A
    text that is hardly meant to be the next draft goes up only when its writer says so."""

    seen = forms.IntegerField(min_value=0, widget=forms.HiddenInput)
    all_the_same = forms.BooleanField(
        label="Put it up all the same",
        required=False,
        error_messages={"required": "Tick this if it is the draft you mean."},
    )

    def __init__(self, production: Production, doubts: list[str], data: QueryDict | None = None) -> None:
        current = production.drafts.current()
        super().__init__(production, data, initial={"seen": current.number if current else 0})
        self.fields["all_the_same"].required = bool(doubts)


class PublishForm(LabelAndColour):
    """`working` and `seen` name the working draft, and the text of it that the writer was shown."""

    working = forms.CharField(widget=forms.HiddenInput)
    seen = forms.CharField(widget=forms.HiddenInput)

    def __init__(self, production: Production, working: WorkingDraft, data: QueryDict | None = None) -> None:
        super().__init__(
            production, data, initial={"working": working.public_id, "seen": hash_text(working.joined_text())}
        )


class WithdrawForm(forms.Form):
    """Why a draft is withdrawn, for the other writers and for later."""

    use_required_attribute = False

    reason = WrittenText(
        label="Why",
        max_length=MOST_REASON,
        widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={"required": "Say why in a few words: it stands beside the draft from then on."},
        help_text="Writers read it beside the draft. Readers are told that it was withdrawn, and not why.",
    )
