"""Addresses of what changed between two drafts, and of the change sheets."""

from __future__ import annotations

from django.urls import path

from review.changes.views import change_sheet, changes

urlpatterns = [
    path("changes/", changes.changes, name="changes"),
    path("changes/<int:old>/<int:new>/", changes.changes_between, name="changes-between"),
    path("changes/<int:old>/<int:new>/stretch/<str:anchor>/", changes.changes_stretch, name="changes-stretch"),
    path("changes/yours/", change_sheet.change_sheet_mine, name="change-sheet-mine"),
    path("changes/<int:old>/<int:new>/sheet/", change_sheet.change_sheets, name="change-sheets"),
    path("changes/<int:old>/<int:new>/sheet/<str:whose>/", change_sheet.sheet, name="change-sheet"),
    path("changes/<int:old>/<int:new>/sheet/<str:whose>/pdf/", change_sheet.sheet_pdf, name="change-sheet-pdf"),
]
