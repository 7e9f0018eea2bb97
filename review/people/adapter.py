"""How the sign-in library behaves here: nobody signs up; people come in by setup or by invitation."""

from __future__ import annotations

from typing import TYPE_CHECKING

from allauth.account.adapter import DefaultAccountAdapter

if TYPE_CHECKING:
    from django.http import HttpRequest


class InvitedOnly(DefaultAccountAdapter):  # type: ignore[misc]  # the library has no types
    error_messages = DefaultAccountAdapter.error_messages | {
        "email_password_mismatch": "This address and this password do not belong together.",
        "too_many_login_attempts": "That was tried too often. Wait five minutes, then try again.",
    }

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return False
