"""What the forms of a note and of a reply have in common: sent twice they count once; half-typed words are kept."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any, Self

from django import forms
from django.http import QueryDict

from review.notes.models import Audience, NoteKind

if TYPE_CHECKING:
    from review.people.models import Member

MOST_CHARACTERS = 10_000
MOST_WORDING_CHARACTERS = 20_000
KIND_MEANINGS = {
    NoteKind.QUESTION: "You need to know something",
    NoteKind.CONFUSION: "You lost the thread here",
    NoteKind.IDEA: "It could also go like this",
    NoteKind.PROBLEM: "Something does not hold",
    NoteKind.PRACTICAL: "What it takes to do it",
    NoteKind.SAFETY: "Someone could be hurt",
    NoteKind.PRAISE: "Keep this",
}
AUDIENCE_MEANINGS = {
    Audience.EVERYONE: "They can read it and reply",
    Audience.WRITER: "Nobody else sees that it is there",
}
NO_FORM_ID = "Something went missing on the way. Send it again."

CHANGED_SINCE = (
    "This note was changed in another window since. Nothing is stored yet: what you wrote is below, and takes the place"
    " of what it says now if you send it again."
)
ANSWERED_SINCE = (
    "Somebody answered this note while you were changing it, so nothing is stored yet. You can correct what it says:"
    " the text they answered then stays in view."
)
ARRIVED_BEFORE = "An earlier version of this arrived before. Send again to add this one as well."


class WithMeanings:
    """What a form for a note offers to choose from, each with its value, its name and its meaning in a few words."""

    def kinds(self) -> list[tuple[str, str, str]]:
        return [(kind.value, str(kind.label), meaning) for kind, meaning in KIND_MEANINGS.items()]

    def audiences(self) -> list[tuple[str, str, str]]:
        return [(who.value, who.label.replace("'", "’"), meaning) for who, meaning in AUDIENCE_MEANINGS.items()]


def line_feeds(text: str) -> str:
    """A text with every line end a plain line feed, as browsers send none."""
    return text.replace("\r\n", "\n").replace("\r", "\n")


class WrittenText(forms.CharField):
    """Words that somebody typed, counted and kept with plain line feeds: a browser counts a line end once, and sends
    two characters for it."""

    def to_python(self, value: Any) -> str:
        return line_feeds(str(super().to_python(value)))


def kept_key(member: Member, *names: str | int) -> str:
    """The name under which a browser keeps this person's half-typed words in this production."""
    parts = [member.person.public_id, member.production.public_id, *map(str, names)]
    return ":".join(["fairhand", "kept", *parts])


class OnceForm(forms.Form):
    """A form whose `form_id` makes sending it twice count once: the act that it asks for finds what it made."""

    form_id = forms.UUIDField(
        widget=forms.HiddenInput, initial=uuid.uuid4, error_messages={"required": NO_FORM_ID, "invalid": NO_FORM_ID}
    )

    def renewed(self) -> Self:
        """The form with an id of its own, for words changed after they had arrived once."""
        data = QueryDict(mutable=True)
        data.update(self.data)
        data["form_id"] = str(uuid.uuid4())
        self.data = data
        self.add_error(None, ARRIVED_BEFORE)
        return self


class SentOnceForm(OnceForm):
    """One for words of `author`'s, which may come again with others in them."""

    def __init__(self, *args: Any, author: Member, **kwargs: Any) -> None:
        self.author = author
        super().__init__(*args, **kwargs)

    @property
    def usable_form_id(self) -> str:
        """The id to hand out again: the form's own, or a new one where it came without one that can be used."""
        return str(uuid.uuid4() if self["form_id"].errors else self["form_id"].value())
