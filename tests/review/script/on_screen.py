"""What a test sees of the script screen: its page, its cards, and what the page says of notes before they are there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from bs4 import BeautifulSoup
from django.urls import reverse

from review.notes.carrying import carry_notes
from tests.factories import SCRIPT, make_draft

if TYPE_CHECKING:
    from bs4 import Tag
    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member


def address(draft: Draft, showing: str = "") -> str:
    return reverse("script", args=[draft.production.public_id, draft.number]) + showing


def look(client: Client, draft: Draft, showing: str = "") -> BeautifulSoup:
    response = client.get(address(draft, showing))
    assert response.status_code == 200
    return BeautifulSoup(response.content, "html.parser")


def one(page: BeautifulSoup | Tag, selector: str) -> Tag:
    found = page.select(selector)
    assert len(found) == 1, f"{len(found)} of {selector}"
    return found[0]


def cards(client: Client, draft: Draft, *pages: str) -> BeautifulSoup:
    """What the screen is given when it asks for the cards of some pages."""
    address = reverse("script-notes", args=[draft.production.public_id, draft.number])
    response = client.get(address, {"page": pages})
    assert response.status_code == 200
    return BeautifulSoup(response.content, "html.parser")


def look_at_page(client: Client, draft: Draft, name: str, showing: str = "") -> BeautifulSoup:
    """One page with its notes, as it is for whoever's browser runs no scripts."""
    response = client.get(reverse("script-page", args=[draft.production.public_id, draft.number, name]) + showing)
    assert response.status_code == 200
    return BeautifulSoup(response.content, "html.parser")


def marks(page: BeautifulSoup) -> list[list[str]]:
    """What the page says of each note before its card is there: its id, its lines, the line it stands at, its sorts."""
    return [line.split(" ") for line in one(page, "#note-marks").get_text().splitlines()]


def second_draft(writer: Member) -> Draft:
    """NELL speaks of five, and no longer says that he did not wait."""
    text = SCRIPT.replace("Tide turns at four.", "Tide turns at five.").replace("\nNELL\nHe didn't wait.\n", "")
    draft = make_draft(writer, text, 2)
    carry_notes(draft)
    return draft
