"""What holds for a working draft of any text, whatever is done to its scenes and in whatever order."""

from __future__ import annotations

import uuid
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from review.access import Role
from review.drafts.texts import hash_text
from review.people.models import Department
from review.publishing.acts import publish_working
from review.rewriting.acts import begin_working
from review.rewriting.models import SceneText, WorkingDraft
from review.rewriting.scene_acts import add_scene, cut_scene, move_scene, restore_scene, save_scene
from screenplay import parse
from screenplay.fountain import split_lines
from screenplay.words import words
from tests.factories import make_draft, make_member, make_production
from tests.screenplay.scripts import any_text

if TYPE_CHECKING:
    from review.people.models import Member
    from review.rewriting.models import WorkingScene

pytestmark = pytest.mark.django_db

sometimes = settings(max_examples=20, suppress_health_check=[HealthCheck.function_scoped_fixture])

storable = any_text.filter(lambda text: "\0" not in text)
LINES = ("INT. FERRY - NIGHT", "EXT. QUAY - DAY", "Rain.", "MARA", "No.", "", "> OUT <", "EXT. MOLE", "Fog \u00e9")
plain_script = st.builds(
    lambda lines, end: "".join(line + end for line in lines),
    st.lists(st.sampled_from(LINES), min_size=1, max_size=16),
    st.sampled_from(["\n", "\r\n", "\r"]),
)
typed = st.lists(st.sampled_from(LINES), max_size=6).map("\r\n".join)  # as a browser sends what stands in a field


@dataclass(frozen=True)
class Step:
    """One act: which, on which of the scenes there are by then, and with what."""

    act: str
    scene: int
    other: int
    text: str


steps = st.lists(
    st.builds(
        Step,
        st.sampled_from(["save", "save in parts", "add", "cut", "restore", "move"]),
        st.integers(0, 9),
        st.integers(-1, 9),
        typed,
    ),
    max_size=8,
)


def begin(text: str) -> tuple[Member, WorkingDraft]:
    writer = make_member(make_production(), Role.WRITER, Department.WRITING, "Ada Wren")
    return writer, begin_working(writer, make_draft(writer, text), uuid.uuid4())


def scenes(working: WorkingDraft) -> list[WorkingScene]:
    return list(working.scenes.order_by("position", "pk"))


def take(step: Step, by: Member, working: WorkingDraft) -> None:
    here = scenes(working)
    scene = here[step.scene % len(here)]
    other = None if step.other < 0 else here[step.other % len(here)]
    if step.act.startswith("save"):
        save_scene(by, scene, step.text, scene.version, uuid.uuid4(), in_parts=step.act == "save in parts")
    elif step.act == "add":
        add_scene(by, working, other, step.text, uuid.uuid4())
    elif step.act == "move":
        move_scene(by, scene, other)
    else:
        (cut_scene if step.act == "cut" else restore_scene)(by, scene)


def words_of(working: WorkingDraft) -> Counter[str]:
    """The words of all its scenes, of those that are cut too."""
    return Counter(word for scene in working.scenes.all() for word in words(scene.text))


def lines_of(text: str) -> list[str]:
    return [line.rstrip("\r\n") for line in split_lines(text)]


@sometimes
@given(storable)
def test_it_begins_with_any_text_to_the_character(text: str) -> None:
    _, working = begin(text)
    assert working.joined_text() == text


@sometimes
@given(storable, st.data())
def test_a_scene_saved_as_a_browser_sends_it_back_leaves_the_text_as_it_was(text: str, data: st.DataObject) -> None:
    writer, working = begin(text)
    scene = data.draw(st.sampled_from(scenes(working)))
    sent = scene.text.replace("\r\n", "\n").replace("\r", "\n").replace("\n", "\r\n")
    save_scene(writer, scene, sent, scene.version, uuid.uuid4())
    assert working.joined_text() == text


@sometimes
@given(plain_script, steps)
def test_whatever_was_ever_in_a_scene_is_kept(text: str, taken: list[Step]) -> None:
    writer, working = begin(text)
    told = [lines_of(scene.text) for scene in scenes(working)]
    for step in taken:
        take(step, writer, working)
        told += [lines_of(scene.text) for scene in scenes(working)]
    kept = [lines_of(kept) for kept in SceneText.objects.filter(scene__working=working).values_list("text", flat=True)]
    assert [lines for lines in told if lines not in kept] == []


@sometimes
@given(plain_script, steps)
def test_cutting_moving_restoring_and_adding_lose_no_word(text: str, taken: list[Step]) -> None:
    writer, working = begin(text)
    expected = words_of(working)
    for step in taken:
        if step.act.startswith("save"):
            continue
        take(step, writer, working)
        expected += Counter(words(step.text)) if step.act == "add" else Counter()
        assert words_of(working) == expected


@sometimes
@given(plain_script, steps)
def test_every_scene_stays_a_scene_of_its_own(text: str, taken: list[Step]) -> None:
    writer, working = begin(text)
    for step in taken:
        take(step, writer, working)
    standing = [scene for scene in scenes(working) if scene.cut_at is None]
    begins = {line for line, kind in enumerate(parse(working.joined_text()).kinds, 1) if kind == "scene_heading"}
    at = 1
    for scene in standing:
        was_heading = parse(scene.text).kinds[:1] == ("scene_heading",)
        assert not was_heading or at in begins
        at += len(split_lines(scene.text))


@sometimes
@given(plain_script, steps, typed.filter(str.strip))
def test_what_is_published_and_downloaded_is_the_working_text(text: str, taken: list[Step], new: str) -> None:
    writer, working = begin(text)
    for step in taken:
        take(step, writer, working)
    add_scene(writer, working, None, f"EXT. BREAKWATER - {uuid.uuid4()}\n\n{new}", uuid.uuid4())
    before = working.joined_text()
    draft = publish_working(writer, working, "", "", {}, hash_text(before))
    assert draft.text == before
    assert draft.upload_bytes().decode(draft.encoding) == before
