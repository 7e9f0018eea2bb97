"""Putting up a draft."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from review.access import Role
from review.drafts.models import Draft
from screenplay.intake import MAXIMUM_BYTES
from tests.factories import SCRIPT, make_draft, make_member, make_note, make_production
from tests.putting_up import choose, is_shown, preset, put_up

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from django.test.client import _MonkeyPatchedWSGIResponse as Response

    from review.people.models import Member

    SignIn = Callable[[Member], Client]


def address(member: Member) -> str:
    return reverse("draft-upload", args=[member.production.public_id])


def report_of(member: Member, number: int) -> str:
    return reverse("draft-report", args=[member.production.public_id, number])


def file(content: bytes | str = SCRIPT, name: str = "slack.fountain") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, content.encode() if isinstance(content, str) else content)


def wrong(response: Response) -> str:
    """What the page says went wrong."""
    alert = BeautifulSoup(response.content, "html.parser").select_one(".upload-wrong")
    return " ".join(alert.get_text(" ").split()) if alert else ""


def test_a_file_becomes_a_draft_and_leads_to_its_report(writer: Member, signed_in: SignIn) -> None:
    response = put_up(signed_in(writer), writer, file=file(), label=" For the read-through ")
    assert response.status_code == 302
    assert response["Location"] == report_of(writer, 1)
    draft = Draft.objects.get()
    assert (draft.text, draft.filename, draft.label) == (SCRIPT, "slack.fountain", "For the read-through")


def test_pasted_text_becomes_a_draft_with_plain_line_ends(writer: Member, signed_in: SignIn) -> None:
    # Browsers send every line end of a form's text as CRLF (HTML, form submission).
    put_up(signed_in(writer), writer, text=SCRIPT.replace("\n", "\r\n"))
    draft = Draft.objects.get()
    assert (draft.text, draft.filename) == (SCRIPT, "")


def test_spaces_around_pasted_text_stay(writer: Member, signed_in: SignIn) -> None:
    text = "  \nINT. BOAT - DAY\n\nNothing but the sea.  \n\n"
    put_up(signed_in(writer), writer, text=text)
    assert Draft.objects.get().text == text


def test_the_text_of_the_current_draft_leads_to_it(writer: Member, signed_in: SignIn) -> None:
    client = signed_in(writer)
    put_up(client, writer, file=file())
    response = client.post(address(writer), {"text": SCRIPT}, follow=True)
    assert response.redirect_chain == [(report_of(writer, 1), 302)]
    assert "This is the very text of draft 1" in response.content.decode()
    assert Draft.objects.count() == 1


def test_the_text_of_an_earlier_draft_goes_up_again_once_the_writer_says_so(writer: Member, signed_in: SignIn) -> None:
    client = signed_in(writer)
    put_up(client, writer, file=file())
    put_up(client, writer, file=file(SCRIPT + "\nAnd out.\n"))
    asked = put_up(client, writer, text=SCRIPT)
    assert asked.status_code == 422
    assert "This is the very text of Draft 1, which is not the current draft." in wrong(asked)
    assert Draft.objects.count() == 2
    for _ in range(2):
        assert put_up(client, writer, text=SCRIPT, all_the_same="on")["Location"] == report_of(writer, 3)
    assert [draft.text == SCRIPT for draft in Draft.objects.all()] == [True, False, True]
    assert b"Draft 3" in client.get(reverse("drafts", args=[writer.production.public_id])).content


def test_a_form_sent_twice_makes_one_draft(writer: Member, signed_in: SignIn) -> None:
    client = signed_in(writer)
    locations = [put_up(client, writer, text=SCRIPT)["Location"] for _ in range(2)]
    assert locations == [report_of(writer, 1)] * 2
    assert Draft.objects.count() == 1


def test_the_colour_is_preset_to_the_next(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    client = signed_in(writer)
    shown = client.get(choose(client, writer, text=SCRIPT + "\nAnd out.\n")["Location"])
    assert preset(shown)["colour"] == "Blue"


def test_a_file_and_a_paste_together_ask_for_one(writer: Member, signed_in: SignIn) -> None:
    response = put_up(signed_in(writer), writer, file=file(), text="INT. BARN - DAY")
    assert response.status_code == 422
    assert "Choose one of the two" in wrong(response)
    assert "slack.fountain" in wrong(response)
    assert not Draft.objects.exists()


def test_neither_file_nor_paste_asks_for_one(writer: Member, signed_in: SignIn) -> None:
    response = put_up(signed_in(writer), writer, text=" \r\n ")
    assert response.status_code == 422
    assert "Choose a file, or paste" in wrong(response)


def test_no_file_that_is_sent_is_ever_put_on_the_disk(
    writer: Member, signed_in: SignIn, settings: Any, tmp_path: Path
) -> None:
    """Not even while it is read, where others could read it too: there is no folder for it."""
    settings.FILE_UPLOAD_TEMP_DIR = str(tmp_path / "nowhere")
    response = put_up(signed_in(writer), writer, file=file(b"\0" * MAXIMUM_BYTES))
    assert response.status_code == 422
    assert wrong(response)


@pytest.mark.parametrize(
    ("upload", "name"),
    [
        (b"", "empty.fountain"),
        (b"x" * (MAXIMUM_BYTES + 1), "large.fountain"),
        (b"%PDF-1.7\n\x00\x01", "script.pdf"),
        (b"PK\x03\x04" + bytes(40), "script.docx"),
        (bytes(range(256)) * 8, "noise.fountain"),
        (b"INT. BARN - DAY\n\n" * 3_001, "season.fountain"),
        (b"INT. BARN - DAY\n\n" + b"x" * 20_001, "paragraph.fountain"),
        (b"".join(b"GUARD %d\nYes.\n\n" % number for number in range(1_001)), "crowd.fountain"),
        (b"A B\n" * 10_003, "capitals.fountain"),
    ],
    ids=[
        *("empty", "over 4 MiB", "PDF", "word processor", "binary"),
        *("too many scenes", "too long a line", "too many characters", "too many warnings"),
    ],
)
def test_what_cannot_be_read_is_refused_with_a_sentence_and_the_form_as_it_was(
    writer: Member, signed_in: SignIn, upload: bytes, name: str
) -> None:
    response = put_up(signed_in(writer), writer, file=file(upload, name))
    assert response.status_code == 422
    assert wrong(response).count(".") >= 2
    assert name in wrong(response)
    assert not Draft.objects.exists()


def test_pasted_text_that_cannot_be_read_stays_in_the_form(writer: Member, signed_in: SignIn) -> None:
    pasted = "<!doctype html>\n<html><body><p>INT. BARN - DAY</p></body></html>\n"
    response = put_up(signed_in(writer), writer, text=pasted)
    assert response.status_code == 422
    assert wrong(response)
    area = BeautifulSoup(response.content, "html.parser").select_one("textarea")
    assert area is not None
    assert area.text.strip() == pasted.strip()


def test_a_null_character_in_pasted_text_gets_a_sentence(writer: Member, signed_in: SignIn) -> None:
    response = put_up(signed_in(writer), writer, text="INT. BARN - DAY\x00")
    assert response.status_code == 422
    assert wrong(response)


def test_a_paste_over_four_mebibytes_gets_a_sentence_and_stays(writer: Member, signed_in: SignIn) -> None:
    response = put_up(signed_in(writer), writer, text="x" * (MAXIMUM_BYTES + 1))
    assert response.status_code == 422
    assert "4 MiB" in wrong(response)


def test_a_paste_larger_than_the_server_takes_in_gets_a_sentence_too(
    writer: Member, signed_in: SignIn, settings: Any
) -> None:
    settings.DATA_UPLOAD_MAX_MEMORY_SIZE = 2000
    client = signed_in(writer)
    response = put_up(client, writer, text="x" * 3000)
    assert response.status_code == 422
    assert "4 MiB" in wrong(response)
    by_script = client.post(response.request["PATH_INFO"], {"text": "x" * 3000}, headers={"HX-Request": "true"})
    assert by_script.status_code == 413  # its form stays on the page as it is, with what was pasted


def test_an_unknown_colour_is_refused(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    assert put_up(signed_in(writer), writer, text=SCRIPT + "\nAnd out.\n", colour="mauve").status_code == 422
    assert Draft.objects.count() == 1


def test_a_first_draft_is_asked_for_no_colour_and_has_the_first(writer: Member, signed_in: SignIn) -> None:
    client = signed_in(writer)
    assert "colour" not in preset(client.get(choose(client, writer, text=SCRIPT)["Location"]))
    put_up(client, writer, text=SCRIPT)
    assert Draft.objects.get().colour == "White"


@pytest.mark.parametrize(
    ("upload", "text"),
    [
        ("ÉMILE waits.\n".encode("utf-16"), "ÉMILE waits.\n"),
        ("ÉMILE waits – there.\n".encode("cp1252"), "ÉMILE waits – there.\n"),
        (b"One.\r\nTwo.\rThree.\n", "One.\r\nTwo.\rThree.\n"),
        (b"Title: Alone\nAuthor: Ada Wren\n", "Title: Alone\nAuthor: Ada Wren\n"),
    ],
    ids=["UTF-16", "Windows-1252", "mixed line ends", "a title page alone"],
)
def test_odd_files_are_read_right(writer: Member, signed_in: SignIn, upload: bytes, text: str) -> None:
    client = signed_in(writer)
    response = put_up(client, writer, file=file(upload), all_the_same="on")
    assert Draft.objects.get().text == text
    assert client.get(response["Location"]).status_code == 200


TITLE_ALONE = "Title: Alone\nAuthor: Ada Wren\n"


@pytest.mark.parametrize(
    ("text", "sentence"),
    [(TITLE_ALONE, "a title page with nothing after it"), ("A letter to my aunt.\n", "No scene was found")],
    ids=["a title page alone", "no scene"],
)
def test_a_text_without_a_script_is_asked_about_before_it_is_up(
    writer: Member, signed_in: SignIn, text: str, sentence: str
) -> None:
    response = put_up(signed_in(writer), writer, file=file(text, "odd.txt"), label="Mine")
    assert response.status_code == 422
    assert sentence in wrong(response)
    page = BeautifulSoup(response.content, "html.parser")
    label, tick = (page.select_one(at) for at in ("#id_label", "input[name=all_the_same]"))
    assert label is not None
    assert label["value"] == "Mine"
    assert tick is not None
    assert not tick.has_attr("checked")
    assert not Draft.objects.exists()


def test_it_goes_up_all_the_same_once_the_writer_says_so(writer: Member, signed_in: SignIn) -> None:
    response = put_up(signed_in(writer), writer, text=TITLE_ALONE, all_the_same="on")
    assert response.status_code == 302
    assert Draft.objects.get().text == TITLE_ALONE


def test_a_text_that_would_lose_most_notes_is_asked_about(writer: Member, crew: Member, signed_in: SignIn) -> None:
    draft = make_draft(writer)
    for line in (6, 9, 17):
        make_note(crew, draft, line)
    other = "EXT. MOOR - DAY\n\nA fox crosses the whole width of the frame, unhurried.\n"
    response = put_up(signed_in(writer), writer, text=other)
    assert response.status_code == 422
    assert "3 of the 3 notes on Draft 1 would lose their lines" in wrong(response)
    assert Draft.objects.count() == 1


def test_a_text_that_keeps_most_notes_goes_up_without_a_tick(writer: Member, crew: Member, signed_in: SignIn) -> None:
    draft = make_draft(writer)
    for line in (6, 9, 17):
        make_note(crew, draft, line)
    assert put_up(signed_in(writer), writer, text=SCRIPT.replace("Mist. ", "Fog. ")).status_code == 302


def test_it_is_the_writers_alone(crew: Member, signed_in: SignIn) -> None:
    client = signed_in(crew)
    assert client.get(address(crew)).status_code == 403
    assert put_up(client, crew, file=file()).status_code == 403
    assert not Draft.objects.exists()


def test_it_is_not_there_for_a_stranger(writer: Member, signed_in: SignIn) -> None:
    stranger = make_member(make_production("Elsewhere"), role=Role.WRITER)
    assert put_up(signed_in(stranger), writer, file=file()).status_code == 404
    assert not Draft.objects.exists()


def test_a_post_without_the_forms_token_is_refused(writer: Member) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(writer.person, backend="allauth.account.auth_backends.AuthenticationBackend")
    assert put_up(client, writer, text=SCRIPT).status_code == 403
    assert not Draft.objects.exists()


def test_a_post_with_the_forms_token_is_taken(writer: Member) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(writer.person, backend="allauth.account.auth_backends.AuthenticationBackend")
    page = BeautifulSoup(client.get(address(writer)).content, "html.parser")
    token = page.select_one("form.upload input[name=csrfmiddlewaretoken]")
    assert token is not None
    assert is_shown(choose(client, writer, text=SCRIPT, csrfmiddlewaretoken=token["value"]))
