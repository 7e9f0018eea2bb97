"""Which two drafts the changes are shown of, and who may see them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from django.urls import reverse

from tests.factories import SCRIPT, make_draft, make_member, make_next_draft, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]


OLD, NEW = SCRIPT, SCRIPT.replace("Mist.", "Fog.")


def address(member: Member, old: int = 1, new: int = 2) -> str:
    return reverse("changes-between", args=[member.production.public_id, old, new])


def publish(writer: Member, *texts: str) -> list[Draft]:
    return [make_next_draft(writer, text) for text in texts]


def test_it_leads_to_the_latest_two(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW, NEW + "\nAnd out.\n")
    response = signed_in(writer).get(reverse("changes", args=[writer.production.public_id]))
    assert response["Location"] == address(writer, 2, 3)


def test_it_leads_to_the_two_that_were_chosen_older_first(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW, NEW + "\nAnd out.\n")
    client = signed_in(writer)
    changes = reverse("changes", args=[writer.production.public_id])
    assert client.get(changes + "?old=3&new=1")["Location"] == address(writer, 1, 3)
    assert client.get(address(writer, 3, 1))["Location"] == address(writer, 1, 3)


@pytest.mark.parametrize("query", ["?old=7&new=1", "?old=&new=", "?old=one&new=2", "?old=1", "?old=²&new=1"])
def test_a_choice_that_makes_no_sense_leads_to_the_latest_two(writer: Member, signed_in: SignIn, query: str) -> None:
    publish(writer, OLD, NEW)
    response = signed_in(writer).get(reverse("changes", args=[writer.production.public_id]) + query)
    assert response["Location"] == address(writer)


def test_one_draft_twice_says_so(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    response = signed_in(writer).get(address(writer, 2, 2))
    assert response.status_code == 200
    assert "That is one draft, twice" in response.content.decode()


@pytest.mark.parametrize(("texts", "says"), [((), "No draft yet"), ((SCRIPT,), "Nothing to compare yet")])
def test_with_fewer_than_two_drafts_there_is_nothing_to_compare(
    writer: Member, signed_in: SignIn, texts: tuple[str, ...], says: str
) -> None:
    for text in texts:
        make_draft(writer, text)
    response = signed_in(writer).get(reverse("changes", args=[writer.production.public_id]))
    assert says in response.content.decode()


def test_a_draft_that_is_not_there_is_not_found(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD)
    assert signed_in(writer).get(address(writer)).status_code == 404


def test_every_reader_may_see_it(writer: Member, crew: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    assert signed_in(crew).get(address(crew)).status_code == 200


def test_it_is_not_there_for_a_stranger(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    stranger = make_member(make_production("Elsewhere"))
    assert signed_in(stranger).get(address(writer)).status_code == 404
    assert signed_in(stranger).get(reverse("changes", args=[writer.production.public_id])).status_code == 404


def test_it_rejects_post(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    assert signed_in(writer).post(address(writer)).status_code == 405
