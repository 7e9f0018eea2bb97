"""What people are asked: who they are, whom they invite, and the code that guards the setup."""

from __future__ import annotations

import uuid
from typing import Any

from django import forms
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from review.access import Role
from review.mail.acts import wants_no_mail
from review.mail.site import mail_is_on
from review.people.acts import RoleInProduction
from review.people.models import Department
from review.people.passwords import refuse_known_words

TOO_SHORT = "Ten characters or more, please."


class WhoForm(forms.Form):
    """Who somebody is: a name, an address to sign in with, a password."""

    name = forms.CharField(
        label="Your name",
        max_length=80,
        help_text="As your colleagues know you; it stands beside your notes.",
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
        error_messages={"required": "Give your name."},
    )
    email = forms.EmailField(
        label="Your e-mail address",
        max_length=254,
        help_text="To sign in with. Nobody else on the production sees it.",
        widget=forms.EmailInput(attrs={"autocomplete": "username"}),
        error_messages={"required": "Give your e-mail address.", "invalid": "That is not a whole e-mail address."},
    )
    password = forms.CharField(
        label="A password",
        strip=False,
        max_length=128,
        help_text="Ten characters or more.",
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        error_messages={"required": "Choose a password."},
    )

    def clean_name(self) -> str:
        name = str(self.cleaned_data["name"])
        if "@" in name:
            raise ValidationError("That is an e-mail address. Give the name that stands beside your notes.")
        return name

    def clean_email(self) -> str:
        return str(self.cleaned_data["email"]).strip().lower()

    def clean_password(self) -> str:
        password = str(self.cleaned_data.get("password") or "")
        if password:
            _check(password)
        return password

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if password := cleaned.get("password"):
            try:
                refuse_known_words(
                    password, [cleaned.get("name", ""), cleaned.get("email", ""), self.title_known(cleaned)]
                )
            except ValidationError as problem:
                self.add_error("password", problem)
        return cleaned

    def title_known(self, cleaned: dict[str, Any]) -> str:
        """The title of the production that they come into, as they give it."""
        return str(cleaned.get("title", ""))


def _check(password: str) -> None:
    """Raises ValidationError with sentences of our own where the usual check has one that we say otherwise."""
    try:
        validate_password(password)
    except ValidationError as problem:
        raise ValidationError(
            [TOO_SHORT if one.code == "password_too_short" else one for one in problem.error_list]
        ) from None


class SetupForm(WhoForm):
    """The first writer's setup."""

    code = forms.CharField(
        label="The one-time code",
        max_length=40,
        help_text="It stands in the terminal where the server was started. Small letters and dashes do not matter.",
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "characters", "spellcheck": "false"}),
        error_messages={"required": "Give the code from the terminal."},
    )
    title = forms.CharField(
        label="The production",
        max_length=120,
        help_text="What the film is called for now.",
        error_messages={"required": "Say what the production is called."},
    )
    field_order = ("code", "name", "email", "password", "title")


class JoinForm(WhoForm):
    """An invited person says who they are; a password is theirs to choose or to leave out."""

    def __init__(self, title: str, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.title = title
        password = self.fields["password"]
        password.required = False
        password.label = "A password, if you like"
        password.help_text = (
            "Ten characters or more, for reading on another device too. Without one you stay signed in on this "
            "device, and the writer can send you a fresh link."
        )

    def title_known(self, cleaned: dict[str, Any]) -> str:
        return self.title


class InviteForm(forms.Form):
    form_id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    name = forms.CharField(
        label="Name",
        max_length=80,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        error_messages={"required": "Say whom you invite."},
    )
    role = forms.ChoiceField(
        label="Role",
        choices=Role.choices,
        initial=Role.CREW,
        help_text="A writer also puts up drafts, decides notes and invites; everyone else reads and leaves notes.",
    )
    department = forms.ChoiceField(
        label="Department",
        choices=[("", "Choose one"), *Department.choices],
        error_messages={"required": "Choose a department."},
    )
    character = forms.CharField(
        label="Plays, if in the cast",
        max_length=120,
        required=False,
        help_text="The character’s name as the script’s cues have it. Their change sheet goes by it.",
        widget=forms.TextInput(attrs={"autocomplete": "off", "list": "cast-names"}),
    )

    address = forms.EmailField(
        label="Their e-mail address, to send the link there",
        max_length=254,
        required=False,
        help_text="Kept until it is sent. Without it you send the link yourself.",
        widget=forms.EmailInput(attrs={"autocomplete": "off"}),
        error_messages={"invalid": "That is not a whole e-mail address."},
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not mail_is_on():
            del self.fields["address"]

    def clean_character(self) -> str:
        return " ".join(str(self.cleaned_data["character"]).split())

    def clean_address(self) -> str:
        address = str(self.cleaned_data["address"])
        if address and wants_no_mail(address):
            raise ValidationError("Whoever is there wants no mail from here. Leave it out, and send the link yourself.")
        return address


class MembershipForm(forms.Form):
    """What a member is in the production: their role, their department, and whom they play."""

    role = forms.ChoiceField(label="Role", choices=Role.choices)
    department = forms.ChoiceField(label="Department", choices=Department.choices)
    character = forms.CharField(
        label="Plays",
        max_length=120,
        required=False,
        help_text="The character’s name as the script’s cues have it. Their change sheet goes by it.",
        widget=forms.TextInput(attrs={"autocomplete": "off", "list": "cast-names"}),
        error_messages={"max_length": "A character’s name has 120 letters at most."},
    )

    def clean_character(self) -> str:
        return " ".join(str(self.cleaned_data["character"]).split())

    @property
    def role_wanted(self) -> RoleInProduction:
        told = self.cleaned_data
        return RoleInProduction(told["role"], told["department"], told["character"])
