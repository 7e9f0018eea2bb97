"""The working draft's own screen: its scenes in order, with what waits on each, and arranging them."""

from __future__ import annotations

import re
import uuid
from typing import TYPE_CHECKING

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from review.access import Role
from review.decisions.models import Outcome
from review.drafts.numbering import lock_numbers, numbered_scenes, unlock_numbers
from review.drafts.texts import hash_text
from review.people.models import Department
from review.publishing.acts import publish_working
from review.rewriting.acts import begin_working, set_aside_working
from review.rewriting.scene_acts import add_scene, cut_scene, save_scene
from screenplay import parse
from screenplay.fountain import plain
from screenplay.script import headings_of
from tests.factories import make_draft, make_member, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member
    from review.rewriting.models import WorkingDraft, WorkingScene

pytestmark = pytest.mark.django_db

TEXT = "Title: Slack Water\n\n" + "".join(
    f"{heading}\n\n{words}\n\n"
    for heading, words in (
        ("INT. FERRY - DAY", "Rain."),
        ("EXT. PIER - DAY", "Fog."),
        ("INT. HUT - NIGHT", "Dark."),
        ("EXT. MOLE - DAWN", "Gulls."),
    )
)
PIER_FOG = 9  # a line of TEXT


@pytest.fixture
def working(writer: Member) -> WorkingDraft:
    return begin_working(writer, make_draft(writer, TEXT), uuid.uuid4())


def address(name: str, writer: Member, *args: str) -> str:
    return reverse(name, args=[writer.production.public_id, *args])


def scene(working: WorkingDraft, ordinal: int) -> WorkingScene:
    return working.scenes.get(ordinal=ordinal)


def headings(working: WorkingDraft) -> list[str]:
    return [plain(one.printed).split(" - ")[0] for one in headings_of(parse(working.joined_text()))]


def row_of(page: str, working: WorkingDraft, ordinal: int) -> str:
    """What the screen says of a scene, without its tags."""
    key = scene(working, ordinal).public_id
    (row,) = re.findall(rf'<li class="working-scene[^"]*" id="scene-{key}">.*?</li>', page, re.DOTALL)
    return " ".join(re.sub(r"<[^>]+>", " ", row.split('<details class="working-more">')[0]).split())


