"""What changed between two drafts for one department or one character, on a screen and as a PDF."""

from __future__ import annotations

import io
import uuid
from pathlib import Path
from typing import TYPE_CHECKING

import pdfplumber
import pytest
from bs4 import BeautifulSoup, Tag
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from review import demo
from review.access import Role
from review.changes.change_sheets import change_sheets
from review.changes.department_rules import EVERYTHING
from review.changes.reading_order import changes_between
from review.decisions.acts import decide
from review.log import Act
from review.notes.models import Audience, Subject
from review.people.models import Department
from review.publishing.acts import publish_draft
from review.rewriting.wording_models import WrittenIn
from screenplay.intake import read_bytes
from tests.factories import make_member, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

OLD = """INT. BOATHOUSE - NIGHT

NELL mends a net by one lamp.

NELL
Tide turns at four.

EXT. MEADOW - DAWN

Rain. The gate is open. Nell looks for him.

EXT. CHURCH - DAY

TOBIAS
Grant them rest.

A choir sings.
"""
NEW = (
    OLD.replace("NELL mends a net by one lamp.", "NELL mends a net by one lamp, on the ladder, with a knife.")
    .replace("EXT. MEADOW - DAWN", "EXT. MEADOW - NIGHT")
    .replace("A choir sings.", "The choir sings louder.")
    .replace("Grant them rest.", "Grant them all rest.")
)


def publish(writer: Member, *texts: str) -> list[Draft]:
    return [publish_draft(writer, read_bytes(text.encode()))[0] for text in texts]


def address(member: Member, whose: str, name: str = "change-sheet") -> str:
    return reverse(name, args=[member.production.public_id, 1, 2, whose])


def sheet_of(client: Client, member: Member, whose: str, **asked: str) -> BeautifulSoup:
    response = client.get(address(member, whose), asked)
    assert response.status_code == 200
    return BeautifulSoup(response.content, "html.parser")


def words_of(page: Tag) -> str:
    return " ".join(page.get_text(" ").split())


def scenes_of(page: BeautifulSoup) -> list[str]:
    return [" ".join(heading.get_text(" ").split()) for heading in page.select(".sheet-scene h2")]


def written_in(note: Note, writer: Member, draft: Draft) -> None:
    decision = decide(writer, note, "accepted", "So it shall be.", 0, uuid.uuid4())
    WrittenIn.objects.create(decision=decision, draft=draft, said_by=writer)


def read_pdf(data: bytes) -> str:
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        level = [
            page.filter(lambda part: part.get("matrix", (1, 0))[1] == 0) for page in pdf.pages
        ]  # the name stands aslant
        return " ".join(" ".join(page.extract_text() or "" for page in level).split())


@pytest.mark.parametrize(
    ("whose", "scenes"),
    [
        ("stunts", ["1 INT. BOATHOUSE - NIGHT"]),
        ("music", ["3 EXT. CHURCH - DAY"]),
        ("camera", ["1 INT. BOATHOUSE - NIGHT", "2 EXT. MEADOW - NIGHT"]),
        ("production", ["1 INT. BOATHOUSE - NIGHT", "2 EXT. MEADOW - NIGHT", "3 EXT. CHURCH - DAY"]),
        ("cast", ["1 INT. BOATHOUSE - NIGHT", "3 EXT. CHURCH - DAY"]),
        ("nell", ["1 INT. BOATHOUSE - NIGHT", "2 EXT. MEADOW - NIGHT"]),
        ("tobias", ["3 EXT. CHURCH - DAY"]),
    ],
)
def test_each_sheet_has_the_changed_scenes_that_concern_its_reader(
    writer: Member, signed_in: SignIn, whose: str, scenes: list[str]
) -> None:
    publish(writer, OLD, NEW)
    assert scenes_of(sheet_of(signed_in(writer), writer, whose)) == scenes


