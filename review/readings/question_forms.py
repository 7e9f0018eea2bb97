"""What is asked of a writer who asks a question, and of the readers who answer it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms

from review.drafts.scripts import laid_out
from review.notes.forms import OnceForm, WrittenText
from review.readings.followed_scenes import purposes_in
from review.readings.progress import scene_name
from review.readings.question_acts import Asking
from review.readings.question_models import MOST_PURPOSE, MOST_QUESTION, STEPS, AnsweredBy, AskedAbout

if TYPE_CHECKING:
    from django.http import QueryDict

    from review.drafts.models import Draft

FEWEST_OPTIONS, MOST_OPTIONS, MOST_OPTION = 2, 8, 120
PURPOSE_QUESTION = "Why is this scene in the film?"


class QuestionForm(OnceForm):
    """A question. `asking` is it, once the form is valid."""

    use_required_attribute = False

    about = forms.ChoiceField(label="About")
    asks_purpose = forms.BooleanField(
        label="Ask why that scene is in the film: what you wrote down as its purpose is what you mean",
        required=False,
        widget=forms.CheckboxInput({"data-kept": ""}),
    )
    text = WrittenText(
        label="The question",
        required=False,
        max_length=MOST_QUESTION,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text="Ask what the pages should have told them: “What does she want when she rings?”",
    )
    answered_by = forms.ChoiceField(
        label="They answer",
        choices=AnsweredBy.choices,
        initial=AnsweredBy.WORDS,
        widget=forms.RadioSelect({"data-kept": ""}),
    )
    options = forms.CharField(
        label="To choose from",
        required=False,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="One answer a line, for one of several. For a scale, if you like: what 1 means, then what 5 means.",
    )
    intended = WrittenText(
        label="What you mean the answer to be",
        required=False,
        max_length=MOST_PURPOSE,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text="Only writers see it. In your words; for one of several the answer itself; for a scale a number.",
    )

    def __init__(self, draft: Draft, data: QueryDict | None = None, initial: dict[str, Any] | None = None) -> None:
        super().__init__(data, initial=initial, label_suffix="")
        self.draft = draft
        pages = laid_out(draft)
        self.fields["about"].choices = [  # type: ignore[attr-defined]  # a choice field
            (AskedAbout.DRAFT.value, "The whole draft"),
            ("Scenes", [(f"scene:{scene.ordinal}", scene_name(scene)) for scene in pages.scenes]),
            ("Characters", [(f"character:{one.name}", one.name) for one in pages.characters if len(one.name) <= 120]),
        ]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if cleaned.get("asks_purpose"):
            self._clean_purpose(cleaned)
        elif not cleaned.get("text", "").strip():
            self.add_error("text", "Write down the question.")
        lines = [" ".join(line.split()) for line in cleaned.get("options", "").splitlines()]
        cleaned["options"] = tuple(line for line in lines if line)
        answered_by = cleaned.get("answered_by")
        if answered_by == AnsweredBy.CHOICE:
            self._clean_choice(cleaned)
        elif answered_by == AnsweredBy.SCALE:
            self._clean_scale(cleaned)
        else:
            cleaned["options"] = ()
        return cleaned

    def _clean_purpose(self, cleaned: dict[str, Any]) -> None:
        kind, _, which = cleaned.get("about", "").partition(":")
        if kind != AskedAbout.SCENE:
            self.add_error("about", "Choose the scene whose purpose you ask for.")
            return
        cleaned["answered_by"] = AnsweredBy.WORDS
        cleaned["text"] = cleaned.get("text", "").strip() or PURPOSE_QUESTION
        cleaned["intended"] = cleaned.get("intended", "").strip() or purposes_in(self.draft).get(int(which), "")

    def _clean_choice(self, cleaned: dict[str, Any]) -> None:
        options = cleaned["options"]
        if not FEWEST_OPTIONS <= len(options) <= MOST_OPTIONS or len(set(options)) < len(options):
            self.add_error("options", f"Give {FEWEST_OPTIONS} to {MOST_OPTIONS} different answers, one a line.")
        elif any(len(option) > MOST_OPTION for option in options):
            self.add_error("options", f"An answer has {MOST_OPTION} characters at most.")
        said = " ".join(cleaned.get("intended", "").split())
        meant = next((option for option in options if option.casefold() == said.casefold()), "")
        if said and not meant and "options" not in self.errors:
            self.add_error("intended", "Write it as it stands among the answers to choose from.")
        cleaned["intended"] = meant

    def _clean_scale(self, cleaned: dict[str, Any]) -> None:
        if len(cleaned["options"]) not in {0, 2}:
            self.add_error("options", "For a scale give two lines, what 1 means and what 5 means, or none.")
        said = cleaned.get("intended", "").strip()
        if said and said not in map(str, STEPS):
            self.add_error("intended", f"Write a number from {STEPS[0]} to {STEPS[-1]}.")
        cleaned["intended"] = said

    @property
    def asking(self) -> Asking:
        told = self.cleaned_data
        about, _, which = told["about"].partition(":")
        return Asking(
            told["text"],
            about,
            int(which) if about == AskedAbout.SCENE else None,
            which if about == AskedAbout.CHARACTER else "",
            told["answered_by"],
            told["options"],
            told["intended"],
        )