def test_it_lists_the_scenes_with_their_pages_and_lengths(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    page = client.get(address("working", writer)).content.decode()
    assert row_of(page, working, 2) == "2 EXT. PIER - DAY page 1 1/8"
    assert row_of(page, working, 0).startswith("Before the first scene")


def test_it_says_what_became_of_each_scene(client: Client, writer: Member, working: WorkingDraft) -> None:
    pier = scene(working, 2)
    save_scene(writer, pier, pier.text.replace("Fog.", "Haar."), 1, uuid.uuid4())
    cut_scene(writer, scene(working, 3))
    new = add_scene(writer, working, pier, "INT. STORE - DAY\n\nRope.", uuid.uuid4())
    page = client.get(address("working", writer)).content.decode()
    assert row_of(page, working, 2).endswith("Changed")
    assert "Cut" in row_of(page, working, 3)
    assert "INT. STORE - DAY" in page.split(f'id="scene-{new.public_id}"')[1].split("</li>")[0]
    assert row_of(page, working, 1).endswith("1/8")


@pytest.mark.parametrize(
    ("before", "after", "is_told"),
    [
        ("Fog. ", "Fog.\n\n", True),
        ("Fog. ", "Fog.\n", True),
        ("Fog. ", "Fog.  ", True),
        ("\n\nFog.", "\n\n\nFog.", False),
        ("posts.\n", "posts. \n", False),
    ],
)
def test_a_scene_is_changed_where_it_prints_otherwise_and_not_where_white_space_alone_came_that_prints_nothing(
    client: Client, writer: Member, before: str, after: str, is_told: bool
) -> None:
    working = begin_working(
        writer, make_draft(writer, "EXT. PIER - DAY\n\nFog. It lies over the posts.\n"), uuid.uuid4()
    )
    pier = scene(working, 1)
    assert pier.text.count(before) == 1
    save_scene(writer, pier, pier.text.replace(before, after), 1, uuid.uuid4())
    row = row_of(client.get(address("working", writer)).content.decode(), working, 1)
    assert row.endswith("Changed") == is_told


def test_it_counts_the_notes_that_wait_on_each_scene(
    client: Client, writer: Member, crew: Member, working: WorkingDraft
) -> None:
    accepted, declined, _ = [make_note(crew, working.base, PIER_FOG) for _ in range(3)]
    for note, outcome in ((accepted, Outcome.ACCEPTED), (declined, Outcome.DECLINED)):
        note.decisions.create(ordinal=1, outcome=outcome, reason="So.", decided_by=writer)
    page = client.get(address("working", writer)).content.decode()
    assert row_of(page, working, 2).endswith("1 accepted 1 undecided")
    assert "accepted" not in row_of(page, working, 3)


def test_notes_follow_their_lines_when_the_scene_moves(
    client: Client, writer: Member, crew: Member, working: WorkingDraft
) -> None:
    make_note(crew, working.base, PIER_FOG)
    client.post(address("working-move", writer, scene(working, 2).public_id), {"behind": "4"})
    assert headings(working) == ["INT. FERRY", "INT. HUT", "EXT. MOLE", "EXT. PIER"]
    assert row_of(client.get(address("working", writer)).content.decode(), working, 2).endswith("1 undecided")


@pytest.mark.parametrize(
    ("behind", "order"),
    [
        ("2 EXT. PIER - DAY", ["INT. FERRY", "EXT. PIER", "EXT. MOLE", "INT. HUT"]),
        ("  2  ext. pier - day ", ["INT. FERRY", "EXT. PIER", "EXT. MOLE", "INT. HUT"]),
        ("1", ["INT. FERRY", "EXT. MOLE", "EXT. PIER", "INT. HUT"]),
        ("the beginning", ["EXT. MOLE", "INT. FERRY", "EXT. PIER", "INT. HUT"]),
        ("5 EXT. NOWHERE - DAY", ["INT. FERRY", "EXT. PIER", "INT. HUT", "EXT. MOLE"]),
    ],
)
def test_a_scene_goes_behind_the_one_that_is_named(
    client: Client, writer: Member, working: WorkingDraft, behind: str, order: list[str]
) -> None:
    client.post(address("working-move", writer, scene(working, 4).public_id), {"behind": behind})
    assert headings(working) == order


def test_a_name_that_means_no_scene_is_said(client: Client, writer: Member, working: WorkingDraft) -> None:
    key = scene(working, 4).public_id
    page = client.post(address("working-move", writer, key), {"behind": "99"}, follow=True).content.decode()
    assert "No scene is called “99”" in page


@pytest.mark.parametrize("ordinal", [1, 2, 3, 4])
def test_up_and_down_undo_each_other(client: Client, writer: Member, working: WorkingDraft, ordinal: int) -> None:
    before = headings(working)
    ways = ("Down", "Up") if ordinal < 4 else ("Up", "Down")
    for way in ways:
        page = client.get(address("working", writer)).content.decode()
        key = scene(working, ordinal).public_id
        row = page.split(f'id="scene-{key}"')[1].split("</li>")[0]
        (after,) = re.findall(rf'name="after" value="([^"]+)">{way}', row)
        client.post(address("working-move", writer, key), {"after": after})
        assert (headings(working) == before) == (way == ways[1])


def test_a_scene_is_cut_and_put_back(client: Client, writer: Member, working: WorkingDraft) -> None:
    key = scene(working, 2).public_id
    client.post(address("working-cut", writer, key))
    assert "Fog." not in working.joined_text()
    client.post(address("working-restore", writer, key))
    assert working.joined_text() == TEXT


def test_a_scene_is_added_by_its_heading(client: Client, writer: Member, working: WorkingDraft) -> None:
    form = {"heading": "the lamp room", "after": scene(working, 2).public_id, "form_id": uuid.uuid4()}
    for _ in range(2):
        response = client.post(address("working-add", writer), form)
    assert headings(working)[2] == "the lamp room"
    assert working.scenes.count() == 6
    assert "/working/scenes/" in response["Location"]


def test_a_scene_of_another_working_draft_is_not_a_place(client: Client, writer: Member, working: WorkingDraft) -> None:
    set_aside_working(writer, working)
    other = begin_working(writer, working.base, uuid.uuid4())
    response = client.post(
        address("working-move", writer, scene(other, 2).public_id), {"after": scene(working, 1).public_id}
    )
    assert response.status_code == 404


def test_without_a_working_draft_it_says_how_to_begin(client: Client, writer: Member) -> None:
    make_draft(writer, TEXT)
    assert 'action="' + address("working-begin", writer) in client.get(address("working", writer)).content.decode()
    client.post(address("working-begin", writer), {"form_id": uuid.uuid4()})
    working = writer.production.working_drafts.open_now()
    assert working is not None
    assert working.joined_text() == TEXT


def test_before_the_first_draft_there_is_nothing_to_begin(client: Client, writer: Member) -> None:
    response = client.get(address("working", writer))
    assert response.status_code == 200
    assert address("working-begin", writer) not in response.content.decode()


def test_a_draft_put_up_since_is_said(client: Client, writer: Member, working: WorkingDraft) -> None:
    make_draft(writer, TEXT.replace("Rain.", "Hail."), number=2)
    assert "has been put up since this was begun" in client.get(address("working", writer)).content.decode()


def test_it_asks_as_much_of_the_database_for_many_scenes_and_notes_as_for_few(
    client: Client, writer: Member, crew: Member, working: WorkingDraft
) -> None:
    make_note(crew, working.base, PIER_FOG)
    with CaptureQueriesContext(connection) as few:
        client.get(address("working", writer))
    for nth in range(12):
        add_scene(writer, working, None, f"INT. STORE {nth} - DAY\n\nRope.", uuid.uuid4())
        make_note(crew, working.base, PIER_FOG - nth % 3)
    with CaptureQueriesContext(connection) as many:
        client.get(address("working", writer))
    assert len(many) == len(few)


def test_another_productions_scene_is_not_found(
    client: Client, writer: Member, working: WorkingDraft, signed_in: Callable[[Member], Client]
) -> None:
    stranger = make_member(make_production("Elsewhere"), Role.WRITER, Department.WRITING)
    key = scene(working, 2).public_id
    for name in ("working-cut", "working-restore", "working-move"):
        assert signed_in(stranger).post(address(name, stranger, key)).status_code == 404
    assert working.joined_text() == TEXT


def numbers_on(page: str) -> list[str]:
    """The numbers beside the scenes, but for what stands before the first."""
    return re.findall(r'<span class="working-number figure" aria-hidden="true">([^<]*)</span>', page)[1:]


@pytest.fixture
def locked(writer: Member) -> WorkingDraft:
    """A working draft under locked numbers, with a scene added behind the third and the second one cut."""
    draft = make_draft(writer, TEXT)
    lock_numbers(writer, draft.number)
    writer.production.refresh_from_db()
    working = begin_working(writer, draft, uuid.uuid4())
    loft = "INT. LOFT - DAY\n\nA trunk of letters, a lamp, a chair without a back.\n\n"
    add_scene(writer, working, scene(working, 3), loft, uuid.uuid4())
    cut_scene(writer, scene(working, 2))
    return working


def test_locked_numbers_are_those_that_it_will_be_put_up_with(
    client: Client, writer: Member, locked: WorkingDraft
) -> None:
    page = client.get(address("working", writer)).content.decode()
    assert numbers_on(page) == ["1", "2", "3", "3A", "4"]
    assert "2 is printed as OMITTED" in row_of(page, locked, 2)
    draft = publish_working(writer, locked, "", "", {}, hash_text(locked.joined_text()))
    assert [each.number for each in numbered_scenes(draft)] == numbers_on(page)


def test_a_scene_and_the_page_it_makes_have_its_locked_number(
    client: Client, writer: Member, locked: WorkingDraft
) -> None:
    for at, number in ((scene(locked, 3), "3"), (locked.scenes.get(ordinal=None), "3A")):
        page = client.get(address("working-scene", writer, at.public_id)).content.decode()
        assert f"<h1>{number}. " in page
        leaf = page.split('<div class="paper">', 1)[1].split("</div></div>", 1)[0]
        assert re.search(rf">\s*{number}\s*<", leaf)


def test_without_the_lock_the_scenes_count_from_one_again(client: Client, writer: Member, locked: WorkingDraft) -> None:
    unlock_numbers(writer, 1)
    page = client.get(address("working", writer)).content.decode()
    assert numbers_on(page) == ["1", "", "2", "3", "4"]
    assert "OMITTED" not in page


def test_a_heading_that_is_none_by_itself_is_added_with_a_warning(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    def add(heading: str) -> str:
        sent = {"heading": heading, "after": "first", "form_id": uuid.uuid4()}
        return client.post(address("working-add", writer), sent, follow=True).content.decode()

    assert "does not begin as scene headings do" in add("just words")
    assert ".just words\n" in working.joined_text()
    for usual in ("int. loft - day", ".THE SEA"):
        assert "does not begin as" not in add(usual)


def test_a_scene_that_was_emptied_is_called_by_what_it_was(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    pier = scene(working, 2)
    save_scene(writer, pier, "", pier.version, uuid.uuid4())
    assert "Empty (was EXT. PIER - DAY)" in row_of(client.get(address("working", writer)).text, working, 2)
    page = client.get(address("working-scene", writer, pier.public_id)).text
    assert "<h1>Empty (was EXT. PIER - DAY)</h1>" in page


def test_without_an_open_working_draft_its_pages_say_so(client: Client, writer: Member, working: WorkingDraft) -> None:
    pages = [address("working-put-back", writer), address("working-scene", writer, scene(working, 2).public_id)]
    set_aside_working(writer, working)
    for page in pages:
        assert "No working draft is open." in client.get(page, follow=True).text
    begin_working(writer, working.base, uuid.uuid4())
    assert "has been put up or set aside." in client.get(pages[1], follow=True).text


def test_what_stands_before_the_first_scene_is_none_of_those_that_were_touched(
    working: WorkingDraft, client: Client, writer: Member
) -> None:
    for ordinal, told in ((0, "4 scenes. Only writers"), (2, "4 scenes, 1 touched. Only writers")):
        touched = scene(working, ordinal)
        save_scene(writer, touched, f"{touched.text}More fog.\n\n", touched.version, uuid.uuid4())
        page = client.get(address("working", writer)).content.decode()
        assert told in " ".join(page.split())