def test_a_sheet_says_why_each_scene_is_on_it_and_what_changed(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    page = words_of(sheet_of(signed_in(writer), writer, "stunts"))
    assert "Caution, weapons and gunfire, new in the scene: knife." in page
    assert "Caution, falls and heights, new in the scene: ladder." in page
    assert "on the ladder, with a knife" in page
    assert "It was dawn and is night." in words_of(sheet_of(signed_in(writer), writer, "lighting"))


def test_a_sheet_says_that_a_place_is_gone_only_where_no_scene_is_played_there(
    writer: Member, signed_in: SignIn
) -> None:
    again = "\nEXT. MEADOW - DAY\n\nSheep, and TOBIAS among them.\n\nTOBIAS\nCome by.\n"
    publish(
        writer,
        OLD + again,
        OLD,
        OLD.replace("EXT. MEADOW - DAWN\n\nRain. The gate is open. Nell looks for him.\n\n", ""),
    )
    client = signed_in(writer)
    first = words_of(sheet_of(client, writer, "locations"))
    assert "The scene is cut. Was played at MEADOW, where other scenes still are." in first
    later = client.get(reverse("change-sheet", args=[writer.production.public_id, 2, 3, "locations"])).text
    assert "No longer played at MEADOW." in later


def test_a_sheet_says_which_words_of_a_caution_were_taken_out(writer: Member, signed_in: SignIn) -> None:
    before = OLD.replace("one lamp.", "one lamp, a knife by her.\n\nA pistol hangs on the wall.")
    publish(writer, before, before.replace(", a knife by her", ""), OLD)
    client = signed_in(writer)
    first = words_of(sheet_of(client, writer, "stunts"))
    assert "Caution, weapons and gunfire, in lines that did not change: pistol. Taken out: knife." in first
    later = client.get(reverse("change-sheet", args=[writer.production.public_id, 2, 3, "stunts"])).text
    assert "Caution, weapons and gunfire, no longer in the scene, its words taken out: pistol." in later


VAN = """INT. VAN - NIGHT

A shotgun lies across the seat.

DENNIS
Lovely spot for it.

"""
TOWPATH = """EXT. TOWPATH - DAY

Ola ties the rope.

OLA
There is always a man.

OLA
And he always has a van.
"""
FOLDED = TOWPATH.replace("Ola ties", f"{VAN.partition(chr(10) * 2)[2]}Ola ties")


def test_what_came_along_with_a_scene_that_is_part_of_another_is_not_told_as_new(
    writer: Member, signed_in: SignIn
) -> None:
    publish(writer, VAN + TOWPATH, FOLDED)
    client = signed_in(writer)
    everything = words_of(sheet_of(client, writer, "production"))
    assert "What was scene 1, INT. VAN - NIGHT, is part of it now." in everything
    assert "Came along with scene 1: DENNIS." in everything
    assert "Caution, weapons and gunfire, came along with scene 1: shotgun." in everything
    for untrue in ("Speaking here now", "new in the scene", "It was INT.", "It was night"):
        assert untrue not in everything
    places = words_of(sheet_of(client, writer, "locations"))
    assert "What came from scene 1 was played at VAN, where no scene is any more." in places
    assert "What came from scene 1 was INT. and is EXT." in places
    assert "What came from scene 1 was night and is day." in places


def test_each_speech_is_told_once_and_one_that_is_no_longer_theirs_is_said_to_be_whose(
    writer: Member, signed_in: SignIn
) -> None:
    cut = TOWPATH.replace("\nOLA\nAnd he always has a van.\n", "")
    given = (VAN + TOWPATH).replace("OLA\nThere", "DENNIS\nThere").replace("OLA\nAnd", "And")
    publish(writer, VAN + TOWPATH, VAN + cut)
    client = signed_in(writer)
    assert "OLA speaks here. Speeches: one cut." in words_of(sheet_of(client, writer, "ola"))
    publish(writer, VAN + TOWPATH.replace("ties", "knots"), given)
    theirs = client.get(reverse("change-sheet", args=[writer.production.public_id, 3, 4, "ola"])).text
    assert "OLA no longer speaks here. Speeches: one now DENNIS’s, one now action." in words_of(
        BeautifulSoup(theirs, "html.parser")
    )
    pdf = client.get(reverse("change-sheet-pdf", args=[writer.production.public_id, 3, 4, "ola"])).content
    assert "(Now action; it was said by OLA.)" in read_pdf(pdf)


@pytest.mark.parametrize("whose", ["costume", "cast", "production"])
def test_intimacy_is_never_told_of_a_scene_with_children_without_telling_of_them(
    writer: Member, signed_in: SignIn, whose: str
) -> None:
    publish(writer, OLD, OLD.replace("one lamp.", "one lamp. A small boy waits. They kiss."))
    page = words_of(sheet_of(signed_in(writer), writer, whose))
    assert "Caution, intimacy, new in the scene: kiss." in page
    assert "Caution, children, new in the scene: boy." in page


@pytest.mark.parametrize("whose", ["stunts", "production", "nell", "editing"])
def test_wherever_cautions_are_shown_so_is_what_they_are_not(writer: Member, signed_in: SignIn, whose: str) -> None:
    publish(writer, OLD, NEW)
    client = signed_in(writer)
    told = [
        words_of(sheet_of(client, writer, whose)),
        read_pdf(client.get(address(writer, whose, "change-sheet-pdf")).content),
    ]
    for text in told:
        for sense in ("list of words", "not a risk assessment", "can miss things", "competent person", "permits"):
            assert sense in text


def test_a_scene_whose_cautions_did_not_change_is_listed_shortly_with_its_page_and_its_words(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    before = OLD.replace("one lamp.", "one lamp.\n\nA knife lies on the sill.")
    [first] = publish(writer, before)
    make_note(crew, first, first_line=3, body="A second lamp?")
    publish(writer, before.replace("NELL mends a net", "NELL folds a net").replace("gate is open", "stable is on fire"))
    client = signed_in(writer)
    page = sheet_of(client, writer, "stunts")
    assert scenes_of(page) == ["2 EXT. MEADOW - DAWN"]
    listed = [words_of(each) for each in page.select(".sheet-mentions li")]
    assert listed == ["1 INT. BOATHOUSE - NIGHT , page 1 Weapons and gunfire: knife"]
    assert "A second lamp?" not in words_of(page)
    printed = read_pdf(client.get(address(writer, "stunts", "change-sheet-pdf")).content)
    assert "did not change itself: 1 INT. BOATHOUSE - NIGHT, page 1 Weapons and gunfire: knife" in printed
    assert "folds" not in printed


def test_the_unchanged_cautions_of_a_whole_script_are_a_list_on_one_page(writer: Member, signed_in: SignIn) -> None:
    scene = "INT. ROOM {0} - DAY\n\nMARA has a knife by her.\n\nShe {1}.\n\n" + "Nothing stirs in the street.\n\n" * 6
    scripts = ["".join(scene.format(each, word) for each in range(1, 17)) for word in ("sits", "stands")]
    publish(writer, *scripts)
    data = signed_in(writer).get(address(writer, "stunts", "change-sheet-pdf")).content
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert len(pdf.pages) == 1
    text = read_pdf(data)
    assert [each for each in range(1, 17) if f"{each} INT. ROOM {each} - DAY, page" not in text] == []


def test_every_changed_scene_is_on_the_sheets_of_those_who_answer_for_the_whole_film(writer: Member) -> None:
    folder = Path(demo.__file__).parent
    names = ("first-draft.fountain", "second-draft.fountain")
    old, new = publish(writer, *((folder / name).read_text(encoding="utf-8") for name in names))
    told = changes_between(old, new, with_source=False).told_scenes
    assert len(told) > 20
    for sheet in change_sheets(old, new, []):
        if sheet.whose.department in EVERYTHING:
            assert [entry.scene for entry in sheet.entries] == told


def test_a_department_finds_its_own_notes_though_nothing_else_concerns_it(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    [first] = publish(writer, OLD)
    make_note(crew, first, first_line=13, body="Can she be behind glass?")
    publish(writer, NEW)
    page = sheet_of(signed_in(crew), crew, "camera")
    assert "3 EXT. CHURCH - DAY" in scenes_of(page)
    assert "One of your notes." in words_of(page)
    assert "Can she be behind glass?" in words_of(page)
    assert "One note from Camera." in words_of(sheet_of(signed_in(writer), writer, "camera"))


def test_a_character_s_sheet_tells_the_reader_s_notes_from_others_and_from_those_about_the_character(
    writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    cast.character = "Tobias"
    cast.save()
    [first] = publish(writer, OLD)
    for line in (14, 15):
        make_note(cast, first, first_line=line)
    make_note(crew, first, first_line=14, subject=Subject.CHARACTER, character="TOBIAS")
    publish(writer, NEW)
    own = words_of(sheet_of(signed_in(cast), cast, "tobias"))
    assert "2 of your notes. One note about TOBIAS." in own
    others = words_of(sheet_of(signed_in(writer), writer, "tobias"))
    assert f"2 notes from {cast.name}. One note about TOBIAS." in others


def test_a_note_left_on_the_newer_draft_is_on_no_sheet_of_what_came_before_it(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    _, second = publish(writer, OLD, NEW)
    make_note(crew, second, first_line=15, body="What psalm is it?")
    publish(writer, NEW.replace("all rest", "all their rest"))
    assert "What psalm is it?" not in words_of(sheet_of(signed_in(crew), crew, "camera"))
    later = signed_in(crew).get(reverse("change-sheet", args=[crew.production.public_id, 2, 3, "camera"]))
    assert "What psalm is it?" in later.text


def test_a_sheet_of_a_department_that_nothing_concerns_says_so_in_words(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, OLD.replace("A choir sings.", "A choir waits."))
    page = words_of(sheet_of(signed_in(writer), writer, "special-effects"))
    assert "No changed scene seems to concern them." in page
    assert "0 scenes" not in page


def test_a_note_that_the_draft_answers_is_told_as_answered(writer: Member, crew: Member, signed_in: SignIn) -> None:
    [first] = publish(writer, OLD)
    note = make_note(crew, first, first_line=3, body="More danger here.")
    [second] = publish(writer, NEW)
    written_in(note, writer, second)
    assert "Answers Bo Finch’s note: More danger here." in words_of(sheet_of(signed_in(writer), writer, "stunts"))
    assert "Answers your note: More danger here." in words_of(sheet_of(signed_in(crew), crew, "camera"))


def test_a_note_for_the_writer_is_on_nobody_else_s_sheet(
    writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    [first] = publish(writer, OLD)
    make_note(crew, first, first_line=17, body="He cannot act.", audience=Audience.WRITER)
    publish(writer, NEW)
    for member, seen in ((writer, True), (crew, True), (cast, False)):
        client = signed_in(member)
        for whose in ("camera", "production"):
            told = words_of(sheet_of(client, member, whose, for_writers_too="on"))
            printed = read_pdf(
                client.get(address(member, whose, "change-sheet-pdf"), {"for_writers_too": "on"}).content
            )
            assert ["He cannot act." in text for text in (told, printed)] == [seen, seen], (member, whose)
        with_them = sheet_of(client, member, "camera", for_writers_too="on")
        assert ("3 EXT. CHURCH - DAY" in scenes_of(with_them)) == seen
        assert "3 EXT. CHURCH - DAY" not in scenes_of(sheet_of(client, member, "camera"))


def test_the_cast_open_the_sheet_of_whom_they_play_everyone_else_their_department_s(
    writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    cast.character = "Nell"
    cast.save()
    publish(writer, OLD, NEW)
    mine = [
        signed_in(member).get(reverse("change-sheet-mine", args=[member.production.public_id]), follow=True)
        for member in (crew, cast)
    ]
    assert [response.redirect_chain[-1][0] for response in mine] == [address(crew, "camera"), address(cast, "nell")]


def test_one_of_the_cast_who_plays_nobody_yet_opens_the_sheet_of_the_cast(
    writer: Member, cast: Member, signed_in: SignIn
) -> None:
    publish(writer, OLD, NEW)
    response = signed_in(cast).get(reverse("change-sheets", args=[cast.production.public_id, 1, 2]))
    assert response["Location"] == address(cast, "cast")


def test_with_one_draft_there_is_no_sheet_yet(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD)
    response = signed_in(writer).get(reverse("change-sheet-mine", args=[writer.production.public_id]), follow=True)
    assert "Nothing to compare yet" in response.text


def test_any_sheet_can_be_asked_for_and_one_that_is_not_there_does_not_exist(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    client = signed_in(writer)
    asked = reverse("change-sheets", args=[writer.production.public_id, 1, 2])
    assert client.get(f"{asked}?whose=special-effects")["Location"] == address(writer, "special-effects")
    assert client.get(f"{asked}?whose=nobody")["Location"] == address(writer, "writing")
    for name in ("change-sheet", "change-sheet-pdf"):
        assert client.get(address(writer, "nobody", name)).status_code == 404


def test_a_character_who_left_or_was_renamed_has_one_sheet(writer: Member, signed_in: SignIn) -> None:
    old = OLD + "\nTOBIAS\nAmen.\n\nNELL\nSo be it.\n"
    new = old.replace("TOBIAS", "ANSELM").replace("NELL\nTide turns at four.\n\n", "").replace("NELL\nSo be it.\n", "")
    publish(writer, old, new)
    client = signed_in(writer)
    assert client.get(address(writer, "tobias")).status_code == 404
    assert "3 EXT. CHURCH - DAY" in scenes_of(sheet_of(client, writer, "anselm"))
    assert "1 INT. BOATHOUSE - NIGHT" in scenes_of(sheet_of(client, writer, "nell"))


def test_a_sheet_tells_what_prints_to_writers_too(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW.replace("louder.", "louder. [[Too loud?]]") + "\n/* He weeps. */\n")
    page = words_of(sheet_of(signed_in(writer), writer, "writing"))
    assert "louder" in page
    assert "Too loud?" not in page
    assert "weeps" not in page


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


def test_asking_for_headers_takes_no_copy(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    assert signed_in(writer).head(address(writer, "stunts", "change-sheet-pdf")).status_code == 405
    assert not Act.objects.filter(verb=Act.Verb.PRINTED_SHEET).exists()


def test_it_takes_as_many_queries_for_fifty_notes_as_for_five(writer: Member, crew: Member, signed_in: SignIn) -> None:
    client = signed_in(writer)
    [first] = publish(writer, OLD)
    _, second = first, *publish(writer, NEW)
    counts: dict[str, list[int]] = {"screen": [], "pdf": []}
    for more in (5, 45):
        for _ in range(more):
            make_note(crew, first, first_line=3).placements.create(draft=second, fate="gone")
        for name, url in (("screen", "change-sheet"), ("pdf", "change-sheet-pdf")):
            client.get(address(writer, "camera", url))
            with CaptureQueriesContext(connection) as queries:
                client.get(address(writer, "camera", url))
            counts[name].append(len(queries))
    assert counts["screen"][0] == counts["screen"][1]
    assert counts["pdf"][0] == counts["pdf"][1]


def test_the_changes_screen_leads_to_the_reader_s_own_sheet_and_counts_all(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    publish(writer, OLD, NEW)
    page = BeautifulSoup(
        signed_in(crew).get(reverse("changes-between", args=[crew.production.public_id, 1, 2])).content, "html.parser"
    )
    own = page.select_one(".sheet-own a")
    assert own is not None
    assert (own["href"], own.get_text()) == (address(crew, "camera"), "For you: Camera, 2 scenes")
    listed = [" ".join(entry.get_text(" ").split()) for entry in page.select(".sheet-links li")]
    assert "Stunts 1 scene" in listed
    assert "NELL 2 scenes" in listed
    assert not any("Special effects" in each and " 0 " in each for each in listed)


def test_a_department_of_another_production_sees_nothing_of_it(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    stranger = make_member(make_production("Elsewhere"), Role.CREW, Department.STUNTS)
    assert signed_in(stranger).get(address(writer, "stunts")).status_code == 404
