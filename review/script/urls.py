"""Addresses of the script screen, and of leaving a note on a draft."""

from __future__ import annotations

from django.urls import path

from review.script.views import note_new, script, script_find, script_news, script_notes

urlpatterns = [
    path("script/", script.script_current, name="script-current"),
    path("drafts/<int:number>/script/", script.script, name="script"),
    path("drafts/<int:number>/script/notes/", script_notes.script_notes, name="script-notes"),
    path("drafts/<int:number>/script/news/", script_news.script_news, name="script-news"),
    path("drafts/<int:number>/script/pages/<str:name>/", script_notes.script_page, name="script-page"),
    path("drafts/<int:number>/script/find/", script_find.script_find, name="script-find"),
    path("drafts/<int:number>/script/changed/", script_find.script_changed, name="script-changed"),
    path("drafts/<int:number>/script/place/", script.line_in_view, name="line-in-view"),
    path("drafts/<int:number>/notes/new/", note_new.note_new, name="note-new"),
]
