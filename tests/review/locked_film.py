"""A film of three pages whose pages are locked, and drafts of it, in lines that take two rows of a page each.

On US Letter a heading and 26 such lines fill page 1, and 27 any other (54 rows a page: memory of format guides).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.drafts.numbering import lock_numbers
from review.drafts.paging import lock_pages
from review.publishing.acts import publish_draft
from screenplay.intake import read_text
from tests.screenplay.next_draft.test_page_carrying import lines, script

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member

AS_LOCKED = {"1": "INT. SHED - NIGHT", "2": "Line 27.", "3": "Line 53."}
PIER = "EXT. PIER - DAY"
NELL = "NELL\nThe water is very high."
WHOLE = script(lines(1, 50), PIER, lines(51, 79))
GROWN = script(lines(1, 40), NELL, lines(41, 50), PIER, NELL, lines(51, 79))  # page 2 runs over: 2A has the pier
GROWN_TO = AS_LOCKED | {"2A": PIER}
SHRUNK = script(lines(1, 30), lines(45, 50), PIER, lines(51, 79))  # page 2 stays short


def put_up(writer: Member, text: str) -> Draft:
    return publish_draft(writer, read_text(text))[0]


def lock_all(writer: Member) -> None:
    """Lock the scene numbers, then the pages, as they stand in the current draft."""
    draft = writer.production.drafts.current()
    assert draft is not None
    lock_numbers(writer, draft.number)
    assert lock_pages(writer, draft.number)
