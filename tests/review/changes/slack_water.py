"""A short script and what became of it, put up as two drafts, and their Changes screen, for the tests of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from bs4 import BeautifulSoup
from django.urls import reverse

from tests.factories import make_next_draft

if TYPE_CHECKING:
    from bs4 import Tag
    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

CHANDLERY = """INT. CHANDLERY - DAY

Shelves of rope. A bell over the door.

TOBIAS
I sold the skiff on Tuesday morning.

"""

OLD = """Title: Slack Water

INT. BOATHOUSE - NIGHT

NELL mends a net by one lamp.

NELL
Tide turns at four, and not before.

TOBIAS
Then we go at three.

The lamp gutters. Nobody moves to trim it.

A dog barks somewhere across the water.

EXT. SLIPWAY - DAWN

Mist. The skiff is gone.

NELL
He did not wait for me.

@CHANDLERY@EXT. HARBOUR WALL - DUSK

Two gulls fight over a crust.
""".replace("@CHANDLERY@", CHANDLERY)

NEW = (
    OLD.replace("Tide turns at four, and not before.", "The tide turns at five, and not before.")
    .replace("A dog barks somewhere across the water.\n\n", "")
    .replace("Mist. The skiff is gone.\n", "Mist. The skiff is gone.\n\nHer boots fill slowly with cold water.\n")
    .replace(
        CHANDLERY,
        "",
    )
)


def address(member: Member, old: int = 1, new: int = 2) -> str:
    return reverse("changes-between", args=[member.production.public_id, old, new])


def publish(writer: Member, *texts: str) -> list[Draft]:
    return [make_next_draft(writer, text) for text in texts]


def page_of(client: Client, member: Member, query: str = "") -> BeautifulSoup:
    response = client.get(address(member) + query)
    assert response.status_code == 200
    return BeautifulSoup(response.content, "html.parser")


def words_of(tag: Tag | BeautifulSoup | None) -> str:
    return " ".join(tag.get_text(" ").split()) if tag else ""


def rows(page: BeautifulSoup, mark: str) -> list[str]:
    return [words_of(row) for row in page.select(f".change-{mark}")]
