"""The list of readings."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from django.urls import reverse

from tests.factories import make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.readers.models import Reading

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


@pytest.fixture
def reading(writer: Member, crew: Member, draft: Draft) -> Reading:
    return make_reading(writer, draft, crew)


def at(reading: Reading, name: str, *more: Any) -> str:
    return reverse(name, args=[reading.production.public_id, reading.public_id, *more])


def test_only_whoever_reads_in_it_finds_a_reading_on_their_list(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, reading: Reading
) -> None:
    address = reverse("readings", args=[crew.production.public_id])
    assert "Waits for you" in signed_in(crew).get(address).text
    assert "No reading so far" in signed_in(cast).get(address).text
    assert "0 of 1 finished" in signed_in(writer).get(address).text
