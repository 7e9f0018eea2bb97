"""A character's part on a page of its own."""

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


def test_all_speeches_stand_in_order_with_their_scene_and_the_line_before(
    writer: Member, cast: Member, signed_in: SignIn
) -> None:
    make_draft(writer)
    response = signed_in(cast).get(reverse("voice-part", args=[writer.production.public_id, 1, "nell"]))
    page = BeautifulSoup(response.text, "html.parser")

    def words_of(selector: str) -> list[str]:
        return [" ".join(found.get_text(" ").split()) for found in page.select(selector)]

    assert words_of(".part-heading") == ["1. INT. BOATHOUSE - NIGHT", "2. EXT. SLIPWAY - DAWN"]
    assert words_of(".part-before") == ["NELL mends a net by one lamp.", "Mist. The skiff is gone."]
    assert words_of(".part-dialogue") == ["Tide turns at four.", "He didn't wait."]
    assert words_of("h1") == ["NELL"]


def test_an_apostrophe_of_either_shape_leads_to_the_part(writer: Member, cast: Member, signed_in: SignIn) -> None:
    make_draft(writer, "INT. PIER - DAY\n\nO'NEIL\nNo boat.\n")
    response = signed_in(cast).get(reverse("voice-part", args=[writer.production.public_id, 1, "O’Neil"]))
    assert response.status_code == 200
    assert BeautifulSoup(response.text, "html.parser").select_one("h1").text == "O'NEIL"  # type: ignore[union-attr]


def test_scenes_without_words_stand_in_their_places_and_who_speaks_at_once_is_told(
    writer: Member, cast: Member, signed_in: SignIn
) -> None:
    at_once = "INT. PIER - DAY\n\nNELL\nNo boat.\n\nMARA ^\nNone.\n\n"
    make_draft(writer, f"{at_once}EXT. SEA - DAY\n\nNell rows.\n\nINT. INN - DAY\n\nNELL\nAle.\n")
    response = signed_in(cast).get(reverse("voice-part", args=[writer.production.public_id, 1, "nell"]))
    scenes = BeautifulSoup(response.text, "html.parser").select(".part-scene")
    assert [" ".join(scene.h2.text.split()) for scene in scenes if scene.h2] == [
        "1. INT. PIER - DAY",
        "2. EXT. SEA - DAY",
        "3. INT. INN - DAY",
    ]
    assert ["Without words" in scene.text for scene in scenes] == [False, True, False]
    assert "At the same time as MARA:" in scenes[0].text
