"""The app's entry in Django's registry."""

from __future__ import annotations

from django.apps import AppConfig


class ReviewConfig(AppConfig):
    name = "review"
    default_auto_field = "django.db.models.BigAutoField"
