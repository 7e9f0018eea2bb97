"""Printing a draft: its PDF, one character's sides, whose name stands on them, and what the log keeps."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from review.decisions.acts import decide
from review.log import Act
from review.notes.models import Audience, Fate
from review.people.models import Department
from review.printing.acts import print_draft
from review.productions.models import PaperChoice, Production
from screenplay import PaperSize
from tests.factories import SCRIPT, make_draft, make_member, make_note, make_production
from tests.pdf import properties, sheets
from tests.review.locked_film import GROWN, lock_all, put_up

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


def address(name: str, member: Member, number: int = 1) -> str:
    return reverse(name, args=[member.production.public_id, number])


def pdf(client: Client, member: Member, number: int = 1, **asked: Any) -> bytes:
    response = client.get(address("draft-pdf", member, number), asked)
    assert response.status_code == 200
    assert response["Content-Type"] == "application/pdf"
    return response.content


def words(data: bytes) -> str:
    return "\n".join("\n".join(page.lines) for page in sheets(data))


@pytest.fixture
def reader(crew: Member, signed_in: SignIn) -> Client:
    return signed_in(crew)


def test_it_has_the_draft_s_pages_under_its_label_colour_and_date(draft: Draft, crew: Member, reader: Client) -> None:
    data = pdf(reader, crew)
    title, page = sheets(data)
    assert [line.strip() for line in title.lines if line] == ["Slack Water", "Ada Wren"]
    assert page.lines[0] == "INT. BOATHOUSE - NIGHT"
    day = f"{draft.created_at.day} {draft.created_at:%B %Y}"
    assert page.head == [f"Draft 1 · White · {day}"]
    assert properties(data)["Title"] == "Slack Water: Draft 1"
    assert properties(data)["Lang"] == "en-gb"


def test_it_comes_as_a_file_that_nothing_keeps(writer: Member, crew: Member, reader: Client) -> None:
    make_draft(writer, label="After the read")
    response = reader.get(address("draft-pdf", crew))
    assert response["Content-Disposition"] == 'attachment; filename="slack-water-draft-1-after-the-read.pdf"'
    assert response["Cache-Control"] == "private, no-store"


@pytest.mark.usefixtures("draft")
def test_a_member_s_copy_has_their_name_across_each_page(crew: Member, reader: Client) -> None:
    assert [page.slanted for page in sheets(pdf(reader, crew, notes="on"))] == ["Bo Finch"] * 3


@pytest.mark.usefixtures("draft")
@pytest.mark.parametrize(
    ("name", "across"),
    [
        ("Ольга Волкова", "Ольга Волкова"),  # the second face has Cyrillic
        ("Γιώργος Zoë", "Γιώργος Zoë"),
        ("김민준", "GimMinJun"),  # spelled out, as in the Republic of Korea's romanisation of 2000, from memory
        ("山田", "ShanTian"),
        ("", "Camera, crew"),
        ("bo.finch@example.org", "bo.finch"),
        ("Bo Finch <bo@example.org>", "Bo Finch <bo"),
        ("@", "Camera, crew"),
    ],
)
def test_a_name_stands_in_letters_that_there_are_and_an_address_never(
    crew: Member, reader: Client, name: str, across: str
) -> None:
    crew.person.name = name
    crew.person.save()
    page = sheets(pdf(reader, crew))[0]
    assert page.slanted.replace(" ", "") == across.replace(" ", "")
    assert "@" not in page.slanted


def test_the_log_keeps_who_took_a_copy_of_what(draft: Draft, crew: Member, reader: Client) -> None:
    pdf(reader, crew, paper="a4", notes="on")
    act = Act.objects.get(verb=Act.Verb.PRINTED_DRAFT)
    assert (act.person, act.production, act.about) == (crew.person, crew.production, draft.public_id)
    assert act.details == {"number": 1, "paper": "A4", "notes": True, "for_writers": False}


@pytest.mark.usefixtures("draft")
def test_paper_and_scene_numbers_are_as_the_address_asks(crew: Member, reader: Client) -> None:
    asked = sheets(pdf(reader, crew, paper="a4", scene_numbers="on"))[1]
    assert asked.height == pytest.approx(841.89, abs=0.01)
    assert list(asked.left_margin.values()) == ["1", "2"]
    plain = sheets(pdf(reader, crew))[1]
    assert (plain.height, plain.left_margin) == (792, {})


@pytest.mark.usefixtures("draft")
def test_paper_that_there_is_not_is_asked_for_again_and_nothing_is_logged(crew: Member, reader: Client) -> None:
    response = reader.get(address("draft-pdf", crew), {"paper": "papyrus"})
    assert response.status_code == 422
    assert "papyrus is not one of the available choices" in response.text
    assert not Act.objects.filter(verb=Act.Verb.PRINTED_DRAFT).exists()


def test_open_notes_are_listed_in_script_order(draft: Draft, writer: Member, crew: Member, reader: Client) -> None:
    make_note(crew, draft, 17, body="Is it *foggy* & cold?", wording="Fog.")
    make_note(writer, draft, 9, body="Four, or five?")
    text = words(pdf(reader, crew, notes="on"))
    after = text[text.index("2 open notes") :].splitlines()
    assert after[2:4] == ["Notes for the writer’s eyes only are left out.", ""]
    assert after[4:] == [
        "1.   Page 1, scene 1: problem",
        "     “Tide turns at four.”",
        "     Four, or five?",
        "     – Ada Wren, Writing",
        "",
        "2.   Page 1, scene 2: problem",
        "     “Mist. The skiff is gone.”",
        "     Is it foggy & cold?",
        "     In their place:",
        "        Fog.",
        "     – Bo Finch, Camera",
    ]


def test_decided_withdrawn_and_unasked_for_notes_are_not_listed(
    draft: Draft, writer: Member, crew: Member, reader: Client
) -> None:
    decided = make_note(crew, draft, 6, body="Settled thing.")
    decide(writer, decided, "accepted", "Yes.", 0, uuid.uuid4())
    withdrawn = make_note(crew, draft, 6, body="Unkind thing.")
    withdrawn.withdrawn_at = withdrawn.created_at
    withdrawn.save()
    make_note(crew, draft, 6, body="Open thing.")
    assert "thing" not in words(pdf(reader, crew))
    listed = words(pdf(reader, crew, notes="on"))
    assert "Open thing." in listed
    assert "Settled thing." not in listed
    assert "Unkind thing." not in listed


def test_a_note_for_the_writer_alone_is_in_nobody_else_s_copy(
    draft: Draft, writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    make_note(crew, draft, 9, body="The lamp frightens me.", audience=Audience.WRITER)
    for member in (crew, writer):
        listed = words(pdf(signed_in(member), member, notes="on", for_writers_too="on"))
        assert "The lamp frightens me." in listed
        assert "Notes for the writer’s eyes only are among these." in listed
    assert "There are none." in words(pdf(signed_in(cast), cast, notes="on", for_writers_too="on"))


def test_a_note_quotes_the_words_on_the_page_and_nothing_that_is_hidden_in_the_source(
    writer: Member, crew: Member, reader: Client
) -> None:
    text = SCRIPT.replace("He didn't wait.", "He *didn't* [[or did he?]] wait.\n\n= He drowns.\n\nNobody comes.")
    first = make_draft(writer, text)
    lines = text.splitlines()
    said, last = lines.index("He *didn't* [[or did he?]] wait.") + 1, lines.index("Nobody comes.") + 1
    make_note(crew, first, said, last, body="Whole.")
    make_note(crew, first, said, body="Part.", first_char=3, last_char=len("He *didn't*"), quoted="*didn't*")
    second = make_draft(writer, SCRIPT, 2)
    for note in first.notes.all():
        note.placements.create(draft=second, fate=Fate.GONE)
    for number in (1, 2):
        listed = words(pdf(reader, crew, number=number, notes="on"))
        assert "“He didn't wait. Nobody comes.”" in listed
        assert "“didn't”" in listed
        assert "or did he" not in listed
        assert "drowns" not in listed


def test_notes_are_listed_where_they_stand_in_the_draft_that_is_printed(
    draft: Draft, writer: Member, crew: Member, reader: Client
) -> None:
    second = make_draft(writer, SCRIPT.replace("NELL mends", "Rain.\n\nNELL mends"), 2)
    moved = make_note(crew, draft, 6, body="Moved down.")
    moved.placements.create(draft=second, fate=Fate.MOVED, first_line=8, first_char=0, last_line=8, last_char=29)
    gone = make_note(crew, draft, 15, body="Cut away.")
    gone.placements.create(draft=second, fate=Fate.GONE)
    make_note(crew, second, 6, body="Why rain?")
    lines = words(pdf(reader, crew, number=2, notes="on")).splitlines()
    notes = [line.strip() for line in lines[lines.index("3 open notes") :]]
    assert [line for line in notes if line in {"Why rain?", "Moved down.", "Cut away."}] == [
        "Why rain?",
        "Moved down.",
        "Cut away.",
    ]
    assert "3.   Its lines are gone: problem" in lines
    assert "Why rain?" not in words(pdf(reader, crew, number=1, notes="on"))


def test_sides_are_one_character_s_pages_under_the_member_s_name(draft: Draft, crew: Member, reader: Client) -> None:
    response = reader.get(address("draft-sides", crew), {"character": "TOBIAS", "paper": "a4"})
    (page,) = sheets(response.content)
    assert page.head[0] == "Sides: TOBIAS"
    assert page.slanted == "Bo Finch"
    assert response["Content-Disposition"] == 'attachment; filename="slack-water-draft-1-sides-tobias.pdf"'
    act = Act.objects.get(verb=Act.Verb.PRINTED_SIDES)
    assert act.details == {"number": 1, "paper": "A4", "character": "TOBIAS"}
    assert act.about == draft.public_id


@pytest.mark.usefixtures("draft")
@pytest.mark.parametrize(("asked", "status"), [({}, 422), ({"character": "NOBODY"}, 422), ({"character": "\0"}, 400)])
def test_sides_of_nobody_are_asked_for_again(crew: Member, reader: Client, asked: dict[str, str], status: int) -> None:
    response = reader.get(address("draft-sides", crew), asked)
    assert response.status_code == status
    assert not Act.objects.filter(verb=Act.Verb.PRINTED_SIDES).exists()


def test_paper_blank_lines_and_language_are_the_production_s_unless_asked_otherwise(
    draft: Draft, crew: Member, reader: Client
) -> None:
    Production.objects.update(paper=PaperChoice.A4, blank_lines_before_heading=1, language="nb")
    page = reader.get(address("draft-print", crew)).text
    assert "1 page on A4" in " ".join(page.split())
    checked = BeautifulSoup(page, "html.parser").select("input[name=paper][checked]")
    assert [radio["value"] for radio in checked] == ["a4", "a4"]
    data = pdf(reader, crew)
    sheet = sheets(data)[1]
    assert round(sheet.height) == 842  # points: ISO 216, 297 mm
    assert sheet.lines.index("EXT. SLIPWAY - DAWN") == sheet.lines.index("          Then we go at three.") + 2
    assert properties(data)["Lang"] == "nb"
    assert round(sheets(pdf(reader, crew, paper="letter"))[1].height) == 792  # 11 in


@pytest.mark.usefixtures("draft")
def test_scene_numbers_are_preset_once_they_are_locked(crew: Member, reader: Client) -> None:
    def preset() -> int:
        page = BeautifulSoup(reader.get(address("draft-print", crew)).text, "html.parser")
        return len(page.select("input[name=scene_numbers][checked]"))

    assert preset() == 0
    Production.objects.update(scene_numbers_locked_at=timezone.now())
    assert preset() == 2


@pytest.mark.usefixtures("draft")
def test_the_page_offers_both_and_the_drafts_screen_leads_to_it(crew: Member, reader: Client) -> None:
    page = reader.get(address("draft-print", crew)).text
    assert f'action="{address("draft-pdf", crew)}"' in page
    assert f'action="{address("draft-sides", crew)}"' in page
    assert '<option value="TOBIAS">TOBIAS</option>' in page
    assert address("draft-print", crew) in reader.get(reverse("drafts", args=[crew.production.public_id])).text


def test_a_draft_in_which_nobody_speaks_offers_no_sides(writer: Member, crew: Member, reader: Client) -> None:
    make_draft(writer, "EXT. SLIPWAY - DAWN\n\nMist.\n")
    assert "Nobody speaks in this draft" in reader.get(address("draft-print", crew)).text


@pytest.mark.parametrize("name", ["draft-print", "draft-pdf", "draft-sides"])
def test_it_is_not_there_for_a_stranger(draft: Draft, signed_in: SignIn, crew: Member, name: str) -> None:
    stranger = make_member(make_production("Elsewhere"), Role.CREW, Department.ART)
    assert signed_in(stranger).get(address(name, crew), {"character": "NELL"}).status_code == 404
    assert not Act.objects.filter(about=draft.public_id).exists()


@pytest.mark.usefixtures("draft")
def test_asking_for_headers_alone_takes_no_copy(crew: Member, reader: Client) -> None:
    assert reader.head(address("draft-print", crew)).status_code == 200
    assert reader.head(address("draft-pdf", crew)).status_code == 405
    assert reader.head(address("draft-sides", crew), {"character": "NELL"}).status_code == 405
    assert not Act.objects.filter(verb__in=[Act.Verb.PRINTED_DRAFT, Act.Verb.PRINTED_SIDES]).exists()


def test_locked_pages_are_printed_on_their_own_paper_alone(writer: Member, crew: Member, signed_in: SignIn) -> None:
    put_up(writer, GROWN)
    lock_all(writer)
    client = signed_in(crew)
    page = client.get(reverse("draft-print", args=[crew.production.public_id, 1])).content
    shown = BeautifulSoup(page, "html.parser").get_text()  # without the tokens of its forms, which may hold an A4
    assert "On US Letter" in shown
    assert "A4" not in shown
    for name in ("draft-pdf", "draft-sides"):
        answer = client.get(reverse(name, args=[crew.production.public_id, 1]), {"paper": "a4", "character": "NELL"})
        assert answer.status_code == 422
        assert "The pages of this draft are locked on US Letter" in answer.content.decode()
    text = signed_in(writer).get(reverse("draft-text", args=[crew.production.public_id, 1]), {"paper": "a4"})
    assert (text.status_code, "locked on US Letter" in text.content.decode()) == (422, True)
    with pytest.raises(ValueError, match="on the paper alone"):
        print_draft(crew, writer.production.drafts.get(), PaperSize.A4, scene_numbers=False, with_notes=False)
