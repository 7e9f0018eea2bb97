"""Pictures of a draft, on the page and as files."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse
from PIL import Image

from tests.factories import make_draft

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

SCRIPT = "INT. A - DAY\n\nNELL\nNo.\n\nINT. B - DAY\n\nNell waits.\n\nIRIS\nYes.\n"
SVG = "{http://www.w3.org/2000/svg}"


def address(member: Member, *name: str, number: int = 1) -> str:
    return reverse("scenes-picture" if name else "scenes-pictures", args=[member.production.public_id, number, *name])


def rows_of(page: BeautifulSoup, section: str) -> list[list[str]]:
    found = page.select(f"section[aria-labelledby={section}] tbody tr")
    return [[" ".join(cell.get_text().split()) for cell in row.select("th, td")] for row in found]


def test_each_of_the_cast_has_a_bar_in_each_of_their_scenes(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    page = BeautifulSoup(signed_in(writer).get(address(writer)).text, "html.parser")
    titles = [title.get_text() for title in page.select(".presence title")]
    assert titles == ["NELL speaks in scene 1, A", "NELL is named in scene 2, B", "IRIS speaks in scene 2, B"]
    assert rows_of(page, "presence") == [["NELL", "2", "1, (2)"], ["IRIS", "1", "2"]]
    script = reverse("script", args=[writer.production.public_id, 1])
    assert [link["href"] for link in page.select(".presence a")] == [f"{script}#L1", f"{script}#L6", f"{script}#L6"]


def test_a_picture_that_is_cut_on_a_phone_says_that_it_goes_on(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    page = BeautifulSoup(signed_in(writer).get(address(writer)).text, "html.parser")
    wide = [svg.find_parent(class_="picture") for svg in page.select(".picture svg") if int(str(svg["width"])) > 420]
    assert wide
    assert all(picture and "goes on to the right" in picture.get_text() for picture in wide)


def test_a_picture_of_few_scenes_is_no_wider_than_its_bars_and_its_frame_fits_it(
    writer: Member, signed_in: SignIn
) -> None:
    make_draft(writer, SCRIPT)
    page = BeautifulSoup(signed_in(writer).get(address(writer)).text, "html.parser")
    (lengths,) = page.select(".picture-small > svg.lengths")
    reach = max(float(str(bar["x"])) + float(str(bar["width"])) for bar in lengths.select("rect"))
    assert float(str(lengths["width"])) * 0.9 < reach <= float(str(lengths["width"]))
    assert not page.select(".picture-small > svg.presence")


def test_a_voice_alone_is_told_apart_and_counts_in_no_scene(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT.replace("IRIS\n", "IRIS (V.O.)\n").replace("NELL\n", "NELL (O.S.)\n"))
    page = BeautifulSoup(signed_in(writer).get(address(writer)).text, "html.parser")
    marks = {str(link["aria-label"]): len(link.select("rect")) for link in page.select(".presence a")}
    assert marks == {
        "NELL speaks in scene 1, A": 1,
        "NELL is named in scene 2, B": 1,
        "IRIS is a voice alone in scene 2, B": 3,
    }
    assert rows_of(page, "presence") == [["NELL", "2", "1, (2)"], ["IRIS", "0", "2 voice alone"]]


def test_the_pace_of_a_scene_is_the_mean_length_of_the_scenes_around_it(writer: Member, signed_in: SignIn) -> None:
    """By hand: five short scenes of an eighth, and one of 27 lines, which with the two blank lines before its heading
    and the one under it is a little under half a page, 4/8 of 54 lines."""
    long = "\n".join(f"Line {line}." for line in range(24))
    make_draft(writer, "\n\n".join(["INT. A - DAY\n\nRain."] * 5 + [f"INT. B - DAY\n\n{long}"]))
    page = BeautifulSoup(signed_in(writer).get(address(writer)).text, "html.parser")
    rows = rows_of(page, "lengths")
    assert [row[1] for row in rows] == ["1/8"] * 5 + ["4/8"]
    assert [row[4] for row in rows] == ["1.0", "1.0", "1.0", "1.6", "1.8", "2.0"]


FLOW = [
    "INT. A - DAY\n\nNell mends a net by the only lamp.\n\nThe lamp goes out.",
    "INT. B - DAY\n\nIris counts the boats twice over.\n\nOne of them is gone.",
    "INT. C - DAY\n\nThe tide turns under the jetty.\n\nRopes creak.",
    "INT. D - DAY\n\nA kettle boils dry on the stove.\n\nNobody hears it.",
    "INT. E - DAY\n\nTobias asleep in the hull.\n\nA gull looks in at him.",
    "INT. F - DAY\n\nTwo oars, one of them broken.\n\nIris holds the longer half.",
]
NEW = "INT. G - DAY\n\nThe registrar stamps forty forms.\n\nShe licks the last envelope."
# To the second draft: E goes before B and D, C is cut, G is added, and F comes in two.
HALVES = ["INT. F - DAY\n\nTwo oars, one of them broken.", "INT. F - NIGHT\n\nIris holds the longer half."]
SECOND = [FLOW[0], FLOW[4], FLOW[1], FLOW[3], NEW, *HALVES]


def test_the_flow_tells_what_became_of_each_scene_and_leads_to_its_lines(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "\n\n".join(FLOW))
    make_draft(writer, "\n\n".join(SECOND), 2)
    make_draft(writer, "\n\n".join([*SECOND[:5], FLOW[5]]), 3)
    client = signed_in(writer)

    page = BeautifulSoup(client.get(address(writer, number=3)).text, "html.parser")
    became = [(row[0][-1:], row[2][-1:], row[4]) for row in rows_of(page, "flow")]
    first, second = became[:8], became[8:]
    assert sorted(first) == sorted(
        [
            ("A", "A", "Kept"),
            ("E", "E", "Moved"),
            ("B", "B", "Kept"),
            ("C", "", "Cut"),
            ("", "G", "Added"),
            ("D", "D", "Kept"),
            ("F", "F", "Split"),
            ("F", "F", "Split"),
        ]
    )
    assert [told for _, _, told in second] == ["Kept"] * 5 + ["Merged"] * 2
    bands = [link["aria-label"] for link in page.select(".flow a") if "of draft 2 is" in str(link["aria-label"])]
    assert "Scene 6 of draft 2 is scene 6 of draft 3: merged" in bands
    links = {str(link["aria-label"]): str(link["href"]) for link in page.select(".flow a")}
    script = reverse("script", args=[writer.production.public_id, 1])
    assert links["Draft 1, scene 3, C: 1/8, cut from the next"] == f"{script}#L13"
    assert "this shows which scenes were kept" in client.get(address(writer)).text


@pytest.mark.parametrize(("name", "marks"), [("presence", 3), ("lengths", 2)])
def test_a_picture_is_a_file_that_stands_by_itself(
    writer: Member, crew: Member, signed_in: SignIn, name: str, marks: int
) -> None:
    """Source: the file is read as XML, and SVG 2 has its elements in this namespace (https://www.w3.org/TR/SVG2/)."""
    make_draft(writer, SCRIPT)
    response = signed_in(crew).get(address(crew, name, "svg"))
    assert response["Content-Type"] == "image/svg+xml"
    root = ET.fromstring(response.content)
    assert root.tag == f"{SVG}svg"
    assert len(root.findall(f".//{SVG}g")) == marks
    assert {"width", "height", "viewBox"} <= {*root.keys()}
    assert root.findall(f".//{SVG}a") == []


@pytest.mark.parametrize("name", ["presence", "lengths", "flow"])
def test_a_picture_is_a_png_too(writer: Member, crew: Member, signed_in: SignIn, name: str) -> None:
    make_draft(writer, SCRIPT)
    make_draft(writer, SCRIPT.replace("No.", "Yes."), 2)
    response = signed_in(crew).get(address(crew, name, "png", number=2))
    assert response["Content-Type"] == "image/png"
    assert f"{name}.png" in response["Content-Disposition"]
    image = Image.open(BytesIO(response.content))
    assert image.format == "PNG"
    darkest = image.convert("L").histogram()[:60]
    assert sum(darkest) > 100  # something dark stands on the paper


def test_of_nobody_and_nothing_there_is_no_picture(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "Rain.\n")
    client = signed_in(writer)
    assert "no scene in this draft to draw" in client.get(address(writer)).text
    asked = [("presence", "svg"), ("lengths", "png"), ("flow", "svg"), ("other", "svg"), ("lengths", "gif")]
    assert [client.get(address(writer, *each)).status_code for each in asked] == [404] * 5
