"""Places that are one, as a writer says."""

from __future__ import annotations

import csv
from io import StringIO
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.changes.change_sheets import change_sheet
from review.changes.recipients import departments
from review.log import Act
from review.people.models import Department
from review.productions.said_names import TooLongName
from review.scenes.acts import keep_places_apart, merge_places
from review.scenes.breakdown import needs_of
from screenplay.breakdown import by_place
from screenplay.names import SameName
from tests.factories import make_draft

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

WITHIN, ALONE = "BRACKWATER - VILLAGE HALL", "VILLAGE HALL"
SCRIPT = f"""INT. {ALONE} - DAY

Rain.

EXT. QUAY - DAY

Wind.

INT. {WITHIN} - NIGHT

Mist.
"""


def send(client: Client, member: Member, what: str, other: str, name: str, status: int = 200) -> BeautifulSoup:
    address = reverse(f"scenes-places-{what}", args=[member.production.public_id])
    response = client.post(address, {"other": other, "name": name}, follow=True)
    assert response.status_code == status
    return BeautifulSoup(response.text, "html.parser")


def show(client: Client, member: Member, name: str, *more: object, asked: str = "") -> BeautifulSoup:
    address = reverse(name, args=[member.production.public_id, *more]) + asked
    return BeautifulSoup(client.get(address).text, "html.parser")


def places_of(draft: Draft) -> dict[str, tuple[int, ...]]:
    draft = type(draft).objects.select_related("production").get(pk=draft.pk)
    return {group.name: group.scenes for group in by_place(needs_of(draft))}


def test_places_that_look_alike_are_offered_until_something_is_said_of_them(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT + "\nINT. HALL - DAY\n\nSnow.\n")
    client = signed_in(writer)
    assert len(show(client, writer, "scenes-places").select("#alike ~ ul li")) == 2

    send(client, writer, "merge", WITHIN, ALONE)
    page = send(client, writer, "apart", "HALL", ALONE)
    assert page.select("#alike ~ ul li") == []
    assert [row.get_text(" ", strip=True) for row in page.select("#merged ~ ul p")] == [f"{WITHIN} is {ALONE}"]
    assert f"Kept apart: HALL and {ALONE}" in page.get_text()


def test_what_is_merged_is_one_place_in_every_draft_and_can_be_kept_apart_again(
    writer: Member, signed_in: SignIn
) -> None:
    drafts = make_draft(writer, SCRIPT), make_draft(writer, SCRIPT + "\nSnow.\n", 2)
    apart = {ALONE: (1,), "QUAY": (2,), "BRACKWATER": (3,)}
    assert [places_of(draft) for draft in drafts] == [apart, apart]

    client = signed_in(writer)
    send(client, writer, "merge", WITHIN, ALONE)
    assert [places_of(draft) for draft in drafts] == [{ALONE: (1, 3), "QUAY": (2,)}] * 2

    send(client, writer, "apart", WITHIN, ALONE)
    assert [places_of(draft) for draft in drafts] == [apart, apart]
    verbs = (Act.Verb.MERGED_PLACES, Act.Verb.KEPT_PLACES_APART)
    told = [(act.verb, act.person, act.details) for act in writer.production.acts.filter(verb__in=verbs).order_by("pk")]
    assert told == [(verb, writer.person, {"place": WITHIN, "name": ALONE}) for verb in verbs]


