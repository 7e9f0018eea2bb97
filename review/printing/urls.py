"""Addresses of what is taken away of a draft: its PDFs, its source, its text, and a web page."""

from __future__ import annotations

from django.urls import path

from review.printing.views import download, draft_print, revised_pages

urlpatterns = [
    path("drafts/<int:number>/download/", download.draft_download, name="draft-download"),
    path("drafts/<int:number>/text/", download.draft_text, name="draft-text"),
    path("drafts/<int:number>/html/", download.draft_html, name="draft-html"),
    path("drafts/<int:number>/print/", draft_print.draft_print, name="draft-print"),
    path("drafts/<int:number>/pdf/", draft_print.draft_pdf, name="draft-pdf"),
    path("drafts/<int:number>/sides/", draft_print.draft_sides, name="draft-sides"),
    path("drafts/<int:number>/revised-pages/", revised_pages.revised_pages, name="revised-pages"),
    path("drafts/<int:number>/revised-pages/pdf/", revised_pages.revised_pages_pdf, name="revised-pages-pdf"),
]
