"""Addresses of the list of drafts, and of a production's scene numbers."""

from __future__ import annotations

from django.urls import path

from review.drafts.views import drafts, scene_numbers

urlpatterns = [
    path("drafts/", drafts.drafts, name="drafts"),
    path("scene-numbers/", scene_numbers.scene_numbers, name="scene-numbers"),
]
