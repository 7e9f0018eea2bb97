"""Addresses of the drafts, of what changed between two of them, and of the voices in one."""

from __future__ import annotations

from django.urls import path

from review.drafts.views import changes, download, numbers, prints, report, revised, sheets, shelf, upload, voices

urlpatterns = [
    path("drafts/", shelf.drafts, name="drafts"),
    path("drafts/new/", upload.draft_upload, name="draft-upload"),
    path("drafts/new/answers/", upload.draft_answers, name="draft-upload-answers"),
    path("drafts/<int:number>/report/", report.draft_report, name="draft-report"),
    path("drafts/<int:number>/download/", download.draft_download, name="draft-download"),
    path("drafts/<int:number>/text/", download.draft_text, name="draft-text"),
    path("drafts/<int:number>/html/", download.draft_html, name="draft-html"),
    path("drafts/<int:number>/print/", prints.draft_print, name="draft-print"),
    path("drafts/<int:number>/pdf/", prints.draft_pdf, name="draft-pdf"),
    path("drafts/<int:number>/sides/", prints.draft_sides, name="draft-sides"),
    path("drafts/<int:number>/revised-pages/", revised.revised_pages, name="revised-pages"),
    path("drafts/<int:number>/revised-pages/pdf/", revised.revised_pages_pdf, name="revised-pages-pdf"),
    path("scene-numbers/", numbers.scene_numbers, name="scene-numbers"),
    path("drafts/<int:number>/voices/", voices.voices, name="voices"),
    path("voices/", voices.voices_current, name="voices-current"),
    path("changes/", changes.changes, name="changes"),
    path("changes/<int:old>/<int:new>/", changes.changes_between, name="changes-between"),
    path("changes/yours/", sheets.change_sheet_mine, name="change-sheet-mine"),
    path("changes/<int:old>/<int:new>/sheet/", sheets.change_sheets, name="change-sheets"),
    path("changes/<int:old>/<int:new>/sheet/<str:whose>/", sheets.sheet, name="change-sheet"),
    path("changes/<int:old>/<int:new>/sheet/<str:whose>/pdf/", sheets.sheet_pdf, name="change-sheet-pdf"),
]
