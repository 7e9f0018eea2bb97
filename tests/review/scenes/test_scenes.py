"""The breakdown of a draft, on screen and as files."""

from __future__ import annotations

import csv
import uuid
from io import BytesIO, StringIO
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse
from openpyxl import load_workbook

from review.decisions.acts import decide
from review.log import Act
from review.notes.models import Audience
from review.scenes.acts import mark_word, set_story_days
from review.scenes.breakdown import scene_rows
from review.scenes.tables import HEADS, as_csv
from screenplay.breakdown import CAUTION_SENSE
from tests.factories import make_draft, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client
    from pytest_django import DjangoAssertNumQueries

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

SCRIPT = """INT. FERRY - ENGINE ROOM - NIGHT #4#

Mara lights a match. JOREN, "the boy", watches.

MARA
It won't hold.

INT. FERRY - DECK - CONTINUOUS

JOREN
Well?

EXT. QUAY - DAY

Rain, and a long, long wait in it.
"""


def address(member: Member, name: str = "scenes", *more: str, asked: str = "") -> str:
    return reverse(name, args=[member.production.public_id, 1, *more]) + asked


def rows_of(page: str) -> list[list[str]]:
    rows = BeautifulSoup(page, "html.parser").select(".scenes-table tbody tr")
    return [[" ".join(cell.get_text(" ").split()) for cell in row.select("th, td")] for row in rows]


