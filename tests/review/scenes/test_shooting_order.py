"""An order of shooting, and what scenes share."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.scenes.acts import UnknownScene, begin_order_again, move_scene_in_order
from review.scenes.models import HandOrder
from review.scenes.said_of_scenes import hand_order
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
    assert (
        "1 move of place and 2 changes of day and night, where the order of the script has 4 and 2: that saves 3 moves."
        in text
    )
    said = page.select(".order-row .soft")[1].get_text()
    assert " ".join(said.split()) == "Day, story day 2, 1/8 page, NELL"
    fields = page.select(".order-jump :is(select, input[name=to])")
    assert [field["name"] for field in fields] == ["scene", "to"]
    assert [option["value"] for option in page.select(".order-jump option")] == ["1", "5", "3", "4", "2"]
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


def test_who_is_named_alone_or_heard_alone_is_told_so(writer: Member, signed_in: SignIn) -> None:
    scenes = ["Nell eats.\n\nDES (V.O.)\nEat.", "Des's cap.\n\nNELL\nNo.", "Nell waits.\n\nDES\nYes."]
    make_draft(writer, "\n\n".join(f"INT. A - DAY\n\n{scene}" for scene in scenes))
    page = page_of(writer, signed_in)
    assert [
        " ".join(told.get_text().split()).split("1/8 page, ")[1] for told in page.select(".order-row > span > .soft")
    ] == [
        "(NELL); voice alone: DES",
        "NELL",
        "DES (NELL)",
    ]
    rows = [[" ".join(cell.get_text().split()) for cell in row.select("th, td")] for row in page.select("tbody tr")]
    assert ["NELL", "3", "3/8", "(1), 2, (3)"] in rows
    assert ["DES", "1", "1/8", "1 voice alone, 3"] in rows


def test_a_draft_without_scenes_has_nothing_to_put_in_order(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "Rain.\n")
    assert "no scene in this draft" in page_of(writer, signed_in).get_text()


def test_scenes_are_moved_by_hand_and_begin_again_from_the_proposal(
    writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    make_draft(writer, SCRIPT)
    address, move, again = (
        reverse(name, args=[writer.production.public_id, 1])
        for name in ("scenes-order", "scenes-order-move", "scenes-order-again")
    )
    client = signed_in(crew)

    assert client.post(move, {"scene": "2", "to": "1"})["Location"] == f"{address}#later-2"
    page = page_of(crew, signed_in)
    assert [link.get_text().split(".")[0] for link in page.select(".shooting-order a")] == ["2", "1", "5", "3", "4"]
    assert "put in order by hand" in page.get_text()

    assert signed_in(cast).post(move, {"scene": "2", "to": "1"}).status_code == 403
    client.post(again)
    assert "A proposal by a plain rule" in page_of(crew, signed_in).get_text()


def test_after_a_move_the_key_for_the_same_way_is_at_hand(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    move = reverse("scenes-order-move", args=[writer.production.public_id, 1])
    client = signed_in(writer)  # the proposal is 1, 5, 3, 4, 2
    for scene, to, key in [(3, 2, "earlier-3"), (3, 1, "later-3"), (3, 2, "later-3"), (3, 5, "earlier-3")]:
        assert client.post(move, {"scene": scene, "to": to})["Location"].endswith(f"#{key}")
        assert page_of(writer, signed_in).select(f"#{key}")


def test_a_move_to_nowhere_is_refused_with_a_sentence(writer: Member, crew: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    address = reverse("scenes-order-move", args=[writer.production.public_id, 1])
    for scene, to in [("2", "9"), ("9", "2"), ("0", "1"), ("", "1"), ("2", "1" * 5_000), ("one", "two")]:
        answer = signed_in(crew).post(address, {"scene": scene, "to": to})
        assert answer.status_code == 422
        assert "Nothing was moved" in answer.content.decode()
    assert not HandOrder.objects.exists()


def test_who_moves_another_scene_meanwhile_undoes_nothing(writer: Member, crew: Member) -> None:
    """Each has a draft of their own in hand, read before the other moved anything."""
    draft = make_draft(writer, SCRIPT)
    theirs = type(draft).objects.select_related("production").get(pk=draft.pk)
    move_scene_in_order(writer, draft, 2, 1)
    move_scene_in_order(crew, theirs, 4, 2)
    assert hand_order(draft, 5) == (2, 4, 1, 5, 3)


def test_the_act_itself_refuses_a_scene_that_is_not_there(writer: Member) -> None:
    draft = make_draft(writer, SCRIPT)
    for scene, to in [(6, 1), (1, 0), (1, 6)]:
        with pytest.raises(UnknownScene):
            move_scene_in_order(writer, draft, scene, to)
    begin_order_again(writer, draft)
    assert not HandOrder.objects.exists()


def test_an_order_made_by_hand_follows_its_scenes_into_the_next_draft(writer: Member, signed_in: SignIn) -> None:
    scenes = ["INT. PIER - DAY\n\nNobody rows.", "EXT. FIELD - DAY\n\nHay.", "INT. KITCHEN - NIGHT\n\nSalt and eggs."]
    draft = make_draft(writer, "\n\n".join(scenes))
    move_scene_in_order(writer, draft, 3, 1)
    second = make_draft(writer, "\n\n".join([scenes[0], "INT. ATTIC - DAY\n\nBoxes, unopened.", *scenes[1:]]), 2)
    assert hand_order(second, 4) == (4, 1, 2, 3)
