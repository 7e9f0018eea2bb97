"""What leaves the house: PDFs of the pages, of sides, revised pages, change sheets and notes; plain text; one web
page, and the rows of a page for the web."""

from __future__ import annotations

from screenplay.printing.change_sheet import (
    SheetMention,
    SheetTitle,
    change_sheet_pdf,
)
from screenplay.printing.endmatter import ListedNote, ListedNotes
from screenplay.printing.header import Header
from screenplay.printing.html_page import web_page
from screenplay.printing.notes_sheet import PrintedNote, PrintedNotes, print_notes
from screenplay.printing.plain_text import print_pages
from screenplay.printing.sheet import SheetHead, SheetLine, SheetScene, print_sheet
from screenplay.printing.typefaces import by_family, face_file, unprintable
from screenplay.printing.typesetting import sides, typeset
from screenplay.printing.web_rows import rows_as_html

__all__ = [
    "Header",
    "ListedNote",
    "ListedNotes",
    "PrintedNote",
    "PrintedNotes",
    "SheetHead",
    "SheetLine",
    "SheetMention",
    "SheetScene",
    "SheetTitle",
    "by_family",
    "change_sheet_pdf",
    "face_file",
    "print_notes",
    "print_pages",
    "print_sheet",
    "rows_as_html",
    "sides",
    "typeset",
    "unprintable",
    "web_page",
]
