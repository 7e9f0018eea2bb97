"""Downloading a draft."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.core.exceptions import PermissionDenied
from django.urls import reverse

from review.log import Act
from review.printing.acts import take_text, take_web_page
from review.productions.models import Production
from review.publishing.acts import publish_draft
from screenplay import PaperSize
from screenplay.intake import from_columns, read_bytes
from tests.factories import SCRIPT, make_draft, make_member, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

ACCENTED = SCRIPT.replace("NELL", "ZOË").replace("Mist.", "Mist – “thick”.")


def address(member: Member, number: int = 1, name: str = "draft-download") -> str:
    return reverse(name, args=[member.production.public_id, number])


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


@pytest.mark.parametrize(
    ("name", "content_type", "ending"),
    [("draft-text", "text/plain; charset=utf-8", "txt"), ("draft-html", "text/html; charset=utf-8", "html")],
)
def test_it_goes_out_in_other_forms_under_names_of_their_own(
    writer: Member, signed_in: SignIn, name: str, content_type: str, ending: str
) -> None:
    make_draft(writer, ACCENTED, label="After the read")
    response = signed_in(writer).get(address(writer, name=name))
    assert response["Content-Type"] == content_type
    assert response["Content-Disposition"] == f'attachment; filename="slack-water-draft-1-after-the-read.{ending}"'
    assert response["Cache-Control"] == "private, no-store"
    assert "Mist – “thick”." in response.content.decode()


def test_the_text_is_the_pages_typed_in_columns_on_the_production_s_paper(writer: Member, signed_in: SignIn) -> None:
    draft = make_draft(writer, SCRIPT + "\n\nRain.\n" * 20)
    Production.objects.update(paper="a4")
    client = signed_in(writer)
    text = client.get(address(writer, name="draft-text")).content.decode()
    assert text.count("\f") == 1  # after the title page: the rest is one page of A4, and two of Letter
    assert f"{'':37}NELL\n{'':25}Tide turns at four.\n" in text  # 3.7 and 2.5 inches in (C)
    assert from_columns(text).text.split() == draft.text.replace("*", "").split()
    asked = client.get(address(writer, name="draft-text"), {"paper": "letter", "scene_numbers": "on"}).content.decode()
    assert asked.count("\f") == 2
    assert f"{'':10}2    EXT. SLIPWAY - DAWN" in asked


def test_the_html_says_which_draft_it_is_and_in_which_language(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, label="After <the> read")
    Production.objects.update(language="nb")
    response = signed_in(writer).get(address(writer, name="draft-html"), {"scene_numbers": "on"})
    page = BeautifulSoup(response.content, "html.parser")
    assert page.select('html[lang="nb"]')
    assert [title.text for title in page.select("title")] == ["Slack Water: Draft 1, After <the> read"]
    (about,) = page.select(".about")
    assert about.text.startswith("Draft 1, After <the> read · White · ")
    assert [heading.text for heading in page.select("h2")] == ["1 INT. BOATHOUSE - NIGHT", "2 EXT. SLIPWAY - DAWN"]


def test_a_paper_that_there_is_not_is_refused(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    assert signed_in(writer).get(address(writer, name="draft-text"), {"paper": "foolscap"}).status_code == 422
    assert not Act.objects.filter(verb=Act.Verb.DOWNLOADED_DRAFT).exists()


@pytest.mark.parametrize(
    ("name", "form"), [("draft-download", "source"), ("draft-text", "text"), ("draft-html", "html")]
)
def test_the_log_keeps_each_copy_taken_and_none_of_those_refused(
    writer: Member, crew: Member, signed_in: SignIn, name: str, form: str
) -> None:
    draft = make_draft(writer)
    assert signed_in(writer).get(address(writer, name=name)).status_code == 200
    assert signed_in(writer).head(address(writer, name=name)).status_code == 405
    assert signed_in(crew).get(address(crew, name=name)).status_code == 403
    act = Act.objects.get(verb=Act.Verb.DOWNLOADED_DRAFT)
    assert (act.person, act.about, act.details) == (writer.person, draft.public_id, {"number": 1, "form": form})


@pytest.mark.parametrize(
    "take",
    [
        lambda by, draft: take_text(by, draft, PaperSize.A4, scene_numbers=False),
        lambda by, draft: take_web_page(by, draft, scene_numbers=False),
    ],
    ids=["text", "html"],
)
def test_whoever_may_have_no_copy_is_told_so_before_any_work_is_done(
    writer: Member, crew: Member, monkeypatch: pytest.MonkeyPatch, take: Callable[[Member, Draft], bytes]
) -> None:
    draft = make_draft(writer)
    laid_out: list[Draft] = []
    monkeypatch.setattr("review.printing.acts.laid_out", lambda draft, *_: laid_out.append(draft))
    with pytest.raises(PermissionDenied):
        take(crew, draft)
    assert laid_out == []


def test_only_a_writer_is_offered_copies_without_a_name(writer: Member, crew: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    for screen in (reverse("drafts", args=[writer.production.public_id]), address(writer, name="draft-print")):
        for name in ("draft-download", "draft-text", "draft-html"):
            assert address(writer, name=name) in signed_in(writer).get(screen).text
            assert address(writer, name=name) not in signed_in(crew).get(screen).text


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
