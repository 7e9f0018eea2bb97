"""Addresses of the notes screen, and of one note: its page, its replies, its decision and its place."""

from __future__ import annotations

from django.urls import path

from review.notes_screen.views import decision, note, note_change, notes, place, reply, together

urlpatterns = [
    path("notes/", notes.notes, name="notes"),
    path("notes/look/", notes.notes_look, name="notes-look"),
    path("notes/together/", together.together, name="decide-together"),
    path("notes/<str:public_id>/", note.note, name="note"),
    path("notes/<str:public_id>/change/", note_change.note_change, name="note-change"),
    path("notes/<str:public_id>/withdraw/", note.note_withdraw, name="note-withdraw"),
    path("notes/<str:public_id>/put-back/", note.note_put_back, name="note-put-back"),
    path("notes/<str:public_id>/replies/", reply.reply_new, name="reply-new"),
    path("notes/<str:public_id>/decision/", decision.decide, name="decide"),
    path("notes/<str:public_id>/open-again/", decision.decision_reopen, name="decision-reopen"),
    path("notes/<str:public_id>/undo/", decision.decision_undo, name="decision-undo"),
    path("notes/<str:public_id>/place/", place.place, name="place"),
    path("replies/<str:public_id>/withdraw/", reply.reply_withdraw, name="reply-withdraw"),
]
