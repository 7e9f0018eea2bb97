"""Addresses of the list of drafts, and of a production's scene numbers and pages, which are locked there."""

from __future__ import annotations

from django.urls import path

from review.drafts.views import drafts, locked_pages, scene_numbers

urlpatterns = [
    path("drafts/", drafts.drafts, name="drafts"),
    path("scene-numbers/", scene_numbers.scene_numbers, name="scene-numbers"),
    path("locked-pages/", locked_pages.locked_pages, name="locked-pages"),
]
