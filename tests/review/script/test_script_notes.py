"""The cards of the notes on the pages of a script, as they are asked for; and a page with its notes by itself."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING
from urllib.parse import urljoin

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.decisions.acts import decide
from review.drafts.drawn_pages import draw_pages
from review.notes.carrying import carry_notes
from review.script.note_marks import by_page, note_marks
from tests.factories import make_draft, make_note
from tests.review.script.on_screen import address, cards, look, look_at_page, one, second_draft

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignedIn = Callable[[Member], Client]


def test_the_cards_of_several_pages_come_at_once_and_no_page_that_there_is_not(
    signed_in: SignedIn, crew: Member, writer: Member
) -> None:
    draft = make_draft(writer, "Title: Rain\n\n" + "Rain.\n\n" * 90)
    made = [make_note(crew, draft, line) for line in (1, 5, 70)]
    here = cards(signed_in(crew), draft, "title", "1", "3", "9", "nowhere")
    margins = here.select("[data-margin]")
    assert [margin["data-margin"] for margin in margins] == [
        "notes-on-page-title",
        "notes-on-page-1",
        "notes-on-page-3",
    ]
    found = [[card["id"] for card in margin.select("[data-note]")] for margin in margins]
    assert found == [[f"note-{made[0].public_id}"], [f"note-{made[1].public_id}"], []]


def test_notes_in_the_margin_are_in_the_order_of_their_lines(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    for line in (17, 6, 9):
        make_note(crew, draft, line)
    here = cards(signed_in(crew), draft, "1").select("[data-note]")
    assert [card["data-from"] for card in here] == ["6", "9", "17"]


def test_an_earlier_draft_s_note_shows_its_fate_with_the_words_then_and_now(
    signed_in: SignedIn, crew: Member, writer: Member, draft: Draft
) -> None:
    kept, reworded = make_note(crew, draft, 6), make_note(crew, draft, 9)
    page = cards(signed_in(crew), second_draft(writer), "1")
    assert "Kept" in one(page, f"#note-{kept.public_id} .note-place").get_text()
    card = one(page, f"#note-{reworded.public_id}")
    assert "Reworded" in one(card, ".note-place").get_text()
    assert one(card, ".note-fate del").get_text() == "four"
    assert one(card, ".note-fate ins").get_text() == "five"


def test_notes_whose_lines_are_gone_are_listed_with_those_lines(
    signed_in: SignedIn, crew: Member, writer: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 20)
    second = second_draft(writer)
    assert "1 note whose lines are gone" in look(signed_in(crew), second).get_text()
    here = cards(signed_in(crew), second, "gone")
    card = one(here, f"[data-margin='gone-cards'] #note-{note.public_id}")
    assert "He didn't wait." in one(card, ".note-quoted").get_text()
    place = reverse("place", args=[crew.production.public_id, note.public_id])
    assert not here.select(f"a[href='{place}']")
    assert cards(signed_in(writer), second, "gone").select(f"a[href='{place}']")


def test_without_scripts_each_page_s_notes_and_leaving_one_are_a_link_away(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 9)
    client = signed_in(crew)
    notes, leave = look(client, draft).select("#page-1 .doors a")
    page = BeautifulSoup(client.get(urljoin(address(draft), str(notes["href"]))).content, "html.parser")
    one(page, f"#note-{note.public_id}")
    one(page, "#L9")
    form = BeautifulSoup(client.get(urljoin(address(draft), str(leave["href"]))).content, "html.parser")
    offered = {option["value"]: option.get_text() for option in form.select("select[name=from] option")}
    assert offered["9"] == "Tide turns at four."
    assert "1" not in offered


def test_pages_lead_to_their_neighbours_and_a_page_that_is_not_there_is_not_found(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    page = look_at_page(signed_in(crew), draft, "1")
    assert str(one(page, "[rel=prev]")["href"]).endswith("/pages/title/")
    assert not page.select("[rel=next]")
    missing = reverse("script-page", args=[crew.production.public_id, 1, "12A"])
    assert signed_in(crew).get(missing).status_code == 404


@pytest.mark.parametrize(
    ("showing", "bodies"),
    [
        ("", {"mine", "decided", "hers"}),
        ("?notes=open", {"mine", "hers"}),
        ("?notes=mine", {"mine"}),
        ("?notes=none", set()),
    ],
)
def test_fewer_notes_can_be_shown(
    signed_in: SignedIn, crew: Member, cast: Member, writer: Member, draft: Draft, showing: str, bodies: set[str]
) -> None:
    make_note(crew, draft, 6, body="mine")
    make_note(cast, draft, 8, body="hers")
    decide(writer, make_note(cast, draft, 9, body="decided"), "accepted", "Yes.", 0, uuid.uuid4())
    assert one(look(signed_in(crew), draft, showing), ".reach-wide [aria-current]")["href"] == (showing or "?")
    page = look_at_page(signed_in(crew), draft, "1", showing)
    assert {body.get_text(strip=True) for body in page.select(".note-body")} == bodies


def test_the_notes_of_each_page_are_found_by_themselves_wherever_their_lines_print(
    crew: Member, writer: Member
) -> None:
    """Notes on lines that print and that do not, within a page and across two, left on the draft and on one before."""
    text = "Title: Rain\n\n[[Before all.]]\n\n" + "Rain.\n\n[[Unprinted.]]\n\n" * 60 + "/* Behind all. */\n"
    first = make_draft(writer, text)
    for line in range(1, text.count("\n"), 3):
        make_note(crew, first, line)
        make_note(crew, first, line, min(line + 60, text.count("\n")))
    second = make_draft(writer, text, 2)
    carry_notes(second)
    for draft in (first, second):
        drawn = draw_pages(draft)
        of_page = by_page(note_marks(crew, draft, drawn))
        assert len(of_page) == len(drawn.pages) > 2
        for page in range(len(drawn.pages)):
            assert note_marks(crew, draft, drawn, pages=[page]) == of_page[page]
        assert note_marks(crew, draft, drawn, pages=[2, 0]) == of_page[0] + of_page[2]


def test_the_notes_of_each_page_are_found_where_two_speak_at_once_over_a_page_break(
    crew: Member, writer: Member
) -> None:
    """What the second says on the first page stands in the text behind what the first says on the second."""
    said = "".join(f"It is {number}.\n" for number in range(60))
    draft = make_draft(writer, "Rain.\n\n" * 22 + f"NELL\n{said}\nTOBIAS ^\n{said}\nRain.\n")
    drawn = draw_pages(draft)
    pages = [drawn.page_of[line] for line in drawn.printed]
    assert pages != sorted(pages)
    for line in drawn.printed:
        make_note(crew, draft, line)
    of_page = by_page(note_marks(crew, draft, drawn))
    for page in range(len(drawn.pages)):
        assert note_marks(crew, draft, drawn, pages=[page]) == of_page[page]
