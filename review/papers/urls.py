"""Addresses of world papers, and of what is said on them."""

from __future__ import annotations

from django.urls import path

from review.papers.views import paper, paper_changes, paper_note_change, paper_write, papers

urlpatterns = [
    path("papers/", papers.papers, name="papers"),
    path("papers/new/", paper_write.paper_new, name="paper-new"),
    path("papers/<str:public_id>/", paper.paper, name="paper"),
    path("papers/<str:public_id>/write/", paper_write.paper_write, name="paper-write"),
    path("papers/<str:public_id>/pictures/", paper_write.paper_picture_add, name="paper-picture-add"),
    path("papers/<str:public_id>/pictures/<str:name>/", paper.paper_picture, name="paper-picture"),
    path("papers/<str:public_id>/changes/", paper_changes.paper_changes, name="paper-changes"),
    path("papers/<str:public_id>/withdraw/", papers.paper_withdraw, name="paper-withdraw"),
    path("papers/<str:public_id>/put-back/", papers.paper_put_back, name="paper-put-back"),
    path("papers/<str:public_id>/notes/", paper.paper_note_new, name="paper-note-new"),
    path("paper-notes/<str:public_id>/change/", paper_note_change.paper_note_change, name="paper-note-change"),
    path("paper-notes/<str:public_id>/replies/", paper.paper_reply_new, name="paper-reply-new"),
    path("paper-notes/<str:public_id>/decision/", paper.paper_decide, name="paper-decide"),
    path("paper-notes/<str:public_id>/withdraw/", paper.paper_note_withdraw, name="paper-note-withdraw"),
    path("paper-notes/<str:public_id>/put-back/", paper.paper_note_put_back, name="paper-note-put-back"),
    path("paper-replies/<str:public_id>/withdraw/", paper.paper_reply_withdraw, name="paper-reply-withdraw"),
]
