"""An order of shooting, and what scenes share."""

from __future__ import annotations

from typing import TYPE_CHECKING

from bs4 import BeautifulSoup
from django.urls import reverse

from tests.factories import make_draft

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

SCRIPT = "\n\n".join(
    f"INT. {place} - {time}\n\nNELL\nNo."
    for place, time in [("A", "DAY"), ("B", "DAY"), ("A", "NIGHT"), ("B", "NIGHT"), ("A", "DAY")]
)


def page_of(member: Member, signed_in: SignIn) -> BeautifulSoup:
    response = signed_in(member).get(reverse("scenes-order", args=[member.production.public_id, 1]))
    assert response.status_code == 200
    return BeautifulSoup(response.text, "html.parser")


def test_the_proposal_keeps_places_together_and_says_what_that_saves(
    crew: Member, writer: Member, signed_in: SignIn
) -> None:
    make_draft(writer, SCRIPT)
    page = page_of(crew, signed_in)

    numbers = [link.get_text().split(".")[0] for link in page.select(".shooting-order a")]
    assert numbers == ["1", "5", "3", "4", "2"]
    text = " ".join(page.get_text(" ").split())
    assert "1 move of place and 2 changes of day and night, where the order of the script has 4 and 2" in text
    assert "It is no schedule" in text


def test_what_shares_a_place_a_light_or_a_member_of_the_cast_is_counted(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    rows = [
        [" ".join(cell.get_text().split()) for cell in row.select("th, td")]
        for row in page_of(writer, signed_in).select("tbody tr")
    ]
    assert ["A", "3", "3/8", "1, 3, 5"] in rows
    assert ["Night", "2", "2/8", "3, 4"] in rows
    assert ["NELL", "5", "5/8", "1, 2, 3, 4, 5"] in rows


def test_a_draft_without_scenes_has_nothing_to_put_in_order(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "Rain.\n")
    assert "no scene in this draft" in page_of(writer, signed_in).get_text()
