"""What a writer takes away of a draft with no name on it: its source, or its pages as text or as a web page.

Each copy taken is kept in the log, as those that carry a name are.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from review import log
from review.access import Deed, refuse_unless
from review.drafts.on_paper import header_of, title_of
from review.drafts.scripts import laid_out
from screenplay.printing import print_pages, web_page

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member
    from screenplay import Paper

MOST_ABOUT = 200  # characters: no label is as long


def take_source(by: Member, draft: Draft) -> bytes:
    """The draft as it came in, byte for byte."""
    _log(by, draft, "source")
    return draft.upload_bytes()


def take_text(by: Member, draft: Draft, paper: Paper, *, scene_numbers: bool) -> bytes:
    """The draft's pages typed in columns, UTF-8, with a form feed between pages."""
    text = print_pages(laid_out(draft, paper).layout, scene_numbers=scene_numbers, counted=True)
    _log(by, draft, "text")
    return text.encode()


def take_web_page(by: Member, draft: Draft, *, scene_numbers: bool) -> bytes:
    """The draft as one HTML file, UTF-8."""
    page = web_page(
        laid_out(draft),
        title=title_of(draft),
        about=header_of(draft).text(MOST_ABOUT),
        language=draft.production.script_language,
        scene_numbers=scene_numbers,
    )
    _log(by, draft, "html")
    return page.encode()


def _log(by: Member, draft: Draft, form: str) -> None:
    refuse_unless(by, Deed.PUBLISH)
    told = {"number": draft.number, "form": form}
    log.record(by.person, log.Act.Verb.DOWNLOADED_DRAFT, draft.production, draft.public_id, **told)
