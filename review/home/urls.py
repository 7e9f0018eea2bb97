"""The addresses of a production's home, and of a reader's own notes."""

from __future__ import annotations

from django.urls import path

from review.home.views import home, own_notes

urlpatterns = [
    path("", home.home, name="home"),
    path("your-notes/", own_notes.own_notes, name="home-own-notes"),
]
