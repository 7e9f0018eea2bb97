"""A reading beside an earlier one, where scenes were split, moved and added since."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.publishing.acts import publish_draft
from review.readings.compared import compared
from review.readings.reader_acts import mark_scene
from screenplay.intake import read_text
from tests.factories import make_draft, make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db

COUNTS = [
    f"The {who} counts the {what} and says nothing.\n\n"
    for who, what in (("miller", "crates"), ("pilot", "lamps"), ("baker", "loaves"), ("smith", "nails"))
]
MILL, QUAY = "INT. MILL - DAY\n\n", "EXT. QUAY - DUSK\n\nA gull walks the length of the empty slip.\n\n"
LOFT, CHAPEL = "INT. LOFT - DAY\n\n", "INT. CHAPEL - DAY\n\nNobody rings the bell that somebody polishes.\n"
FIRST = "".join([MILL, *COUNTS, QUAY])
SECOND = "".join([MILL, *COUNTS[:2], LOFT, *COUNTS[2:], QUAY, CHAPEL])


def test_every_part_of_a_scene_that_was_split_is_told_and_new_scenes_as_new(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member
) -> None:
    first = make_reading(writer, make_draft(writer, FIRST), crew, cast)
    mark_scene(crew, first, 1, "slow")
    mark_scene(cast, first, 1, "lost")
    again = make_reading(writer, publish_draft(writer, read_text(SECOND))[0], crew, cast)
    for scene, mark in ((1, "clear"), (2, "slow"), (4, "clear")):
        mark_scene(crew, again, scene, mark)
    mark_scene(cast, again, 1, "clear")

    mill, chapel = compared(writer, first, again).scenes
    assert [(later.scene.ordinal, later.held, later.marked) for later in mill.now] == [(1, 2, 2), (2, 0, 1)]
    assert mill.hold.same == (("Bo Finch", False), ("Cleo Marsh", True))
    assert (mill.hold.is_held, mill.hold.is_marked) == (1, 2)
    assert (chapel.then, chapel.hold.verdict) == (None, "new")

    address = reverse("reading-compare", args=[writer.production.public_id, again.public_id, first.public_id])
    page = BeautifulSoup(signed_in(writer).get(address).text, "html.parser")
    told = [" ".join(row.get_text(" ").split()) for row in page.select(".compare-table tbody tr")]
    parts = "1 INT. MILL - DAY holds 2 of 2 2 INT. LOFT - DAY holds 0 of 1"
    assert told == [
        f"1 INT. MILL - DAY lost readers holds better {parts} 0 of 2 1 of 2 Bo Finch is not, Cleo Marsh is held",
        "not there new 4 INT. CHAPEL - DAY 1 of 1",
    ]
    heads = [head.get_text() for head in page.select(".compare-table thead th")]
    assert "Of those who were lost or found it slow" in heads
    assert page.select_one(".table-hint + .table-scroll")
