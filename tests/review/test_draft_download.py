"""Downloading a draft."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from django.urls import reverse

from review.drafts.acts import publish_draft
from screenplay.intake import read_bytes
from tests.factories import SCRIPT, make_draft, make_member, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

ACCENTED = SCRIPT.replace("NELL", "ZOË").replace("Mist.", "Mist – “thick”.")


def address(member: Member, number: int = 1) -> str:
    return reverse("draft-download", args=[member.production.public_id, number])


@pytest.mark.parametrize(
    "upload",
    [
        SCRIPT.encode(),
        SCRIPT.encode().replace(b"\n", b"\r\n"),
        SCRIPT.encode().replace(b"\n", b"\r"),
        SCRIPT.encode().replace(b"\n\n", b"\r\n\n"),
        SCRIPT.rstrip("\n").encode(),
        b"\xef\xbb\xbf" + ACCENTED.encode(),
        ACCENTED.encode("utf-16"),
        ACCENTED.encode("cp1252"),
    ],
    ids=["LF", "CRLF", "CR", "mixed", "no last line end", "UTF-8 with a mark", "UTF-16", "Windows-1252"],
)
def test_it_gives_back_the_upload_byte_for_byte(writer: Member, signed_in: SignIn, upload: bytes) -> None:
    publish_draft(writer, read_bytes(upload), filename="slack.fountain")
    assert signed_in(writer).get(address(writer)).content == upload


def test_it_comes_as_a_file_under_its_own_name(writer: Member, signed_in: SignIn) -> None:
    publish_draft(writer, read_bytes(SCRIPT.encode()), filename="slack water.fountain")
    response = signed_in(writer).get(address(writer))
    assert response["Content-Disposition"] == 'attachment; filename="slack water.fountain"'
    assert response["Cache-Control"] == "private, no-store"


def test_pasted_text_gets_a_file_name_of_its_own(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, label="After the read")
    response = signed_in(writer).get(address(writer))
    assert response["Content-Disposition"] == 'attachment; filename="slack-water-draft-1-after-the-read.fountain"'


def test_a_reader_may_not_since_it_holds_what_no_page_shows(writer: Member, crew: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    assert signed_in(crew).get(address(crew)).status_code == 403


def test_a_draft_that_is_not_there_is_not_found(writer: Member, signed_in: SignIn) -> None:
    assert signed_in(writer).get(address(writer)).status_code == 404


def test_it_is_not_there_for_a_stranger(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    stranger = make_member(make_production("Elsewhere"))
    assert signed_in(stranger).get(address(writer)).status_code == 404


def test_it_rejects_post(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    assert signed_in(writer).post(address(writer)).status_code == 405
