"""A draft's pages as HTML: every word at its offset, made once for a text."""

from __future__ import annotations

from typing import TYPE_CHECKING
from unittest.mock import Mock

import pytest
from bs4 import BeautifulSoup
from django.template.loader import render_to_string

from review.demo import load
from review.drafts.drawn_pages import draw_pages
from review.drafts.models import Draft
from review.notes.lines import source_lines
from review.productions.models import Production
from tests.factories import SCRIPT, make_draft

if TYPE_CHECKING:
    from review.people.models import Member

EVERY_ELEMENT = """Title: A _Low_ Bridge
Author:
    Someone Else

# Act one
= What happens

INT. A - DAY #12#

*Rain* on the **long** quay, \\*not\\* a [[mended]] net, /* cut */ and a line long enough to be broken twice or more.

!FORCED ACTION
~A lyric, sung

@McNair (O.S.)
(softly)
Go _on_.

NELL ^
Stay.

> CENTRED <

CUT TO:

===

EXT. B - NIGHT

A 🚤 goes by.
"""


def written(text: str) -> Draft:
    """A draft that is not in the database."""
    return Draft(production=Production(), text=text, sha256=str(hash(text)))


def demo_texts() -> list[str]:
    return [path.read_text(encoding="utf-8") for path in sorted(load.FOLDER.glob("*.fountain"))]


@pytest.mark.parametrize(
    "text", [SCRIPT, EVERY_ELEMENT, *demo_texts()], ids=["short", "every element", "first", "second"]
)
def test_every_run_is_the_source_at_its_offset(text: str) -> None:
    lines = source_lines(text)
    runs = 0
    for page in draw_pages(written(text)).pages:
        for line in BeautifulSoup(page.html, "html.parser").select("[data-line]"):
            source = lines[int(str(line["data-line"])) - 1]
            for run in line.select("[data-at]"):
                at = int(str(run["data-at"]))
                assert run.get_text() == source[at : at + len(run.get_text())]
                runs += 1
    assert runs > 10


def test_a_row_keeps_the_space_it_was_broken_at_so_that_a_phone_can_join_rows() -> None:
    draft = written("The tide turns, and " * 6 + "turns.\n")
    line = BeautifulSoup(draw_pages(draft).pages[0].html, "html.parser").select_one("#L1")
    assert line is not None
    assert "".join(run.get_text() for run in line.select("[data-at]")) == "The tide turns, and " * 6 + "turns."


def test_a_row_broken_within_a_word_gets_no_space() -> None:
    word = "e" * 130
    line = BeautifulSoup(draw_pages(written(f"{word}\n")).pages[0].html, "html.parser").select_one("#L1")
    assert line is not None
    assert "".join(run.get_text() for run in line.select("[data-at]")) == word


def test_what_prints_nothing_has_no_address() -> None:
    found = draw_pages(written(EVERY_ELEMENT))
    lines = source_lines(EVERY_ELEMENT)
    for number, line in enumerate(lines, 1):
        if line.startswith(("#", "= ", "===")) or not line.strip():
            assert number not in found.page_of


def test_the_nearest_printed_line_stands_for_lines_that_are_not() -> None:
    found = draw_pages(written(SCRIPT))
    assert found.first_printed(6, 6) == 6
    assert found.first_printed(7, 9) == 8
    assert found.first_printed(7, 7) == 6
    assert draw_pages(written("\n\nRain.\n")).first_printed(1, 1) == 3
    assert draw_pages(written("\n")).first_printed(1, 1) is None


def test_notes_are_laid_over_pages_without_touching_what_is_kept() -> None:
    page = draw_pages(written(SCRIPT)).pages[1]
    before = page.html
    over = BeautifulSoup(page.with_notes(frozenset({6}), {6: "<i class='marker'></i>"}), "html.parser")
    assert [line["data-line"] for line in over.select("[data-noted]")] == ["6"]
    assert over.select_one("#L6 .marker")
    assert page.html == before


def test_pages_are_laid_out_once_for_a_text(monkeypatch: pytest.MonkeyPatch, writer: Member) -> None:
    render = Mock(wraps=render_to_string)
    monkeypatch.setattr("review.drafts.drawn_pages.render_to_string", render)
    draft = make_draft(writer, "INT. ONCE - DAY\n\nOnce only.\n")
    assert draw_pages(draft) is draw_pages(Draft.objects.get(pk=draft.pk))
    assert render.call_count == 1
