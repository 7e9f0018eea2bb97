"""The report of what was read in a draft."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

from bs4 import BeautifulSoup
from django.urls import reverse

from review.drafts.texts import hash_text
from review.notes.models import Audience
from review.publishing.acts import publish_draft, publish_working
from review.rewriting.acts import begin_working
from review.rewriting.scene_acts import save_scene
from screenplay.intake import read_bytes
from tests.factories import SCRIPT, make_draft, make_member, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]


def address(member: Member, number: int = 1) -> str:
    return reverse("draft-report", args=[member.production.public_id, number])


def page_of(client: Client, member: Member, number: int = 1) -> BeautifulSoup:
    response = client.get(address(member, number))
    assert response.status_code == 200
    return BeautifulSoup(response.content, "html.parser")


def words_of(page: BeautifulSoup, selector: str = "main") -> str:
    found = page.select_one(selector)
    return " ".join(found.get_text(" ").split()) if found else ""


def test_it_lists_the_scenes_with_who_speaks_and_how_long_they_are(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    page = page_of(signed_in(writer), writer)
    rows = [" ".join(row.get_text(" ").split()) for row in page.select(".scenes-table tbody tr")]
    assert rows == [
        "1 INT. BOATHOUSE - NIGHT NELL, TOBIAS 1 2/8",
        "2 EXT. SLIPWAY - DAWN NELL 1 1/8",
    ] or all(row.split()[0] == str(n) and "/8" in row for n, row in enumerate(rows, 1))
    assert "INT. BOATHOUSE - NIGHT NELL, TOBIAS" in rows[0]


def test_without_a_mail_server_it_has_a_message_that_tells_the_others_of_the_draft(
    writer: Member, crew: Member, signed_in: SignIn, settings: Any
) -> None:
    production = writer.production.public_id
    make_draft(writer)
    words = words_of(page_of(signed_in(writer), writer), "#by-hand-up")
    assert "Draft 1 of “Slack Water” is up. Read it here:" in words
    assert f"http://testserver{reverse('script', args=[production, 1])}" in words
    make_draft(writer, SCRIPT.replace("Mist.", "Fog."), number=2)
    assert words_of(page_of(signed_in(writer), writer), "#by-hand-up") == ""
    words = words_of(page_of(signed_in(writer), writer, 2), "#by-hand-up")
    assert f"http://testserver{reverse('change-sheet-mine', args=[production])}" in words
    assert words_of(page_of(signed_in(crew), crew, 2), "#by-hand-up") == ""
    settings.EMAIL_HOST = "mail.example.org"
    assert words_of(page_of(signed_in(writer), writer, 2), "#by-hand-up") == ""


def test_it_counts_speeches_and_words_for_each_character(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    words = words_of(page_of(signed_in(writer), writer), ".report-side")
    assert "NELL 2 7 2" in words
    assert "TOBIAS 1 5 1" in words


def test_it_shows_the_title_page(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    assert words_of(page_of(signed_in(writer), writer), ".title-page") == "Title Slack Water Author Ada Wren"


def test_it_shows_the_title_page_without_its_marks(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "Title:\n    _**Slack Water**_\n    a *film*\nAuthor: Ada \\*Wren\n\nINT. SHED - DAY\n")
    words = words_of(page_of(signed_in(writer), writer), ".title-page")
    assert words == "Title Slack Water a film Author Ada *Wren"


def test_characters_with_as_many_words_stand_in_the_order_of_the_voices(writer: Member, signed_in: SignIn) -> None:
    names = ["TOBIAS", "@iris", "NELL", "ADA"]
    make_draft(writer, "INT. SHED - DAY\n\n" + "".join(f"{name}\nNo.\n\n" for name in names))
    client = signed_in(writer)
    report = page_of(client, writer).select(".report-side tbody th")
    voices = client.get(reverse("voices", args=[writer.production.public_id, 1]) + "?sort=words")
    told = BeautifulSoup(voices.content, "html.parser").select(".voice-name")
    assert [" ".join(name.get_text().split()) for name in report] == ["ADA", "iris", "NELL", "TOBIAS"]
    assert [name.get_text() for name in told] == ["ADA", "iris", "NELL", "TOBIAS"]


def test_each_warning_has_its_line_the_rule_in_words_and_a_link(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "INT. BARN - DAY\n\nAn [[unclosed thought.\n")
    page = page_of(signed_in(writer), writer)
    remark = words_of(page, ".remark")
    assert remark.startswith("Line 3 Note inside the script An [[unclosed thought.")
    link = page.select_one(".remark a")
    assert link is not None
    assert link["href"] == reverse("script", args=[writer.production.public_id, 1]) + "#L3"


def test_a_reader_is_shown_no_line_of_the_source(writer: Member, crew: Member, signed_in: SignIn) -> None:
    make_draft(writer, "INT. BARN - DAY\n\nAn [[unclosed thought.\n")
    page = page_of(signed_in(crew), crew)
    assert not page.select(".remark")
    assert not page.select("a[download]")


def test_a_script_without_warnings_says_so(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    assert "None: every line was read without a doubt." in words_of(page_of(signed_in(writer), writer))


def test_a_text_without_scenes_or_speech_says_how_they_are_written(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "Only the sea, and the sea, and the sea.\n")
    words = words_of(page_of(signed_in(writer), writer))
    assert "No scenes were found." in words
    assert "Nobody speaks." in words


def test_it_says_how_the_text_came_in(writer: Member, signed_in: SignIn) -> None:
    publish_draft(writer, read_bytes(SCRIPT.replace("Mist.", "Mist – thick.").encode("cp1252")), filename="slack.txt")
    words = words_of(page_of(signed_in(writer), writer))
    assert "As the file slack.txt, 20 lines." in words
    assert "As Windows-1252." in words


def test_a_draft_that_was_written_here_says_so(writer: Member, signed_in: SignIn) -> None:
    working = begin_working(writer, make_draft(writer), uuid.uuid4())
    scene = working.scenes.get(ordinal=1)
    save_scene(writer, scene, scene.text.replace("one lamp", "no light"), 1, uuid.uuid4())
    publish_working(writer, working, "", "", {}, hash_text(working.joined_text()))
    came_in = words_of(page_of(signed_in(writer), writer, 2), "[aria-labelledby=source]")
    assert came_in == "How it came in Written here, going on from Draft 1: 20 lines. Download it"


def test_the_next_draft_says_what_became_of_the_notes(writer: Member, crew: Member, signed_in: SignIn) -> None:
    first, _ = publish_draft(writer, read_bytes(SCRIPT.encode()))
    make_note(crew, first, first_line=6)
    make_note(crew, first, first_line=17)
    publish_draft(writer, read_bytes(SCRIPT.replace("Mist. The skiff is gone.\n", "").encode()))
    fates = words_of(page_of(signed_in(writer), writer, 2), ".fates")
    assert fates == "1 kept 0 moved 0 reworded 1 gone"


def test_what_became_of_the_notes_is_told_since_the_draft_before(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    first, _ = publish_draft(writer, read_bytes(SCRIPT.encode()))
    for line in (6, 9, 17):
        make_note(crew, first, line)
    changed = SCRIPT.replace("Mist. The skiff is gone.\n", "").replace("Tide turns", "The tide turns")
    publish_draft(writer, read_bytes(changed.encode()))
    publish_draft(writer, read_bytes((changed + "\nAnd out.\n").encode()))
    told = words_of(page_of(signed_in(writer), writer, 3), ".report-fates")
    assert "What became of the notes since draft 2" in told
    assert "2 kept 0 moved 0 reworded 0 gone" in told
    assert "1 more was gone before." in told


def test_notes_that_a_reader_may_not_see_are_not_counted(
    writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    first, _ = publish_draft(writer, read_bytes(SCRIPT.encode()))
    make_note(crew, first, audience=Audience.WRITER)
    publish_draft(writer, read_bytes((SCRIPT + "\nAnd out.\n").encode()))
    assert words_of(page_of(signed_in(cast), cast, 2), ".fates") == ""
    page = page_of(signed_in(crew), crew, 2)
    assert words_of(page, ".fates") == "1 kept 0 moved 0 reworded 0 gone"
    assert page.select_one(".fate-gone") is None, "none is gone, so nothing warns"


def test_only_the_writer_is_led_to_inviting_people(writer: Member, crew: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    assert "Invite people" in words_of(page_of(signed_in(writer), writer), ".head")
    assert "Invite people" not in words_of(page_of(signed_in(crew), crew), ".head")


def test_a_script_with_markup_in_it_is_shown_as_text(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "Title: <script>alert(1)</script>\n\nINT. <b>BARN</b> - DAY\n\nQuiet.\n")
    page = page_of(signed_in(writer), writer)
    assert "<script>alert(1)</script>" in words_of(page, ".title-page")
    assert not page.select("main b")


def test_a_draft_that_is_not_there_is_not_found(writer: Member, signed_in: SignIn) -> None:
    assert signed_in(writer).get(address(writer)).status_code == 404


def test_it_is_not_there_for_a_stranger(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    stranger = make_member(make_production("Elsewhere"))
    assert signed_in(stranger).get(address(writer)).status_code == 404


def test_it_rejects_post(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer)
    assert signed_in(writer).post(address(writer)).status_code == 405
