"""A change sheet as a PDF."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import pdfplumber
from django.urls import reverse

from review.log import Act
from tests.review.changes.boathouse import NEW, OLD, address, publish, read_pdf

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]


def test_the_pdf_has_the_reader_s_name_the_reasons_and_the_lines_and_the_log_keeps_it(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    publish(writer, OLD, NEW)
    response = signed_in(crew).get(address(crew, "stunts", "change-sheet-pdf"))
    assert response["Content-Type"] == "application/pdf"
    assert "slack-water-changes-1-to-2-stunts.pdf" in response["Content-Disposition"]
    text = read_pdf(response.content)
    for part in (
        "Changes for Stunts",
        "1 INT. BOATHOUSE - NIGHT",
        "Caution, falls and heights, new in the scene",
        "was NELL mends a net by one lamp. now",
        "now NELL mends a net by one lamp, on the ladder, with a knife.",
        "1 of 1",
    ):
        assert part in text, text
    with pdfplumber.open(io.BytesIO(response.content)) as pdf:
        across = "".join(char["text"] for char in pdf.pages[0].chars if char["matrix"][1] != 0)
    assert across.replace(" ", "") == "BoFinch"
    act = Act.objects.get(verb=Act.Verb.PRINTED_SHEET)
    assert (act.person, act.details) == (crew.person, {"old": 1, "new": 2, "whose": "Stunts", "for_writers": False})


def test_the_pdf_shows_the_words_near_a_change_alone(writer: Member, signed_in: SignIn) -> None:
    stayed = " ".join(["Rope lies coiled on every step down to the water."] * 3)
    publish(writer, OLD + f"\n{stayed} A bell rings.\n", OLD + f"\n{stayed} A gong rings.\n")
    text = read_pdf(signed_in(writer).get(address(writer, "editing", "change-sheet-pdf")).content)
    assert "was … down to the water. A bell rings." in text
    assert "now … down to the water. A gong rings." in text


def test_the_pdf_says_how_many_lines_of_a_new_scene_it_leaves_out_and_where_they_are(
    writer: Member, signed_in: SignIn
) -> None:
    told = [f"Step {step} of the long way up." for step in range(1, 41)]
    whole = "\n\n".join(["\nEXT. STEPS - DAY", *told]) + "\n"
    publish(writer, OLD, OLD + whole, OLD)
    client = signed_in(writer)
    new = read_pdf(client.get(address(writer, "editing", "change-sheet-pdf")).content)
    assert "new Step 13 of the long way up." in new  # the heading is the first of fourteen
    assert "Step 14 of" not in new
    assert "and 27 more lines, on pages 1 and 2 of draft 2." in new
    cut = reverse("change-sheet-pdf", args=[writer.production.public_id, 2, 3, "editing"])
    assert "and 27 more lines, on pages 1 and 2 of draft 2." in read_pdf(client.get(cut).content)


def test_the_pdf_has_all_of_a_new_scene_of_fourteen_lines_and_says_where_a_fifteenth_is(
    writer: Member, signed_in: SignIn
) -> None:
    told = "\n\n".join(["\nEXT. STEPS - DAY", *(f"Step {step}." for step in range(1, 14))]) + "\n"
    publish(writer, OLD, OLD + told, OLD + told.replace("STEPS", "STAIRS") + "\nStep 14.\n", OLD)
    client = signed_in(writer)
    assert "more line" not in read_pdf(client.get(address(writer, "editing", "change-sheet-pdf")).content)
    cut = reverse("change-sheet-pdf", args=[writer.production.public_id, 3, 4, "editing"])
    assert "and 1 more line, on page 1 of draft 3." in read_pdf(client.get(cut).content)


def test_asking_for_headers_takes_no_copy(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    assert signed_in(writer).head(address(writer, "stunts", "change-sheet-pdf")).status_code == 405
    assert not Act.objects.filter(verb=Act.Verb.PRINTED_SHEET).exists()
