"""The form by which a writer makes a rule for a character's voice."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms

from screenplay.speech import SCRIPTS, RuleKind, VoiceRule

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.script import Scene

MOST_WORDS_LISTED = 40
MOST_LETTERS = 600
KINDS = (
    (RuleKind.NO_CONTRACTIONS, "Never contracts: “do not”, and not “don’t”"),
    (RuleKind.ONLY_CONTRACTIONS, "Always contracts: “don’t”, and not “do not”"),
    (RuleKind.NO_QUESTIONS, "Asks no questions"),
    (RuleKind.SHORT_SENTENCES, "Says no more than so many words a sentence"),
    (RuleKind.NEVER_SAYS, "Never says these words"),
    (RuleKind.SAYS_EACH_SCENE, "Says one of these words in every scene they speak in"),
    (RuleKind.USES_NAMES, "Calls somebody by name in every scene they speak in"),
    (RuleKind.NEVER_USES_NAMES, "Never calls anybody by name"),
    (RuleKind.SCRIPTS_ONLY, "Speaks in these letters alone"),
)


class RuleForm(forms.Form):
    """A rule for one character of a draft, whose scenes are offered for where it holds."""

    kind = forms.ChoiceField(label="What they always or never do", choices=[(key.value, label) for key, label in KINDS])
    most_words = forms.IntegerField(
        label="Most words a sentence", min_value=1, max_value=200, required=False, help_text="For so many words alone."
    )
    words = forms.CharField(
        label="Words", max_length=MOST_LETTERS, required=False, help_text="Words or phrases, with commas between."
    )
    scripts = forms.MultipleChoiceField(
        label="Letters", choices=[(name, name) for name in SCRIPTS], required=False, widget=forms.CheckboxSelectMultiple
    )
    first_scene = forms.TypedChoiceField(label="From scene", coerce=int, empty_value=None, required=False)
    last_scene = forms.TypedChoiceField(label="To scene", coerce=int, empty_value=None, required=False)
    form_id = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, scenes: Sequence[Scene], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        told = [(scene.ordinal, f"{scene.number or scene.ordinal}. {scene.heading}") for scene in scenes]
        for name, empty in (("first_scene", "The start"), ("last_scene", "The end")):
            field = self.fields[name]
            assert isinstance(field, forms.TypedChoiceField)
            field.choices = [("", empty), *told]

    def clean(self) -> dict[str, Any]:
        said = super().clean() or self.cleaned_data
        kind = said.get("kind")
        if kind == RuleKind.SHORT_SENTENCES and not said.get("most_words") and "most_words" not in self.errors:
            self.add_error("most_words", "Say how many words: from 1 to 200.")
        words = [" ".join(word.split()) for word in said.get("words", "").split(",")]
        said["words"] = tuple(dict.fromkeys(word for word in words if word))[:MOST_WORDS_LISTED]
        if kind in {RuleKind.NEVER_SAYS, RuleKind.SAYS_EACH_SCENE} and not said["words"] and "words" not in self.errors:
            self.add_error("words", "Name a word at least.")
        if kind == RuleKind.SCRIPTS_ONLY and not said.get("scripts") and "scripts" not in self.errors:
            self.add_error("scripts", "Choose the letters.")
        first, last = said.get("first_scene"), said.get("last_scene")
        if first and last and first > last:
            self.add_error("last_scene", "This comes before the first scene: choose the same one, or a later one.")
        return said

    def rule_for(self, character: str) -> VoiceRule:
        """The rule that a valid form asks for."""
        said = self.cleaned_data
        kind = RuleKind(said["kind"])
        return VoiceRule(
            character=character,
            kind=kind,
            most_words=said["most_words"] or 0 if kind is RuleKind.SHORT_SENTENCES else 0,
            words=said["words"] if kind in {RuleKind.NEVER_SAYS, RuleKind.SAYS_EACH_SCENE} else (),
            scripts=tuple(said["scripts"]) if kind is RuleKind.SCRIPTS_ONLY else (),
            first_scene=said["first_scene"],
            last_scene=said["last_scene"],
        )
