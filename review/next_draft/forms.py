"""What is asked while the next draft is written: a scene to add, a scene's text, a text that was edited elsewhere."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django import forms

from review.drafts.fields import PastedText
from screenplay import parse
from screenplay.intake import Unreadable, is_pdf, read_bytes, read_text, refuse_more_than_a_script

if TYPE_CHECKING:
    from collections.abc import Sequence

    from django.http import QueryDict
    from django.utils.datastructures import MultiValueDict

MOST_CHARACTERS = 400_000
IS_PDF = "That is a PDF. Put back the text itself; a PDF is a new draft to put up."
TOO_MUCH = "This is more than one scene can hold. Save it in several."
NOTHING = "Choose the file you edited, or paste its text."


class AddForm(forms.Form):
    """A scene to add: its heading, and the scene it comes after."""

    heading = forms.CharField(max_length=200)
    after = forms.CharField(required=False)
    form_id = forms.UUIDField()


class SceneForm(forms.Form):
    """A scene's text. `seen` is the version that the writer had before them; `as_typed` comes with what is saved while
    they type; `keep` says `theirs` to let stand what another saved meanwhile, or `together` to take the two that were
    put together."""

    text = PastedText(required=False, max_length=MOST_CHARACTERS, error_messages={"max_length": TOO_MUCH})
    seen = forms.IntegerField(min_value=1)
    form_id = forms.UUIDField()
    as_typed = forms.BooleanField(required=False)
    keep = forms.CharField(required=False)
    together = PastedText(required=False, max_length=MOST_CHARACTERS)


class UnsavedSceneForm(forms.Form):
    """A scene's text on its way; `rests` comes once nothing is typed for a while."""

    text = PastedText(required=False, max_length=MOST_CHARACTERS)
    rests = forms.BooleanField(required=False)


@dataclass(frozen=True, slots=True)
class Origin:
    """A text that an edited one may have been made from: its key in the form, and what it is called there."""

    key: str
    name: str
    text: str


class PutBackForm(forms.Form):
    """The text as edited elsewhere, and which text it was made from."""

    use_required_attribute = False

    file = forms.FileField(required=False, allow_empty_file=True, label="The file you edited")
    text = PastedText(
        required=False, label="Or its text, pasted", widget=forms.Textarea(attrs={"rows": 10, "spellcheck": "false"})
    )
    since = forms.ChoiceField(label="It was made from", widget=forms.RadioSelect)

    def __init__(
        self,
        origins: Sequence[Origin],
        data: QueryDict | None = None,
        files: MultiValueDict[str, Any] | None = None,
    ) -> None:
        super().__init__(data, files, label_suffix="")
        since = self.fields["since"]
        assert isinstance(since, forms.ChoiceField)
        since.choices = [(origin.key, origin.name) for origin in origins]
        since.initial = origins[0].key

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        file, pasted = cleaned.get("file"), cleaned.get("text") or ""
        try:
            if file:
                data = file.read()
                if is_pdf(data):
                    raise Unreadable(IS_PDF)
                cleaned["edited"] = read_bytes(data, file.name).text
            elif pasted:
                cleaned["edited"] = read_text(pasted).text
            elif "text" not in self.errors:
                self.add_error("file", NOTHING)
            refuse_more_than_a_script(parse(cleaned.get("edited", "")))
        except Unreadable as refusal:
            self.add_error("file" if file else "text", str(refusal))
        return cleaned
