"""Addresses of notes as files."""

from __future__ import annotations

from django.urls import path

from review.exchange.views import notes_in, notes_out

urlpatterns = [
    path("drafts/<int:number>/notes/", notes_out.notes_out, name="notes-out"),
    path("drafts/<int:number>/notes/csv/", notes_out.notes_csv, name="notes-csv"),
    path("drafts/<int:number>/notes/fountain/", notes_out.notes_fountain, name="notes-fountain"),
    path("drafts/<int:number>/notes/pdf/", notes_out.notes_pdf, name="notes-pdf"),
    path("drafts/<int:number>/notes/json/", notes_out.notes_json, name="notes-json"),
    path("annotations/", notes_in.notes_in, name="notes-in"),
]
