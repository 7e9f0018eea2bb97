"""Names of which a writer says that they are one's, or two's: as they are kept, and as a form brings them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar, TypeVar

from django import forms

from screenplay.names import MOST_NAME, SameName

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from screenplay.names import AlikeNames

MOST_PAIRS = 50  # that look alike, on one page
TOO_LONG = f"A name can have {MOST_NAME} characters here, and one of these has more. Shorten it in the script first."

By = TypeVar("By")


class TooLongName(Exception):
    """Raised where a name has more than MOST_NAME characters: cut short it would be another's."""


def kept_name(name: str) -> str:
    """A name as it is kept, with one space between its words. Raises TooLongName."""
    kept = " ".join(name.split())
    if len(kept) > MOST_NAME:
        raise TooLongName
    return kept


def shown_pairs(alike: Sequence[AlikeNames]) -> dict[str, Any]:
    """As many pairs that look alike as a page shows, and how many more there are."""
    return {"alike": alike[:MOST_PAIRS], "more": len(alike[MOST_PAIRS:])}


class TwoNamesForm(forms.Form):
    """A name, and another of which it is said that both are one's or two's. `two_names` asks for two."""

    two_names: ClassVar[str]
    other = forms.CharField(max_length=MOST_NAME)
    name = forms.CharField(max_length=MOST_NAME)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            field.error_messages |= {"required": self.two_names, "max_length": TOO_LONG}

    def is_carried_out(self, act: Callable[[By, str, str], None], by: By) -> bool:
        """Whether the form was valid and somebody did the act by it; else its sentences say why not."""
        if not self.is_valid():
            return False
        try:
            act(by, self.cleaned_data["other"], self.cleaned_data["name"])
        except SameName:
            self.add_error(None, self.two_names)
            return False
        return True

    @property
    def sentences(self) -> list[str]:
        """What is wrong with the form, each once."""
        return list(dict.fromkeys(str(told) for errors in self.errors.values() for told in errors))
