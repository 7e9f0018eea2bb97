"""The working draft: begun, saved, cut, moved and restored scene by scene, with every word that was in it kept."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.core.exceptions import PermissionDenied

from review.log import Act
from review.rewriting.acts import AnotherIsOpen, begin_working, set_aside_working, take_working_text
from review.rewriting.models import WorkingIsClosed
from review.rewriting.scene_acts import SavedMeanwhile, add_scene, cut_scene, move_scene, restore_scene, save_scene
from screenplay import parse
from screenplay.fountain import plain
from screenplay.script import headings_of
from tests.factories import make_draft

if TYPE_CHECKING:
    from review.people.models import Member
    from review.rewriting.models import WorkingDraft, WorkingScene

pytestmark = pytest.mark.django_db

TEXT = (
    "Title: Slack Water\r\n\r\nINT. FERRY - DAY\r\n\r\nRain.\r\n\r\n"
    "EXT. PIER - DAY\r\n\r\nFog.\r\n\r\nINT. HUT - NIGHT\r\n\r\nDark."
)


@pytest.fixture
def working(writer: Member) -> WorkingDraft:
    return begin_working(writer, make_draft(writer, TEXT), uuid.uuid4())


def scenes(working: WorkingDraft) -> list[WorkingScene]:
    return list(working.scenes.order_by("position"))


def save(by: Member, scene: WorkingScene, text: str, seen: int | None = None) -> WorkingScene:
    return save_scene(by, scene, text, scene.version if seen is None else seen, uuid.uuid4())


def headings(working: WorkingDraft) -> list[str]:
    return [plain(heading.printed) for heading in headings_of(parse(working.joined_text()))]


def test_it_begins_with_the_text_of_the_draft_to_the_byte(working: WorkingDraft) -> None:
    assert working.joined_text() == TEXT
    assert [scene.text.split("\r\n")[0] for scene in scenes(working)] == [
        "Title: Slack Water",
        "INT. FERRY - DAY",
        "EXT. PIER - DAY",
        "INT. HUT - NIGHT",
    ]


def test_beginning_again_finds_the_one_that_is_open(writer: Member, working: WorkingDraft) -> None:
    assert begin_working(writer, working.base, uuid.uuid4()) == working


def test_only_a_writer_writes_it(crew: Member, working: WorkingDraft) -> None:
    with pytest.raises(PermissionDenied):
        save(crew, scenes(working)[1], "INT. FERRY - DAY\n\nSun.")


def test_a_saved_scene_keeps_the_line_ends_of_its_draft(writer: Member, working: WorkingDraft) -> None:
    save(writer, scenes(working)[1], "INT. FERRY - DAY\n\nSun.\n\n")
    assert working.joined_text() == TEXT.replace("Rain.", "Sun.")


def test_the_second_of_two_saves_is_told_and_nothing_is_stored(writer: Member, working: WorkingDraft) -> None:
    scene = scenes(working)[1]
    save(writer, scene, "INT. FERRY - DAY\n\nSun.\n\n")
    with pytest.raises(SavedMeanwhile) as told:
        save(writer, scene, "INT. FERRY - DAY\n\nSnow.\n\n", seen=1)
    assert "Sun." in told.value.latest.text
    assert "Snow." not in working.joined_text()


def test_the_same_form_sent_twice_saves_once(writer: Member, working: WorkingDraft) -> None:
    form_id, scene = uuid.uuid4(), scenes(working)[1]
    for _ in range(2):
        save_scene(writer, scene, "INT. FERRY - DAY\n\nSun.\n\n", 1, form_id)
    assert [text.version for text in scene.texts.all()] == [1, 2]


def test_a_heading_typed_into_a_scene_makes_a_scene_of_its_own(writer: Member, working: WorkingDraft) -> None:
    save(writer, scenes(working)[1], "INT. FERRY - DAY\n\nRain.\n\nINT. GALLEY - DAY\n\nSteam.\n\n")
    assert [scene.text[:10] for scene in scenes(working)][1:4] == ["INT. FERRY", "INT. GALLE", "EXT. PIER "]


def test_a_scene_that_is_cut_keeps_its_words_and_comes_back(writer: Member, working: WorkingDraft) -> None:
    scene = cut_scene(writer, scenes(working)[2])
    assert "Fog." not in working.joined_text()
    restore_scene(writer, scene)
    assert working.joined_text() == TEXT


def test_a_scene_that_moves_is_still_a_scene_there(writer: Member, working: WorkingDraft) -> None:
    hut = scenes(working)[3]
    move_scene(writer, hut, None)
    assert headings(working) == [
        "INT. HUT - NIGHT",
        "INT. FERRY - DAY",
        "EXT. PIER - DAY",
    ]
    move_scene(writer, hut, scenes(working)[-1])
    assert headings(working)[-1] == "INT. HUT - NIGHT"


def test_a_new_scene_stands_behind_the_one_it_was_put_after(writer: Member, working: WorkingDraft) -> None:
    add_scene(writer, working, scenes(working)[1], "INT. GALLEY - DAY\n\nSteam.", uuid.uuid4())
    assert headings(working)[:2] == ["INT. FERRY - DAY", "INT. GALLEY - DAY"]


def test_what_stands_before_the_first_scene_is_not_cut(writer: Member, working: WorkingDraft) -> None:
    cut_scene(writer, scenes(working)[0])
    assert working.joined_text() == TEXT


def test_a_text_taken_away_again_is_the_latest(writer: Member, working: WorkingDraft) -> None:
    take_working_text(writer, working)
    save(writer, scenes(working)[1], "INT. FERRY - DAY\n\nSun.\n\n")
    changed = take_working_text(writer, working)
    save(writer, scenes(working)[1], "INT. FERRY - DAY\n\nRain.\n\n")
    take_working_text(writer, working)
    assert [download.text for download in working.downloads.all()] == [TEXT, changed]


def test_nothing_is_written_into_one_that_was_set_aside(writer: Member, working: WorkingDraft) -> None:
    set_aside_working(writer, working)
    assert writer.production.working_drafts.open_now() is None
    with pytest.raises(WorkingIsClosed):
        save(writer, scenes(working)[1], "INT. FERRY - DAY")


def test_an_older_draft_is_restored_once_the_open_one_may_be_set_aside(writer: Member, working: WorkingDraft) -> None:
    later = make_draft(writer, TEXT.replace("Rain.", "Hail."), number=2)
    with pytest.raises(AnotherIsOpen):
        begin_working(writer, later, uuid.uuid4(), restored=working.base)
    restored = begin_working(writer, later, uuid.uuid4(), restored=working.base, set_aside=working)
    assert restored.joined_text() == TEXT
    working.refresh_from_db()
    assert working.set_aside_at is not None


def test_every_act_is_in_the_log(writer: Member, working: WorkingDraft) -> None:
    scene = scenes(working)[1]
    save(writer, scene, "INT. FERRY - DAY\n\nSun.\n\n")
    restore_scene(writer, cut_scene(writer, scene))
    verbs = list(Act.objects.filter(about=scene.public_id).order_by("id").values_list("verb", flat=True))
    assert verbs == [Act.Verb.SAVED_SCENE, Act.Verb.CUT_SCENE, Act.Verb.RESTORED_SCENE]
