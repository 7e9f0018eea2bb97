"""Addresses of the productions."""

from __future__ import annotations

from django.urls import path

from review.productions import settings, views

urlpatterns = [
    path("", views.productions, name="productions"),
    path("productions/new/", views.production_new, name="production-new"),
    path("p/<str:production>/", views.home, name="home"),
    path("p/<str:production>/settings/", settings.settings, name="settings"),
]
