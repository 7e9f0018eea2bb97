"""Putting up a script that was typed for paper: a PDF, or plain text in columns."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup, Tag
from django.core.files.uploadedfile import SimpleUploadedFile
from reportlab.pdfgen.canvas import Canvas

from review.drafts.models import Draft
from screenplay import parse
from screenplay.fountain import plain
from screenplay.script import headings_of
from tests.putting_up import choose, put_up
from tests.typed_pdf import Sheets, set_script

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client
    from django.test.client import _MonkeyPatchedWSGIResponse as Response

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

PARTS = [
    ("scene_heading", "INT. BOATHOUSE - NIGHT"),
    ("action", "Rain on a tin roof."),
    *[("character", "MARA"), ("dialogue", "Nobody comes back for a tide table, not on a night like this one.")] * 3,
]
TYPED = "\n\n".join(
    [
        "               INT. BOATHOUSE - NIGHT",
        "               Rain on a tin roof.",
        *[f"{'':37}MARA\n{'':25}Nobody comes back for a tide table,\n{'':25}not on a night like this one."] * 3,
        f"{'':41}THE END",
    ]
)


def pdf(sheets: Sheets | None = None) -> SimpleUploadedFile:
    return SimpleUploadedFile("slack.pdf", set_script(PARTS, sheets))


def fields_of(response: Response) -> dict[str, str]:
    """What the form that came back would send again."""
    form = BeautifulSoup(response.content, "html.parser").select_one("form.upload")
    assert form is not None
    sent = {"text": form.select_one("textarea").get_text().removeprefix("\n")}  # type: ignore[union-attr]
    return sent | {str(one["name"]): str(one.get("value", "")) for one in form.select("input[type=hidden]")}


def said(response: Response) -> str:
    alert = BeautifulSoup(response.content, "html.parser").select_one("[role=alert]")
    return " ".join(alert.get_text(" ").split()) if alert else ""


def listed(response: Response, what: str) -> str:
    found = BeautifulSoup(response.content, "html.parser").select_one(f"section[aria-labelledby={what}]")
    return " ".join(found.get_text(" ").split()) if found else ""


@pytest.mark.parametrize("name", ["pdf", "text"])
def test_it_is_shown_as_fountain_before_anything_is_up(writer: Member, signed_in: SignIn, name: str) -> None:
    file = pdf() if name == "pdf" else SimpleUploadedFile("slack.txt", TYPED.encode())
    response = put_up(signed_in(writer), writer, file=file)

    assert response.status_code == 422
    assert not Draft.objects.exists()
    assert said(response).startswith("Nothing is up yet.")
    text = fields_of(response)["text"]
    assert [plain(heading.printed) for heading in headings_of(parse(text))] == ["INT. BOATHOUSE - NIGHT"]
    assert "MARA\nNobody comes back for a tide table, not on a night like this one.\n" in text


def test_what_the_writer_has_corrected_is_what_goes_up(writer: Member, signed_in: SignIn) -> None:
    client = signed_in(writer)
    fields = fields_of(put_up(client, writer, file=pdf()))
    fields["text"] = fields["text"].replace("tin roof", "slate roof")

    response = put_up(client, writer, **fields)

    assert response.status_code == 302
    assert "Rain on a slate roof." in Draft.objects.get().text


def test_pasted_columns_are_shown_once_and_then_taken_as_they_stand(writer: Member, signed_in: SignIn) -> None:
    client = signed_in(writer)
    first = put_up(client, writer, text=TYPED)
    assert first.status_code == 422
    assert put_up(client, writer, text=TYPED, as_it_stands="on").status_code == 302
    assert Draft.objects.get().text == TYPED


def test_the_guesses_are_listed_with_their_lines(writer: Member, signed_in: SignIn) -> None:
    response = put_up(signed_in(writer), writer, text=TYPED)
    line = fields_of(response)["text"].split("\n").index("> THE END <") + 1
    assert f"Line {line} THE END It stands in the middle" in listed(response, "guesses")


def test_a_page_of_a_pdf_that_cannot_be_read_is_named_with_what_to_do(writer: Member, signed_in: SignIn) -> None:
    file = io.BytesIO()
    canvas = Canvas(file)
    for text in ("The tide is at one this time.", "", "The tide is at three."):
        for row in range(12 if text else 0):
            canvas.drawString(108, 700 - 24 * row, text)
        canvas.showPage()
    canvas.save()
    response = put_up(signed_in(writer), writer, file=SimpleUploadedFile("slack.pdf", file.getvalue()))
    assert "2 pages read. 1 page could not be read, or not wholly: see below." in said(response)
    told = listed(response, "unread")
    assert "Page 2" in told
    assert "type what is missing at its place, or export the script again" in told
    assert not Draft.objects.exists()


def test_a_pdf_that_cannot_be_read_says_why(writer: Member, signed_in: SignIn) -> None:
    broken = SimpleUploadedFile("slack.pdf", set_script(PARTS)[:200])
    response = put_up(signed_in(writer), writer, file=broken)
    assert response.status_code == 422
    assert "“slack.pdf” is a PDF that is damaged or not whole" in said(response)
    assert not Draft.objects.exists()


def test_fountain_is_read_as_it_stands(writer: Member, signed_in: SignIn) -> None:
    fountain = "INT. BOATHOUSE - NIGHT\n\nRain on a tin roof.\n\nMARA\nNobody comes back for a tide table.\n"
    assert put_up(signed_in(writer), writer, text=fountain).status_code == 302
    assert Draft.objects.get().text == fountain


def test_a_corrected_text_keeps_the_name_of_its_file(writer: Member, signed_in: SignIn) -> None:
    client = signed_in(writer)
    fields = fields_of(put_up(client, writer, file=pdf()))
    shown = choose(client, writer, **fields)["Location"]
    link = BeautifulSoup(client.get(shown).content, "html.parser").find("a", string="Correct the text")
    assert isinstance(link, Tag)
    again = fields_of(client.get(str(link["href"])))
    assert again["text"] == fields["text"].replace("\r\n", "\n")
    assert put_up(client, writer, **again).status_code == 302
    assert Draft.objects.get().filename == "slack.pdf"


def test_a_corrected_text_is_shown_with_its_warnings(writer: Member, signed_in: SignIn) -> None:
    client = signed_in(writer)
    first = put_up(client, writer, file=pdf())
    assert "None:" in listed(first, "warnings")
    fields = fields_of(first)
    fields["text"] += "\nEXT. QUAY - DAY\nNobody. [[Ask\n"
    shown = client.get(choose(client, writer, **fields)["Location"])
    assert not Draft.objects.exists()
    assert "Nobody. [[Ask" in shown.text
    assert "to look at" in shown.text


def test_a_pdf_without_text_and_one_that_is_locked_are_refused_with_a_sentence(
    writer: Member, signed_in: SignIn
) -> None:
    client = signed_in(writer)
    scan = SimpleUploadedFile("scan.pdf", set_script([("action", "x")]))
    assert "“scan.pdf” has pictures of pages with no text in them" in said(put_up(client, writer, file=scan))
    assert "“slack.pdf” is locked with a password" in said(put_up(client, writer, file=pdf(Sheets(encrypt="word"))))
    assert not Draft.objects.exists()