def test_the_screens_and_the_tables_count_one_place_and_show_headings_as_written(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    make_draft(writer, SCRIPT)
    merge_places(writer, WITHIN, ALONE)
    client = signed_in(crew)

    scenes = show(client, crew, "scenes", 1, asked="?place=village+hall")
    assert [option["value"] for option in scenes.select("select[name=place] option")] == ["", "quay", "village hall"]
    headings = [" ".join(row.get_text(" ").split()) for row in scenes.select(".scenes-table tbody th")]
    assert headings == [f"1. INT. {ALONE}", f"3. INT. {WITHIN}"]

    order = show(client, crew, "scenes-order", 1)
    places = order.find("h2", id="group-places").find_next("tbody").select("tr")  # type: ignore[union-attr]
    assert [row.select("th, td")[1].get_text(strip=True) for row in places] == ["2", "1"]
    assert "1 move of place" in " ".join(order.get_text().split())

    table = client.get(reverse("scenes-file", args=[crew.production.public_id, 1, "csv"])).content.decode("utf-8-sig")
    rows = list(csv.DictReader(StringIO(table, newline="")))
    assert [row["Place"] for row in rows] == [ALONE, "QUAY", ALONE]
    assert rows[2]["Heading"] == f"INT. {WITHIN} - NIGHT"


def test_a_heading_that_names_the_same_place_otherwise_is_no_change_of_place_on_a_sheet(writer: Member) -> None:
    old, new = make_draft(writer, SCRIPT), make_draft(writer, SCRIPT.replace(f"INT. {ALONE}", "INT. CHAPEL"), 2)
    locations = next(each for each in departments() if each.department == Department.LOCATIONS)

    def told() -> str:
        drafts = writer.production.drafts.select_related("production").in_bulk([old.pk, new.pk])
        sheet = change_sheet(locations, drafts[old.pk], drafts[new.pk], [])
        return " ".join(reason for entry in sheet.entries for reason in entry.reasons)

    assert f"The place was {ALONE} and is CHAPEL." in told()
    merge_places(writer, "CHAPEL", WITHIN)
    assert f"The place was {ALONE} and is {WITHIN}." in told()
    merge_places(writer, WITHIN, ALONE)
    assert "The place was" not in told()
    keep_places_apart(writer, "CHAPEL", ALONE)
    assert f"The place was {ALONE} and is CHAPEL." in told()


@pytest.mark.parametrize(("other", "name"), [("village hall", ALONE), ("", ALONE), ("BRACKWATER", WITHIN)])
def test_a_place_is_not_merged_with_itself_or_what_is_within_it(
    writer: Member, signed_in: SignIn, other: str, name: str
) -> None:
    make_draft(writer, SCRIPT)
    page = send(signed_in(writer), writer, "merge", other, name, 422)
    assert "Choose two different places" in page.get_text()
    with pytest.raises(SameName):
        merge_places(writer, other, name)
    writer.production.refresh_from_db()
    assert writer.production.place_names == {}


@pytest.mark.parametrize("what", ["merge", "apart"])
def test_a_place_that_is_too_long_is_refused_and_not_cut_short(writer: Member, signed_in: SignIn, what: str) -> None:
    long = "THE HOUSE BEHIND " * 8
    make_draft(writer, f"INT. {long} - DAY\n\nRain.\n\n{SCRIPT}")
    page = send(signed_in(writer), writer, what, long, ALONE, 422)
    assert "A name can have 120 characters here" in page.get_text()
    for act in (merge_places, keep_places_apart):
        with pytest.raises(TooLongName):
            act(writer, long, ALONE)
    writer.production.refresh_from_db()
    assert writer.production.place_names == {}


def test_writers_are_led_to_the_places_and_nobody_else_is(writer: Member, crew: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    door = reverse("scenes-places", args=[writer.production.public_id])
    led = [bool(show(signed_in(who), who, "scenes", 1).select(f'a[href="{door}"]')) for who in (writer, crew)]
    assert led == [True, False]


def test_before_the_first_draft_there_is_nothing_to_choose_from(writer: Member, signed_in: SignIn) -> None:
    page = show(signed_in(writer), writer, "scenes-places")
    assert page.select("select") == []
    assert "No two places look alike" in " ".join(page.get_text().split())


def test_as_many_places_that_look_alike_are_offered_as_a_page_can_bear(writer: Member, signed_in: SignIn) -> None:
    flats = (f"INT. FLAT {at} - KITCHEN - DAY\n\nRain.\n\n" for at in range(55))
    make_draft(writer, "INT. KITCHEN - DAY\n\nSnow.\n\nINT. FLAT - DAY\n\nMist.\n\n" + "".join(flats))
    page = show(signed_in(writer), writer, "scenes-places")
    assert len(page.select("#alike ~ ul li")) == 50
    assert "5 more pairs look alike" in page.get_text()
    assert [label.get_text() for label in page.select("#merge ~ form label")] == ["This place", "is this place"]
