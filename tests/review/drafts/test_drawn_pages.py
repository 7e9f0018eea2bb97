"""A draft's pages: made once for a text and a page setting, and kept beyond the process."""

from __future__ import annotations

from typing import TYPE_CHECKING
from unittest.mock import Mock

from django.core.cache import caches

from review.drafts import drawn_pages
from review.drafts.drawn_pages import draw_pages
from review.drafts.models import Draft
from review.kept import STORE
from review.productions.models import Production
from screenplay.printing import rows_as_html
from tests.factories import SCRIPT, make_draft

if TYPE_CHECKING:
    import pytest

    from review.people.models import Member

UNPRINTED = "# Act one\n= What happens\n\nINT. A - DAY\n\nRain.\n\n===\n\nMore rain.\n"


def written(text: str) -> Draft:
    """A draft that is not in the database."""
    return Draft(production=Production(), text=text, sha256=str(hash(text)))


def test_what_prints_nothing_has_no_place() -> None:
    found = draw_pages(written(UNPRINTED))
    assert found.printed == (4, 6, 10)


def test_the_nearest_printed_line_stands_for_lines_that_are_not() -> None:
    found = draw_pages(written(SCRIPT))
    assert found.first_printed(6, 6) == 6
    assert found.first_printed(7, 9) == 8
    assert found.first_printed(7, 7) == 6
    assert draw_pages(written("\n\nRain.\n")).first_printed(1, 1) == 3
    assert draw_pages(written("\n")).first_printed(1, 1) is None


def test_a_page_is_found_by_what_stands_at_its_head() -> None:
    found = draw_pages(written(SCRIPT))
    assert [page.name for page in found.pages] == ["Title page", "Page 1"]
    assert (found.labelled(""), found.labelled("1"), found.labelled("2")) == (0, 1, None)
    assert found.page_count == 1


def test_pages_are_drawn_once_for_a_text_and_found_again_by_another_process(
    monkeypatch: pytest.MonkeyPatch, writer: Member
) -> None:
    draw = Mock(wraps=rows_as_html)
    monkeypatch.setattr(drawn_pages, "rows_as_html", draw)
    draft = make_draft(writer, "INT. ONCE - DAY\n\nOnce only.\n")
    first = draw_pages(draft)
    assert draw_pages(Draft.objects.get(pk=draft.pk)) is first
    STORE.clear()  # as another process begins
    assert draw_pages(draft) == first
    assert draw.call_count == 1


def test_pages_are_drawn_again_where_what_was_kept_is_deleted(writer: Member) -> None:
    draft = make_draft(writer, "INT. AGAIN - DAY\n\nOnce more.\n")
    first = draw_pages(draft)
    STORE.clear()
    caches["pages"].clear()
    assert draw_pages(draft) == first
