"""The sign-in library's forms in our own words: a label for each field, and nothing said twice."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar

from allauth.account import forms as account

if TYPE_CHECKING:
    from django.forms import Field

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


class ChangePassword(OurWords, account.ChangePasswordForm):  # type: ignore[misc]
    words: ClassVar = {
        "oldpassword": ("Your password now", ""),
        "password1": ("The new one", LENGTH),
        "password2": ("The new one again", ""),
    }


class ChoosePassword(OurWords, account.SetPasswordForm):  # type: ignore[misc]
    words: ClassVar = {"password1": ("A password", LENGTH), "password2": ("The same again", "")}


class ForgottenPassword(OurWords, account.ResetPasswordForm):  # type: ignore[misc]
    words: ClassVar = {"email": ("Your e-mail address", "")}


class ChooseNewPassword(OurWords, account.ResetPasswordKeyForm):  # type: ignore[misc]
    words: ClassVar = {"password1": ("A new password", LENGTH), "password2": ("The same again", "")}
