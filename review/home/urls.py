"""The address of a production's home."""

from __future__ import annotations

from django.urls import path

from review.home.views import home

urlpatterns = [
    path("", home.home, name="home"),
]