def test_each_scene_has_what_it_needs(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    first, second, third = rows_of(signed_in(writer).get(address(writer)).text)

    assert first[0] == "4. INT. FERRY - ENGINE ROOM"
    assert first[1:8] == ["Night", "1", "1", "1/8", "0:08", "MARA (JOREN)", "3 8 of action"]
    assert "Fire and explosions lights a match" in first[8]
    assert second[1] == "Night CONTINUOUS, from 4"
    assert third[2] == "2"


def test_what_a_heading_says_behind_the_time_is_told_of_the_scene(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "EXT. ORCHARD - DAY - FLASHBACK (1961)\n\nBlossom.\n")
    client = signed_in(writer)
    (row,) = rows_of(client.get(address(writer)).text)
    assert row[1] == "Day FLASHBACK (1961)"
    for name in ("scenes-order", "scenes-days"):
        assert "Day, FLASHBACK (1961)" in client.get(address(writer, name)).text
    table = client.get(address(writer, "scenes-file", "csv")).text
    assert '"Day","FLASHBACK (1961)"' in table.splitlines()[1]


def test_cautions_never_stand_without_what_they_are_worth(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    page = signed_in(writer).get(address(writer)).text
    assert CAUTION_SENSE in page


@pytest.mark.parametrize(
    ("asked", "numbers"),
    [
        ("?place=ferry", ["4", "2"]),
        ("?light=day", ["3"]),
        ("?cast=joren", ["4", "2"]),
        ("?caution=fire", ["4"]),
        ("?place=ferry&cast=mara", ["4"]),
        ("?place=nowhere&order=nothing", ["4", "2", "3"]),
        ("?order=cast", ["4", "2", "3"]),
        ("?order=place", ["2", "4", "3"]),
    ],
)
def test_scenes_can_be_narrowed_and_put_in_order(
    writer: Member, signed_in: SignIn, asked: str, numbers: list[str]
) -> None:
    make_draft(writer, SCRIPT)
    found = rows_of(signed_in(writer).get(address(writer, asked=asked)).text)
    assert [row[0].split(".")[0] for row in found] == numbers


def test_a_scene_of_two_settings_is_found_at_each_and_stands_as_typed(writer: Member, signed_in: SignIn) -> None:
    typed = "INT. PHONE BOX / INT. COTTAGE – KITCHEN - INTERCUT"
    make_draft(writer, f"{typed} - NIGHT\n\nRain.\n\nINT. COTTAGE - DAWN\n\nRain.\n")
    client = signed_in(writer)
    for place, found in (("phone box", ["1"]), ("cottage", ["1", "2"])):
        rows = rows_of(client.get(address(writer), {"place": place}).text)
        assert [row[0].split(".")[0] for row in rows] == found
        assert rows[0][0] == f"1. {typed}"
    order = client.get(address(writer, "scenes-order")).text
    assert typed in order


def test_who_is_at_the_other_end_of_an_intercut_is_told_of_each_scene(writer: Member, signed_in: SignIn) -> None:
    """Both ends of an intercut telephone call are shot (common practice)."""
    kitchen = "INT. KITCHEN - NIGHT #4#\n\nMara, with the phone.\n\nINTERCUT WITH:\n\n"
    make_draft(writer, f"{kitchen}INT. OFFICE - NIGHT\n\nJOREN\nHello?\n\nMARA (V.O.)\nYes.\n")
    client = signed_in(writer)
    page = client.get(address(writer)).text
    assert [row[6] for row in rows_of(page)] == [
        "(MARA) Intercut with 2: JOREN",
        "JOREN; voice alone: MARA Intercut with 4: MARA",
    ]
    assert "Calls without such a line are not found" in page
    links = BeautifulSoup(page, "html.parser").select(".needs-intercut a")
    assert [str(link["href"]).rpartition("#")[2] for link in links] == ["L5", "L5"]
    assert len(rows_of(client.get(address(writer, asked="?cast=joren")).text)) == 2
    assert "intercut with 2: JOREN" in client.get(address(writer, "scenes-order")).text
    records = csv.DictReader(StringIO(client.get(address(writer, "scenes-file", "csv")).text.lstrip("\ufeff")))
    assert [record["Intercut"] for record in records] == ["with 2: JOREN", "with 4: MARA"]


def test_an_intercut_with_nothing_said_of_it_is_told_as_that(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "INT. OFFICE - NIGHT\n\nINTERCUT PHONE CALL\n\nJOREN\nHello?\n")
    (row,) = rows_of(signed_in(writer).get(address(writer)).text)
    assert row[6] == "JOREN Intercut with a scene that is not said"


def test_an_intercut_by_day_and_night_is_told_as_both_and_a_number_that_is_not_there(
    writer: Member, signed_in: SignIn
) -> None:
    ends = "INT. OFFICE - NIGHT #4#\n\nRain.\n\nEXT. YARD - DAY #5#\n\nSun.\n\n"
    make_draft(writer, f"{ends}.INTERCUT - OFFICE / YARD\n\nJOREN\nHello?\n\nINTERCUT SCENES 5-7\n")
    client = signed_in(writer)
    page = client.get(address(writer)).text
    assert [row[1] for row in rows_of(page)] == ["Night", "Day", "Night and day from 4 and 5"]
    assert "no scene has the number 7" in rows_of(page)[2][6]
    for light, called in (("night", ["4", "3"]), ("day", ["5", "3"])):
        rows = rows_of(client.get(address(writer, asked=f"?light={light}")).text)
        assert [row[0].partition(".")[0] for row in rows] == called


def test_a_scene_whose_heading_says_no_place_is_found_as_that(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "INT. OFFICE - NIGHT\n\nRain.\n\n.INTERCUT - THE CALL\n\nJOREN\nHello?\n")
    client = signed_in(writer)
    page = client.get(address(writer, asked="?place=none")).text
    assert [row[0] for row in rows_of(page)] == ["2. INTERCUT - THE CALL"]
    assert "No place said" in [
        option.text for option in BeautifulSoup(page, "html.parser").select("[name=place] option")
    ]
    assert "INTERCUT - THE CALL" in client.get(address(writer, "scenes-order")).text


def test_open_notes_are_counted_where_they_stand_for_those_who_may_read_them(
    writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    draft = make_draft(writer, SCRIPT)
    make_note(crew, draft, 3)
    make_note(crew, draft, 10, audience=Audience.WRITER)
    decide(writer, make_note(crew, draft, 6), "declined", "No.", 0, uuid.uuid4())

    assert [row.open_notes for row in scene_rows(writer, draft)] == [1, 1, 0]
    assert [row.open_notes for row in scene_rows(cast, draft)] == [1, 0, 0]


def test_the_csv_is_as_rfc_4180_has_it(writer: Member, signed_in: SignIn) -> None:
    """RFC 4180: CRLF at each end, the same number of fields in each record, quotes around a field that has a comma, a
    quote or a line end, and a quote within doubled."""
    make_draft(writer, SCRIPT)
    response = signed_in(writer).get(address(writer, "scenes-file", "csv"))

    assert response["Content-Type"].startswith("text/csv")
    assert response["Content-Disposition"] == 'attachment; filename="slack-water-draft-1-breakdown.csv"'
    text = response.content.decode("utf-8-sig")
    assert text.count("\r\n") == text.count("\n") == 4
    head, *records = csv.reader(StringIO(text, newline=""), strict=True)
    assert tuple(head) == HEADS
    assert {len(record) for record in records} == {len(HEADS)}
    assert [record[0] for record in records] == ["4", "2", "3"]
    told = dict(zip(head, records[0], strict=True))
    assert (told["Heading"], told["Place"]) == ("INT. FERRY - ENGINE ROOM - NIGHT", "FERRY")
    assert told["Place within"] == "ENGINE ROOM"
    assert Act.objects.filter(verb=Act.Verb.TOOK_BREAKDOWN, person=writer.person).count() == 1


def test_it_says_that_the_lists_cannot_read_another_language(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    client = signed_in(writer)
    told = "The lists know English words alone, and this script is not in English"
    asked = [address(writer), address(writer, "scenes-file", "csv")]
    assert [told in client.get(each).content.decode() for each in asked] == [False, False]
    writer.production.language = "fr"
    writer.production.save()
    assert [told in client.get(each).content.decode() for each in asked] == [True, True]
    book = load_workbook(BytesIO(client.get(address(writer, "scenes-file", "xlsx")).content))
    assert told in str(book["About cautions"]["A1"].value)


def test_it_says_so_too_where_nobody_set_the_language(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "INT. CUISINE - NUIT\n\n" + "Un enfant de six ans joue avec un couteau. Sa mère crie.\n\n" * 5)
    assert "The lists know English words alone" in signed_in(writer).get(address(writer)).text


def test_what_a_spreadsheet_would_work_out_stays_text(writer: Member) -> None:
    draft = make_draft(writer, 'INT. =1+1 - NIGHT\n\nRain.\n\nINT. A, "B" - DAY\n\nRain.\n')
    told = as_csv(scene_rows(writer, draft)).decode("utf-8-sig")
    assert "=1+1" not in told.split(",")
    records = list(csv.reader(StringIO(told, newline=""), strict=True))
    assert records[2][HEADS.index("Place")] == 'A, "B"'


def test_the_spreadsheet_opens_elsewhere_with_the_same_rows(writer: Member, signed_in: SignIn) -> None:
    """Source: `openpyxl` from PyPI reads workbooks by ECMA-376 on its own."""
    make_draft(writer, SCRIPT)
    response = signed_in(writer).get(address(writer, "scenes-file", "xlsx", asked="?light=night"))

    book = load_workbook(BytesIO(response.content))
    head, *records = book["Breakdown"].iter_rows(values_only=True)
    assert head == HEADS
    assert [record[0] for record in records] == ["4", "2"]
    assert records[0][HEADS.index("Eighths")] == 1
    assert CAUTION_SENSE in str(book["About cautions"]["A1"].value)


def test_no_other_file_is_there(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    assert signed_in(writer).get(address(writer, "scenes-file", "doc")).status_code == 404


@pytest.mark.parametrize("text", ["", "Rain.\n"])
def test_a_draft_without_scenes_says_how_one_begins(writer: Member, signed_in: SignIn, text: str) -> None:
    make_draft(writer, text)
    page = signed_in(writer).get(address(writer)).text
    assert "There is no scene heading in this draft" in page
    assert signed_in(writer).get(address(writer, "scenes-file", "csv")).status_code == 200


def test_before_the_first_draft_it_says_what_will_be_here(writer: Member, signed_in: SignIn) -> None:
    page = signed_in(writer).get(reverse("scenes-current", args=[writer.production.public_id])).text
    assert "No draft yet" in page


def test_queries_are_as_many_for_many_notes(
    writer: Member, crew: Member, signed_in: SignIn, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    draft = make_draft(writer, SCRIPT)
    for line in (3, 6, 10, 14) * 3:
        make_note(crew, draft, line)
    client = signed_in(writer)
    with django_assert_max_num_queries(9):
        client.get(address(writer))


def test_marked_words_and_days_that_were_set_stand_with_their_scenes(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    draft = make_draft(writer, SCRIPT)
    mark_word(crew, "match", "props", uuid.uuid4())
    set_story_days(writer, draft, {1: 4}, {})

    first, second, third = rows_of(signed_in(crew).get(address(crew)).text)
    assert (first[8], second[8]) == ("Props match", "")
    assert [row[2] for row in (first, second, third)] == ["4", "4", "5"]
    assert [row[0][0] for row in rows_of(signed_in(crew).get(address(crew, asked="?department=props")).text)] == ["4"]


def test_whom_a_scene_concerns_is_told_with_the_words_and_their_lines(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    make_draft(writer, "INT. HALL - DAY\n\nShe opens a suitcase with a wig in it.\n\nEXT. YARD - DAY\n\nThey wait.\n")
    client = signed_in(crew)
    page = client.get(address(crew)).text
    hall, yard = rows_of(page)
    assert hall[9] == "Props, Hair and make-up Props: suitcase Hair and make-up: wig"
    assert yard[9] == ""
    script = reverse("script", args=[crew.production.public_id, 1])
    links = BeautifulSoup(page, "html.parser").select("tbody td:nth-of-type(9) a")
    assert [link["href"] for link in links] == [f"{script}#L3"] * 2
    records = list(csv.DictReader(StringIO(client.get(address(crew, "scenes-file", "csv")).text.lstrip("\ufeff"))))
    assert [record["Concerned"] for record in records] == ["Props: suitcase; Hair and make-up: wig", ""]
