"""The forms that put up a draft: a file or pasted text, or the working draft; a label and a revision colour."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms
from django.core.files.uploadhandler import FileUploadHandler

from review.drafts.colours import next_colour
from review.drafts.fields import ColourField, PastedText
from review.drafts.texts import hash_text
from review.publishing.acts import MOST_FILENAME
from review.publishing.doubts import doubts_about
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
    from review.rewriting.models import WorkingDraft
    from screenplay.intake import Conversion
    from screenplay.model import Warning  # noqa: A004 - the word the screens use


MOST_REASON = 1_000  # characters


class OnlyAsMuchAsIsRead(FileUploadHandler):
    """Lets a file through up to a little over the most that is read, so that a huge one fills no disk.

    What comes after that is received and dropped; the file's size then still says that it was too large.
    """

    def receive_data_chunk(self, raw_data: bytes, start: int) -> bytes | None:
        return raw_data if start <= MAXIMUM_BYTES else None

    def file_complete(self, file_size: int) -> None:
        return None


class DraftForm(forms.Form):
    """Gives `cleaned_data["intake"]`, the text as read, or the sentence that says why it cannot be.

    A text that is hardly meant to be the production's next draft is asked about first: `doubts` are the sentences.
    What had to be guessed at, a PDF or a script typed in columns, is shown first: `converted` is what was made of it,
    `warnings` are those of its Fountain, which stands in the text field. Its writer may look at it again after each
    correction.
    """

    use_required_attribute = False

    file = forms.FileField(
        label="A file",
        required=False,
        allow_empty_file=True,
        help_text="Fountain, plain text or a PDF, of up to 4 MiB. You see what is read from a PDF before it is up.",
        widget=forms.FileInput(attrs={"accept": ".fountain,.txt,.pdf,text/plain,application/pdf"}),
    )
    text = PastedText(
        label="Or pasted text",
        required=False,
        widget=forms.Textarea(attrs={"rows": 12, "spellcheck": "false", "autocomplete": "off"}),
    )
    label = forms.CharField(
        label="Label",
        required=False,
        max_length=80,
        help_text="What you call this draft, if you like: “After the table read”.",
    )
    all_the_same = forms.BooleanField(label="Put it up all the same", required=False)
    as_it_stands = forms.BooleanField(required=False, widget=forms.HiddenInput)
    came_as = forms.CharField(required=False, max_length=MOST_FILENAME, widget=forms.HiddenInput)
    look_again = forms.BooleanField(required=False)

    def __init__(
        self,
        production: Production,
        data: QueryDict | None = None,
        files: MultiValueDict[str, UploadedFile[bytes]] | None = None,
        initial: dict[str, Any] | None = None,
    ) -> None:
        super().__init__(data, files, initial=initial, label_suffix="")
        self.production = production
        self.fields["colour"] = ColourField(
            next_colour(production),
            production.revision_colours,
            label="Revision colour",
            help_text="Preset to the next in this production’s order.",
        )
        self.doubts: list[str] = []
        self.converted: Conversion | None = None
        self.warnings: tuple[Warning, ...] = ()

    @property
    def is_shown_first(self) -> bool:
        """Whether the text field has what was made of a script typed for paper, for the writer to correct."""
        return self.converted is not None or "look_again" in self.errors

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
        if not self.errors and cleaned["look_again"]:
            self._show_again(cleaned["intake"].text)
        if not self.errors and not cleaned["all_the_same"]:
            self._ask(cleaned["intake"].text)
        return cleaned

    def _ask(self, text: str) -> None:
        """Hold the draft back while there are doubts. A browser keeps no file, so its text goes into the text field."""
        self.doubts = doubts_about(text, self.production)
        if self.doubts:
            self._fill(text=text, came_as=self.filename)
            self.add_error("all_the_same", "Tick this if it is the draft you mean.")

    def _fill(self, **fields: str) -> None:
        """Let the form show these in the place of what was sent."""
        self.data = {**{name: self.data[name] for name in self.data}, **fields}

    def _read(self, name: str, source: UploadedFile[bytes] | str) -> None:
        try:
            read = read_text(source) if isinstance(source, str) else read_file(source)
            if isinstance(read, Intake) and not self._is_as_meant(name):
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

    def _is_as_meant(self, name: str) -> bool:
        """Whether a pasted text is not to be taken out of its columns: the writer has seen it as it stands."""
        return name == "text" and (self.cleaned_data["as_it_stands"] or self.cleaned_data["all_the_same"])

    def _show_first(self, converted: Conversion) -> None:
        """Hold back what was guessed at: its Fountain goes into the text field for the writer to look at."""
        self.converted = converted
        self.warnings = parse(converted.text).warnings
        self._fill(text=converted.text, as_it_stands="on", came_as=self.filename)
        self.add_error("as_it_stands", "See what was read before it goes up.")

    def _show_again(self, text: str) -> None:
        """Hold a corrected text back, and say what is to be warned of in it now."""
        self.warnings = parse(text).warnings
        self._fill(as_it_stands="on")
        self.add_error("look_again", "See what was read now.")


def _out_of_columns(intake: Intake) -> Intake | Conversion:
    return from_columns(intake.text) if looks_typed_in_columns(intake.text) else intake


def read_file(file: UploadedFile[bytes]) -> Intake | Conversion:
    """Read an upload. Of one that is too large no more is read than it takes to say so."""
    data = file.read(MAXIMUM_BYTES + 1)
    name = file.name or ""
    return read_pdf(data, name) if is_pdf(data) else read_bytes(data, name)


class PublishForm(forms.Form):
    """What the next draft is called, and its colour. `working` and `seen` name the working draft, and the text of it
    that the writer was shown."""

    use_required_attribute = False

    working = forms.CharField(widget=forms.HiddenInput)
    seen = forms.CharField(widget=forms.HiddenInput)
    label = forms.CharField(
        required=False, max_length=80, help_text="What you call this draft, if you like: “After the table read”."
    )

    def __init__(self, production: Production, working: WorkingDraft, data: QueryDict | None = None) -> None:
        text = working.joined_text()
        super().__init__(data, initial={"working": working.public_id, "seen": hash_text(text)}, label_suffix="")
        self.fields["colour"] = ColourField(
            next_colour(production),
            production.revision_colours,
            label="Revision colour",
            help_text="Preset to the next in this production’s order.",
        )


class WithdrawForm(forms.Form):
    """Why a draft is withdrawn, for the other writers and for later."""

    use_required_attribute = False

    reason = forms.CharField(
        label="Why",
        max_length=MOST_REASON,
        widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={"required": "Say why in a few words: it stands beside the draft from then on."},
        help_text="Writers read it beside the draft. Readers are told that it was withdrawn, and not why.",
    )
