"""Addresses of the notes screen, of deciding a note, and of setting its place."""

from __future__ import annotations

from django.urls import path

from review.decisions import decide, notes, place

urlpatterns = [
    path("notes/", notes.notes, name="notes"),
    path("notes/<str:public_id>/decision/", decide.decide, name="decide"),
    path("notes/<str:public_id>/open-again/", decide.decision_reopen, name="decision-reopen"),
    path("notes/<str:public_id>/place/", place.place, name="place"),
]
