"""Addresses of the script screen, and of leaving a note on a draft."""

from __future__ import annotations

from django.urls import path

from review.script.views import note_new, script

urlpatterns = [
    path("script/", script.script_current, name="script-current"),
    path("drafts/<int:number>/script/", script.script, name="script"),
    path("drafts/<int:number>/notes/new/", note_new.note_new, name="note-new"),
]
