"""Addresses of the productions, and of each one's settings."""

from __future__ import annotations

from django.urls import path

from review.productions_screen.views import production_new, productions, settings

urlpatterns = [
    path("", productions.productions, name="productions"),
    path("productions/new/", production_new.production_new, name="production-new"),
    path("p/<str:production>/settings/", settings.settings, name="settings"),
]
