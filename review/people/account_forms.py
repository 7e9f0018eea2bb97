"""The sign-in library's forms in our own words: a label for each field, and nothing said twice."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar

from allauth.account import forms as account
from allauth.account.internal.flows.password_reset import request_password_reset
from allauth.account.internal.userkit import filter_users_by_email
from allauth.core.exceptions import ImmediateHttpResponse
from allauth.core.internal.ratelimit import respond_429
from django.core.exceptions import ValidationError

from review.mail.site import mail_is_on
from review.people.acts import send_new_password_link
from review.people.tries import ASKING_FOR_MAIL, CHANGING_PASSWORD, TriedTooOften, attempt
from review.serving.addresses import asked_from
from review.serving.afterwards import afterwards

if TYPE_CHECKING:
    from django.forms import Field
    from django.http import HttpRequest

LENGTH = "Ten characters or more."


class OurWords:
    """Takes the placeholders away, and gives each named field its label and help."""

    words: ClassVar[dict[str, tuple[str, str]]]
    fields: dict[str, Field]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            field.widget.attrs.pop("placeholder", None)
        for name, (label, help_text) in self.words.items():
            self.fields[name].label, self.fields[name].help_text = label, help_text


class SignIn(OurWords, account.LoginForm):  # type: ignore[misc]  # the library has no types
    words: ClassVar = {"login": ("Your e-mail address", ""), "password": ("Your password", "")}


class ChangePassword(OurWords, account.ChangePasswordForm):  # type: ignore[misc]  # the same
    words: ClassVar = {
        "oldpassword": ("Your password now", ""),
        "password1": ("The new one", LENGTH),
        "password2": ("The new one again", ""),
    }

    def clean_oldpassword(self) -> str:
        """Guesses at it are counted, as they are at the door: somebody may sit at another's open screen."""
        try:
            tried = attempt(CHANGING_PASSWORD, door=str(self.user.pk), by=str(self.user.pk))
        except TriedTooOften:
            raise ValidationError("That was tried too often. Wait five minutes, then try again.") from None
        password: str = super().clean_oldpassword()
        tried.came_out_well()
        return password


class ChoosePassword(OurWords, account.SetPasswordForm):  # type: ignore[misc]  # the same
    words: ClassVar = {"password1": ("A password", LENGTH), "password2": ("The same again", "")}


class ForgottenPassword(OurWords, account.ResetPasswordForm):  # type: ignore[misc]  # the same
    """Whether the address is anybody's is looked up, and the mail sent, once the answer is on its way: so the answer
    takes as long for one as for the other.

    With a mail server it waits its turn among the other letters; without one it is printed in the terminal, for whoever
    runs the server."""

    words: ClassVar = {"email": ("Your e-mail address", "")}

    def clean_email(self) -> str:
        return str(self.cleaned_data["email"]).lower()

    def save(self, request: HttpRequest, **kwargs: Any) -> str:
        email: str = self.cleaned_data["email"]
        try:
            attempt(ASKING_FOR_MAIL, door=email, by=asked_from())
        except TriedTooOften as refusal:
            raise ImmediateHttpResponse(respond_429(request)) from refusal
        afterwards(partial(send_new_password_link, email) if mail_is_on() else partial(_print_link, request, email))
        return email


def _print_link(request: HttpRequest, email: str) -> None:
    users = filter_users_by_email(email, is_active=True, prefer_verified=True, for_login=True)
    request_password_reset(request, email, users, account.default_token_generator)


class ChooseNewPassword(OurWords, account.ResetPasswordKeyForm):  # type: ignore[misc]  # the same
    words: ClassVar = {"password1": ("A new password", LENGTH), "password2": ("The same again", "")}
