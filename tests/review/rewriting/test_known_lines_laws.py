"""A note stands on the words that were put in, whatever is taken, written, moved, cut, put back."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from review.access import Role
from review.people.models import Department
from review.rewriting.acts import begin_working
from review.rewriting.scene_acts import add_scene, cut_scene, move_scene, restore_scene, save_scene
from review.rewriting.wordings import CannotTake
from tests.factories import make_draft, make_member, make_note, make_production
from tests.review.rewriting.watch_room import accept, open_working, publish, words_in

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member

pytestmark = pytest.mark.django_db

SAID = ("Yes.", "No.", "Go on, then.", "The lamp is out, and nobody has been up the stair since the storm.")
HEADINGS = ("INT. WATCH ROOM - NIGHT", "EXT. POINT - DAY", "INT. STAIR - NIGHT")
speeches = st.tuples(
    st.sampled_from(["ODA", "BREN", "THE KEEPER"]), st.lists(st.sampled_from(SAID), min_size=1, max_size=3)
)
scripts = st.lists(st.lists(speeches, min_size=1, max_size=4), min_size=1, max_size=4)
proposals = st.sampled_from(
    ["{n} never", "{n} is out.\nAnd {n} again.", "So {n}, and the lamp, and the stair, and the storm."]
)
acts = st.tuples(
    st.sampled_from(["take", "take", "take", "rewrite", "add", "delete", "move", "cut", "restore", "type", "scene"]),
    st.integers(0, 40),
    st.integers(0, 40),
    st.sampled_from([*SAID, "A wholly other thing is said here, in many more words than there were."]),
)


def typed(written: list[list[tuple[str, list[str]]]]) -> str:
    scenes = []
    for at, said in enumerate(written):
        body = "".join(f"{name}\n{chr(10).join(lines)}\n\n" for name, lines in said)
        scenes.append(f"{HEADINGS[at % len(HEADINGS)]}\n\nThe sea.\n\n{body}")
    return "".join(scenes)


def dialogue(draft: Draft) -> list[int]:
    return [line for line, text in enumerate(draft.text.split("\n"), 1) if text in SAID]


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(scripts, st.lists(proposals, min_size=1, max_size=5), st.lists(acts, max_size=12), st.integers(1, 7))
def test_a_note_whose_wording_was_put_in_stands_on_exactly_its_words(
    written: list[list[tuple[str, list[str]]]], proposed: list[str], steps: list[tuple[str, int, int, str]], apart: int
) -> None:
    writer = make_member(make_production(), Role.WRITER, Department.WRITING)
    draft = make_draft(writer, typed(written))
    lines = dialogue(draft)[::apart]
    notes = [
        make_note(writer, draft, line, wording=wording.format(n=f"word{at}"))
        for at, (line, wording) in enumerate(zip(lines, proposed, strict=False))
    ]
    begin_working(writer, draft, uuid.uuid4())
    for act, one, other, said in steps:
        take_step(writer, notes, act, one, other, said)
    add_scene(writer, open_working(writer), None, "INT. NEW ROOM - DAY\n\nEmpty.\n", uuid.uuid4())
    standing = [
        taken.note
        for taken in open_working(writer).taken_wordings.filter(undone_at=None).select_related("note")
        if str(taken.note.wording) in open_working(writer).joined_text()
    ]
    published = publish(writer)
    assert {note.pk: words_in(published, note) for note in standing} == {note.pk: note.wording for note in standing}


def take_step(writer: Member, notes: list[Note], act: str, one: int, other: int, said: str) -> None:
    """One act on the working draft that leaves the words of wordings alone."""
    if act == "take":
        try:
            accept(writer, notes[one % len(notes)])
        except CannotTake:
            return
        return
    scenes = list(open_working(writer).scenes.order_by("position", "pk"))
    scene, behind = scenes[one % len(scenes)], scenes[other % len(scenes)]
    if act == "move":
        move_scene(writer, scene, behind)
    elif act in {"cut", "restore"}:
        (cut_scene if act == "cut" else restore_scene)(writer, scene)
    elif act == "scene":
        add_scene(writer, open_working(writer), behind, f"EXT. SEA - DAY\n\nODA\n{said}\n", uuid.uuid4())
    else:
        text = rewritten(scene.text, act, other, said)
        save_scene(writer, scene, text, scene.version, uuid.uuid4(), as_typed=act == "type")


def rewritten(text: str, act: str, at: int, said: str) -> str:
    lines = text.split("\n")
    free = [line for line, words in enumerate(lines) if "word" not in words]
    at = free[at % len(free)]
    if act == "delete":
        del lines[at]
    elif act == "add":
        lines[at:at] = ["", "BREN", said, ""]
    else:
        lines[at] = said
    return "\n".join(lines)
