"""Addresses of the script screen, the notes and the replies."""

from __future__ import annotations

from django.urls import path

from review.notes import note, replies, script

urlpatterns = [
    path("script/", script.script_current, name="script-current"),
    path("drafts/<int:number>/script/", script.script, name="script"),
    path("drafts/<int:number>/notes/new/", note.note_new, name="note-new"),
    path("notes/<str:public_id>/", note.note, name="note"),
    path("notes/<str:public_id>/withdraw/", note.note_withdraw, name="note-withdraw"),
    path("notes/<str:public_id>/replies/", replies.reply_new, name="reply-new"),
    path("replies/<str:public_id>/withdraw/", replies.reply_withdraw, name="reply-withdraw"),
]
