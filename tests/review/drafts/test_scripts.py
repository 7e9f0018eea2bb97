"""Reading what a draft holds, once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.core.cache import cache
from django.db import connection
from django.test.utils import CaptureQueriesContext

from review.drafts.models import Draft
from review.drafts.scripts import NO_SCRIPT, compare_drafts, laid_out, lengths, read_script
from review.productions.models import PaperChoice, Production
from screenplay import PaperSize, parse
from tests.factories import SCRIPT, make_draft

if TYPE_CHECKING:
    from review.people.models import Member


def test_no_script_is_what_is_read_where_nothing_is_written() -> None:
    assert parse("") == NO_SCRIPT


def test_a_draft_is_read_once(writer: Member) -> None:
    draft = make_draft(writer)
    assert read_script(draft) is read_script(Draft.objects.get(pk=draft.pk))


def test_the_text_of_a_draft_that_was_read_is_not_fetched_again(writer: Member) -> None:
    draft = make_draft(writer)
    script = read_script(draft)
    without_text = Draft.objects.select_related("production").defer("text").get(pk=draft.pk)
    with CaptureQueriesContext(connection) as queries:
        assert read_script(without_text) is script
    assert len(queries) == 0


def test_two_drafts_are_compared_once(writer: Member) -> None:
    old, new = make_draft(writer), make_draft(writer, SCRIPT + "\nAnd out.\n", number=2)
    assert compare_drafts(old, new) is compare_drafts(old, new)
    assert compare_drafts(old, new) is not compare_drafts(new, old)


def test_pages_follow_the_production_s_setting_and_nothing_is_read_again(writer: Member) -> None:
    draft = make_draft(writer, SCRIPT + "\nRain.\n" * 60)
    on_letter = laid_out(draft)
    draft.production.paper = PaperChoice.A4
    draft.production.blank_lines_before_heading = 1
    on_a4 = laid_out(draft)
    assert on_a4.script is on_letter.script
    assert (on_letter.layout.paper, on_a4.layout.paper) == (PaperSize.LETTER, PaperSize.A4)
    assert (on_a4.page_count, on_letter.page_count) == (3, 3)
    assert on_a4.layout.page_of != on_letter.layout.page_of
    assert laid_out(draft) is on_a4


def test_a_comparison_does_not_depend_on_the_setting(writer: Member) -> None:
    old, new = make_draft(writer), make_draft(writer, SCRIPT + "\nAnd out.\n", number=2)
    comparison = compare_drafts(old, new)
    old.production.paper = new.production.paper = PaperChoice.A4
    assert compare_drafts(old, new) is comparison


def test_lengths_follow_the_production_s_setting(writer: Member) -> None:
    draft = make_draft(writer, SCRIPT + "\n\nRain.\n" * 20)
    on_letter = lengths([draft])[draft.pk]
    Production.objects.update(paper=PaperChoice.A4)
    again = Draft.objects.select_related("production").get()
    assert (on_letter.pages, lengths([again])[draft.pk].pages) == (2, 1)


def test_lengths_come_from_the_layout(writer: Member) -> None:
    draft = make_draft(writer)
    pages = laid_out(draft)
    length = lengths([draft])[draft.pk]
    assert (length.pages, length.eighths, length.scenes) == (pages.page_count, pages.eighths, 2)


def test_the_texts_of_drafts_not_yet_measured_come_in_one_query(writer: Member) -> None:
    for number in range(1, 6):
        make_draft(writer, f"{SCRIPT}\nMEASURED {number}.\n", number=number)
    cache.clear()
    drafts = list(Draft.objects.select_related("production").defer("text"))
    with CaptureQueriesContext(connection) as queries:
        lengths(drafts)
    assert len(queries) == 1
    with CaptureQueriesContext(connection) as queries:
        lengths(drafts)
    assert len(queries) == 0
