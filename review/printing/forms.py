"""The forms that ask how a draft is to be printed, and whose sides. Sent by GET: an address says what it prints."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms

from review.productions.models import CHOICE_OF, PAPER_OF, PaperChoice

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.drafts.models import Draft
    from screenplay import PaperSize


ONE_PAPER = "The pages of this draft are locked on %s: on other paper they would not be the same pages."


class NumbersForm(forms.Form):
    """Asks for scene numbers alone: preset to yes once they are locked, as they are then what everybody goes by."""

    use_required_attribute = False

    scene_numbers = forms.BooleanField(label="Scene numbers", required=False)

    def __init__(self, *args: Any, draft: Draft, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["scene_numbers"].initial = draft.production.scene_numbers_locked_at is not None


class PaperSizeForm(NumbersForm):
    """`cleaned_data` has a PaperSize and a truth; what an address leaves out is the draft's paper, and no. Locked pages
    have one paper, which `one_paper` then names."""

    paper = forms.ChoiceField(label="Paper", required=False, choices=PaperChoice.choices, widget=forms.RadioSelect)
    scene_numbers = forms.BooleanField(label="Scene numbers in both margins", required=False)

    def __init__(self, *args: Any, draft: Draft, **kwargs: Any) -> None:
        super().__init__(*args, draft=draft, **kwargs)
        self.usual = CHOICE_OF[draft.page_setting.paper]
        self.one_paper = "" if draft.locked_pages is None else draft.paper_name
        self.fields["paper"].initial = self.usual
        if self.one_paper:
            self.fields["paper"] = forms.ChoiceField(
                label="Paper",
                required=False,
                choices=[(self.usual, self.one_paper)],
                error_messages={"invalid_choice": ONE_PAPER % self.one_paper},
            )

    def clean_paper(self) -> PaperSize:
        return PAPER_OF[PaperChoice(self.cleaned_data["paper"] or self.usual)]


class PrintForm(PaperSizeForm):
    notes = forms.BooleanField(label="Open notes, listed after the script", required=False)
    for_writers_too = forms.BooleanField(label="Those for the writer’s eyes only too", required=False)


class SidesForm(PaperSizeForm):
    """Whose sides; the member's `own` character's unless another is chosen."""

    def __init__(self, *args: Any, characters: list[str], own: str | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choices = [(name, name) for name in characters]
        self.fields["character"] = forms.ChoiceField(label="Character", choices=choices, initial=own)


class RevisedForm(PaperSizeForm):
    """Asks since which earlier draft, latest first, and how; `cleaned_data` has that Draft as `since`."""

    changed_only = forms.BooleanField(label="Changed pages only, to swap in a printed copy", required=False)
    tinted = forms.BooleanField(required=False)

    def __init__(
        self, *args: Any, earlier: Sequence[Draft], draft: Draft, since: Draft | None = None, **kwargs: Any
    ) -> None:
        super().__init__(*args, draft=draft, **kwargs)
        self.earlier = {str(each.number): each for each in earlier}
        choices = [(number, str(each)) for number, each in self.earlier.items()]
        usual = (since or earlier[0]).number
        self.fields["since"] = forms.ChoiceField(label="Since", required=False, choices=choices, initial=usual)
        self.fields["tinted"].label = f"Changed pages tinted {draft.colour_name}, for screens and colour printers"

    def clean_since(self) -> Draft:
        return self.earlier[self.cleaned_data["since"] or next(iter(self.earlier))]
