"""Addresses of putting up a draft, from a file or from the working draft, and of what was read in one."""

from __future__ import annotations

from django.urls import path

from review.publishing.views import draft_held, draft_withdraw, publish, report, upload

urlpatterns = [
    path("drafts/new/", upload.draft_upload, name="draft-upload"),
    path("drafts/new/<str:public_id>/", draft_held.draft_held, name="draft-held"),
    path("drafts/<int:number>/report/", report.draft_report, name="draft-report"),
    path("drafts/<int:number>/withdraw/", draft_withdraw.draft_withdraw, name="draft-withdraw"),
    path("drafts/<int:number>/put-up-again/", draft_withdraw.draft_put_up_again, name="draft-put-up-again"),
    path("working/publish/", publish.working_publish, name="working-publish"),
]
