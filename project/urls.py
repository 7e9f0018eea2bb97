"""Addresses: signing in, and everything else in `review`."""

from __future__ import annotations

from allauth.account import views as account
from django.urls import include, path, re_path

from review.people.sessions import not_by_link

# Of the sign-in library's screens, those that are used here, under the names by which it finds them.
signing_in = [
    path("sign-in/", account.login, name="account_login"),
    path("sign-out/", account.logout, name="account_logout"),
    path("sign-up/", account.signup, name="account_signup"),  # says that people come by invitation
    path("inactive/", account.account_inactive, name="account_inactive"),
    path("password/", not_by_link(account.password_change), name="account_change_password"),
    path("password/choose/", not_by_link(account.password_set), name="account_set_password"),
    path("password/forgotten/", account.password_reset, name="account_reset_password"),
    path("password/forgotten/sent/", account.password_reset_done, name="account_reset_password_done"),
    re_path(
        r"^password/forgotten/(?P<uidb36>[0-9A-Za-z]+)-(?P<key>.+)/$",
        account.password_reset_from_key,
        name="account_reset_password_from_key",
    ),
    path(
        "password/forgotten/changed/",
        account.password_reset_from_key_done,
        name="account_reset_password_from_key_done",
    ),
]

urlpatterns = [
    path("account/", include(signing_in)),
    path("", include("review.urls")),
]
handler400 = "review.errors.bad_request"
handler403 = "review.errors.forbidden"
handler404 = "review.errors.not_found"
handler500 = "review.errors.server_error"
