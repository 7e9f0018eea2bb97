"""Addresses of the voices in a draft."""

from __future__ import annotations

from django.urls import path

from review.voices.views import voices

urlpatterns = [
    path("drafts/<int:number>/voices/", voices.voices, name="voices"),
    path("voices/", voices.voices_current, name="voices-current"),
]
