"""Pictures of a draft, on the page and as files."""

from __future__ import annotations

from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from tests.factories import make_draft

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

SCRIPT = "INT. A - DAY\n\nNELL\nNo.\n\nINT. B - DAY\n\nNell waits.\n\nIRIS\nYes.\n"
SVG = "{http://www.w3.org/2000/svg}"


def address(member: Member, *name: str) -> str:
    return reverse("scenes-picture" if name else "scenes-pictures", args=[member.production.public_id, 1, *name])


def test_each_of_the_cast_has_a_bar_in_each_of_their_scenes(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    page = BeautifulSoup(signed_in(writer).get(address(writer)).text, "html.parser")
    titles = [title.get_text() for title in page.select(".presence title")]
    assert titles == ["NELL speaks in scene 1, A", "NELL is named in scene 2, B", "IRIS speaks in scene 2, B"]
    rows = [[" ".join(cell.get_text().split()) for cell in row.select("th, td")] for row in page.select("tbody tr")]
    assert rows == [["NELL", "2", "1, (2)"], ["IRIS", "1", "2"]]
    script = reverse("script", args=[writer.production.public_id, 1])
    assert [link["href"] for link in page.select(".presence a")] == [f"{script}#L1", f"{script}#L6", f"{script}#L6"]


@pytest.mark.parametrize(("name", "bars"), [("presence", 3), ("lengths", 4)])
def test_a_picture_is_a_file_that_stands_by_itself(
    writer: Member, crew: Member, signed_in: SignIn, name: str, bars: int
) -> None:
    """Source: the file is read as XML, and SVG 2 has its elements in this namespace (https://www.w3.org/TR/SVG2/)."""
    make_draft(writer, SCRIPT)
    response = signed_in(crew).get(address(crew, name))
    assert response["Content-Type"] == "image/svg+xml"
    root = ET.fromstring(response.content)
    assert root.tag == f"{SVG}svg"
    assert len(root.findall(f".//{SVG}rect")) == bars
    assert {"width", "height", "viewBox"} <= {*root.keys()}
    assert root.findall(f".//{SVG}a") == []


def test_of_nobody_and_nothing_there_is_no_picture(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "Rain.\n")
    client = signed_in(writer)
    assert "no scene in this draft to draw" in client.get(address(writer)).text
    assert [client.get(address(writer, name)).status_code for name in ("presence", "lengths", "other")] == [404] * 3
