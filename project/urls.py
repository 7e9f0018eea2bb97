"""Addresses: signing in, and everything else in `review`."""

from __future__ import annotations

from django.urls import include, path

urlpatterns = [
    path("account/", include("allauth.account.urls")),
    path("", include("review.urls")),
]
handler400 = "review.errors.bad_request"
handler403 = "review.errors.forbidden"
handler404 = "review.errors.not_found"
handler500 = "review.errors.server_error"
