"""The forms of world papers: the paper itself, a picture, and what is said on its paragraphs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms
from django.core.validators import RegexValidator
from django.http import QueryDict

from review.notes.forms import AUDIENCE_MEANINGS, MOST_CHARACTERS, OnceForm, WrittenText, line_feeds
from review.notes.models import Audience, NoteKind
from review.papers.acts import PaperAsked
from review.papers.models import MOST_PICTURE_NAME, MOST_TEXT, MOST_TITLE
from review.papers.note_acts import PaperWords
from review.papers.note_models import PaperOutcome
from review.papers.pictures import CheckedPicture, NoPicture, check_picture
from review.people.models import Department

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from review.papers.note_models import PaperNote
    from review.people.models import Member

MOST_REASON = 5_000  # characters
KEPT = {"data-kept": ""}  # with the words that are half typed: what their writer began from
FOR_NOBODY = "Say whom it is for: everyone, a department, or somebody by name."


class WorldPaperForm(OnceForm):
    """`asked` is what was said of the paper, and `cleaned_data` has its text. Of what its writer began from, `seen` is
    the number of the version, 0 for a new paper, and `seen_asked` the mark of what was said of it."""

    use_required_attribute = False

    title = forms.CharField(
        max_length=MOST_TITLE,
        widget=forms.TextInput(attrs=KEPT),
        error_messages={"required": "Give it a title."},
    )
    text = forms.CharField(
        widget=forms.Textarea(attrs={"rows": 18}),
        strip=False,
        error_messages={"required": "A paper without a word has nothing to read."},
        help_text="Paragraphs with blank lines between them. # begins a heading, - a list, > a quotation; *so* leans.",
    )
    for_everyone = forms.BooleanField(
        label="Everyone on the production", required=False, widget=forms.CheckboxInput(KEPT)
    )
    departments = forms.MultipleChoiceField(
        required=False, choices=Department.choices, widget=forms.CheckboxSelectMultiple(KEPT)
    )
    members = forms.MultipleChoiceField(label="Somebody", required=False, widget=forms.CheckboxSelectMultiple(KEPT))
    seen = forms.IntegerField(min_value=0, max_value=2**31 - 1, widget=forms.HiddenInput(KEPT))
    seen_asked = forms.CharField(required=False, max_length=16, widget=forms.HiddenInput(KEPT))

    def __init__(self, *args: Any, readers: Sequence[Member], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._by_id = {member.public_id: member for member in readers}
        field = self.fields["members"]
        assert isinstance(field, forms.MultipleChoiceField)
        field.choices = [
            (public_id, f"{member.name}, {member.get_department_display()}")
            for public_id, member in self._by_id.items()
        ]

    def clean_text(self) -> str:
        text = line_feeds(str(self.cleaned_data["text"])).strip("\n")
        if len(text) > MOST_TEXT:
            raise forms.ValidationError(f"A paper can hold {MOST_TEXT:,} characters. Make two of it.")
        if not text.strip():
            raise forms.ValidationError("A paper without a word has nothing to read.")
        return text

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if not any(cleaned.get(name) for name in ("for_everyone", "departments", "members")):
            self.add_error("for_everyone", FOR_NOBODY)
            if len(self.errors) == 1:  # where the eye would not fall on it otherwise
                self.fields["for_everyone"].widget.attrs["autofocus"] = True
        return cleaned

    @property
    def asked(self) -> PaperAsked:
        told = self.cleaned_data
        members = tuple(self._by_id[public_id] for public_id in told["members"])
        return PaperAsked(told["title"], told["for_everyone"], tuple(told["departments"]), members)

    def go_on_from(self, version: int, standing: PaperAsked) -> None:
        """Be based on this version when it is sent again."""
        was = self.cleaned_data["seen_asked"]
        self._tell(standing, {"seen": version, "seen_asked": self.asked.based_on(standing, was)})

    def change_from(self, standing: PaperAsked) -> None:
        """Be based on this title and these readers when it is sent again, and change them to its own."""
        self._tell(standing, {"seen_asked": standing.seen})

    def _tell(self, standing: PaperAsked, based_on: dict[str, Any]) -> None:
        """A title, or readers, that its writer left as they saw them are shown as they stand."""
        fields = about_paper(self.asked.over(standing, self.cleaned_data["seen_asked"])) | based_on
        told = QueryDict(mutable=True)
        told.update(self.data)
        for name, value in fields.items():
            told.setlist(name, value if isinstance(value, list) else [value])
        self.data = told


def about_paper(asked: PaperAsked) -> dict[str, Any]:
    """What the form says of a paper, of which this was said, besides its text."""
    return asked.told | {"seen_asked": asked.seen}


class PictureForm(forms.Form):
    """`cleaned_data` has a name and, as `file`, the picture written anew."""

    use_required_attribute = False

    name = forms.CharField(
        label="Name",
        max_length=MOST_PICTURE_NAME,
        validators=[RegexValidator(r"^[\w-]+\Z", "Letters, digits, - and _ alone, such as harbour-map.")],
        error_messages={"required": "Give it a name to show it by."},
    )
    file = forms.FileField(
        label="PNG, JPEG or WebP, up to 6 MiB", error_messages={"required": "Choose a picture first."}
    )

    def clean_file(self) -> CheckedPicture:
        try:
            return check_picture(self.cleaned_data["file"].read())
        except NoPicture as why:
            raise forms.ValidationError(str(why)) from None


class PaperNoteForm(OnceForm):
    use_required_attribute = False

    paragraph = forms.IntegerField(
        min_value=1, max_value=100_000, error_messages={"required": "Say which paragraph it is on."}
    )
    version = forms.IntegerField(min_value=1, max_value=100_000, widget=forms.HiddenInput)
    kind = forms.ChoiceField(choices=NoteKind.choices, initial=NoteKind.QUESTION)
    body = WrittenText(
        label="What you want to say",
        max_length=MOST_CHARACTERS,
        widget=forms.Textarea(attrs={"rows": 4}),
        error_messages={
            "required": "Write what you want to say first.",
            "max_length": f"A note can hold {MOST_CHARACTERS:,} characters. Shorten it, or leave two notes.",
        },
    )
    audience = forms.ChoiceField(
        label="For",
        choices=[
            (audience.value, f"{audience.label}: {meaning.lower()}") for audience, meaning in AUDIENCE_MEANINGS.items()
        ],
        initial=Audience.EVERYONE,
    )


class PaperChangeForm(forms.Form):
    """What a note on a paper says, with its kind and its audience unless it `is_correction`; `read` is the number of
    the text that its author was shown, and `words` what it is to be."""

    use_required_attribute = False

    read = forms.IntegerField(min_value=1, max_value=100_000, widget=forms.HiddenInput(KEPT))
    kind = forms.ChoiceField(label="It is a", choices=NoteKind.choices)
    body = PaperNoteForm.base_fields["body"]
    audience = PaperNoteForm.base_fields["audience"]

    def __init__(
        self,
        note: PaperNote,
        data: Mapping[str, Any] | None = None,
        *,
        is_correction: bool,
        initial: Mapping[str, Any] | None = None,
    ) -> None:
        self.note, self.is_correction = note, is_correction
        standing = {"kind": note.kind, "body": note.body, "audience": note.audience}
        super().__init__(data, initial={**standing, **(initial or {}), "read": note.text_number})
        if is_correction:
            del self.fields["kind"], self.fields["audience"]

    @property
    def words(self) -> PaperWords:
        told = {"kind": self.note.kind, "audience": self.note.audience} | self.cleaned_data
        return PaperWords(told["kind"], told["body"], told["audience"])

    def on_what_stands(self, *, is_correction: bool | None = None) -> PaperChangeForm:
        """The form with what was written in it, against the text that the note has by now."""
        self.note.refresh_from_db()
        is_correction = self.is_correction if is_correction is None else is_correction
        return PaperChangeForm(self.note, is_correction=is_correction, initial=self.cleaned_data)


class PaperReplyForm(OnceForm):
    use_required_attribute = False

    body = WrittenText(
        label="Your reply",
        max_length=MOST_CHARACTERS,
        widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={
            "required": "Write your reply first.",
            "max_length": f"A reply can hold {MOST_CHARACTERS:,} characters. Shorten it, or send two.",
        },
    )


class PaperDecisionForm(OnceForm):
    use_required_attribute = False

    outcome = forms.ChoiceField(choices=PaperOutcome.choices)
    reason = WrittenText(required=False, max_length=MOST_REASON, widget=forms.Textarea(attrs={"rows": 2}))
    seen = forms.IntegerField(min_value=0, max_value=100_000, widget=forms.HiddenInput)
