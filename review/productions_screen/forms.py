"""What is asked when a production begins, and how it is set up."""

from __future__ import annotations

import re
import uuid
from dataclasses import fields
from typing import TYPE_CHECKING, Any

from django import forms
from django.conf import settings as server

from review.productions.models import MOST_LANGUAGE, PaperChoice
from review.productions_screen.acts import LAYING_OUT, Settings

if TYPE_CHECKING:
    from collections.abc import Sequence

BLANK_LINES = [(2, "Two"), (1, "One")]
MOST_COLOURS = 40
MOST_COLOUR_NAME = 40  # characters


class ProductionForm(forms.Form):
    form_id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    name = forms.CharField(
        label="What is it called?",
        max_length=120,
        help_text="The title as it stands for now.",
        error_messages={"required": "Say what the production is called."},
    )


class ColoursField(forms.CharField):
    """A list of colours, one a line; gives their names."""

    widget = forms.Textarea(attrs={"rows": 10, "spellcheck": "false", "autocomplete": "off"})

    def prepare_value(self, value: Any) -> Any:
        return "\n".join(value) if isinstance(value, list | tuple) else value

    def clean(self, value: Any) -> tuple[str, ...]:
        lines = (" ".join(line.split()) for line in (super().clean(value) or "").splitlines())
        colours = tuple(filter(None, lines))
        if wrong := wrong_with_colours(colours):
            raise forms.ValidationError(wrong)
        return colours


def wrong_with_colours(colours: Sequence[str]) -> str:
    """A sentence that says what is wrong with an order of revision colours, empty for nothing."""
    if not colours:
        return "Name at least one colour, such as White."
    if len(colours) > MOST_COLOURS:
        return f"These are {len(colours)} colours; {MOST_COLOURS} is the most an order can have."
    for colour in colours:
        if len(colour) > MOST_COLOUR_NAME:
            return f"“{colour[:MOST_COLOUR_NAME]}…” is longer than {MOST_COLOUR_NAME} characters, the most a name has."
    seen: set[str] = set()
    for colour in colours:
        if colour.casefold() in seen:
            return f"“{colour}” is there twice: each colour has one place in the order."
        seen.add(colour.casefold())
    return ""


# Well-formed tags of RFC 5646, 2.1: language, script, region and variants. No script needs extensions or private tags.
LANGUAGE_TAG = re.compile(
    r"[a-z]{2,3}(-[a-z]{4})?(-(?:[a-z]{2}|[0-9]{3}))?(-(?:[a-z0-9]{5,8}|[0-9][a-z0-9]{3}))*", re.IGNORECASE
)


def in_usual_case(tag: str) -> str:
    """A language tag in the case that RFC 5646, 2.1.1, recommends: zh-Hant-TW."""
    first, *rest = tag.lower().split("-")
    cased = [part.title() if len(part) == 4 and part.isalpha() else part for part in rest]
    cased = [part.upper() if len(part) == 2 else part for part in cased]
    return "-".join([first, *cased])


class SettingsForm(forms.Form):
    """`cleaned_data` has the fields of `Settings`, and `seen`, the mark of those that the form was shown with."""

    use_required_attribute = False

    seen = forms.CharField(widget=forms.HiddenInput, required=False)
    name = forms.CharField(
        label="Name of the production",
        max_length=120,
        error_messages={"required": "Say what the production is called."},
    )
    paper = forms.ChoiceField(label="Paper", choices=PaperChoice.choices, widget=forms.RadioSelect)
    blank_lines_before_heading = forms.TypedChoiceField(
        label="Blank lines before a scene heading",
        choices=BLANK_LINES,
        coerce=int,
        widget=forms.RadioSelect,
        help_text="Houses differ. Two is the more common.",
    )
    language = forms.CharField(
        label="Language of the script",
        required=False,
        max_length=MOST_LANGUAGE,
        help_text=(
            "As a tag: en-GB, pt-BR, ja. Screen readers and PDF readers go by it. Left empty, it is this server’s own,"
            f" {server.LANGUAGE_CODE}."
        ),
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false", "list": "languages"}),
    )
    revision_colours = ColoursField(
        label="Revision colours, in order",
        required=False,
        help_text=(
            "One a line. Each new draft is preset to the next. After the last the round begins again, as Double"
            " White and so on."
        ),
    )

    def clean_name(self) -> str:
        return " ".join(str(self.cleaned_data["name"]).split())

    def clean_language(self) -> str:
        tag = str(self.cleaned_data["language"])
        if tag and not LANGUAGE_TAG.fullmatch(tag):
            raise forms.ValidationError(
                f"“{tag}” is not a language tag. One is a language’s code, with a country’s if it matters: en, en-GB."
            )
        return in_usual_case(tag)

    def say_pages_are_locked(self, standing: Settings) -> None:
        """Say beside what was changed of how pages are laid out that this stays as it is while they are locked."""
        for name in sorted(LAYING_OUT & self.settings.differing_from(standing).keys()):
            self.add_error(name, "The pages are locked, so this stays as it is. Unlock them first.")

    @property
    def settings(self) -> Settings:
        """What the form asks for, once it is valid."""
        return Settings(**{field.name: self.cleaned_data[field.name] for field in fields(Settings)})
