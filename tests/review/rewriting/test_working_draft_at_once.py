"""Two writers in one working draft at the same moment: the later is told, and neither waits for ever."""

from __future__ import annotations

import uuid
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier, Event
from typing import TYPE_CHECKING

import pytest
from django.db import connection, transaction

from review.access import Role
from review.drafts.texts import hash_text
from review.people.models import Department
from review.productions.models import lock_production
from review.publishing.acts import publish_working
from review.rewriting.acts import begin_working
from review.rewriting.models import SceneText, WorkingDraft, WorkingIsClosed, WorkingScene
from review.rewriting.scene_acts import SavedMeanwhile, add_scene, move_scene, save_scene
from tests.factories import SCRIPT, make_draft, make_member

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.drafts.models import Draft
    from review.people.models import Member

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.usefixtures("postgres_url")]

LONG_ENOUGH_TO_WAIT = 0.6  # seconds after which an act that can go on has gone on


@pytest.fixture
def other_writer(writer: Member) -> Member:
    return make_member(writer.production, Role.WRITER, Department.WRITING, "Idris Fell")


@pytest.fixture
def working(writer: Member) -> WorkingDraft:
    return begin_working(writer, make_draft(writer), uuid.uuid4())


def at_once(*acts: Callable[[], object]) -> list[object]:
    """Begins all of it at the same moment; what each gives back, or the exception that it raises."""
    ready = Barrier(len(acts))

    def do(act: Callable[[], object]) -> object:
        try:
            ready.wait(timeout=10)
            return act()
        except Exception as told:  # noqa: BLE001 - it is what the test looks at
            return told
        finally:
            connection.close()

    with ThreadPoolExecutor(len(acts)) as threads:
        return list(threads.map(do, acts))


def second_scene(working: WorkingDraft) -> WorkingScene:
    return working.scenes.get(position=2)


def test_of_two_savers_one_is_told_what_the_other_saved(
    writer: Member, other_writer: Member, working: WorkingDraft
) -> None:
    scene = second_scene(working)
    told = at_once(
        lambda: save_scene(writer, scene, "EXT. SLIPWAY - DAWN\n\nFog.\n", 1, uuid.uuid4()),
        lambda: save_scene(other_writer, scene, "EXT. SLIPWAY - DAWN\n\nSleet.\n", 1, uuid.uuid4()),
    )
    (refused,) = [one for one in told if isinstance(one, SavedMeanwhile)]
    scene.refresh_from_db()
    assert refused.latest.text == scene.text
    assert [text.version for text in scene.texts.all()] == [1, 2]


def test_the_same_form_sent_twice_at_once_saves_once(writer: Member, working: WorkingDraft) -> None:
    scene, form_id = second_scene(working), uuid.uuid4()
    told = at_once(*[lambda: save_scene(writer, scene, "EXT. SLIPWAY - DAWN\n\nFog.\n", 1, form_id)] * 2)
    assert all(isinstance(one, WorkingScene) for one in told)
    assert SceneText.objects.filter(form_id=form_id).count() == 1


def test_two_writers_begin_one_working_draft(writer: Member, other_writer: Member) -> None:
    base = make_draft(writer)
    told = at_once(*[lambda by=by: begin_working(by, base, uuid.uuid4()) for by in (writer, other_writer)])
    assert told[0] == told[1] == writer.production.working_drafts.open_now()


def test_a_scene_added_while_another_moves_is_in_the_text_once(
    writer: Member, other_writer: Member, working: WorkingDraft
) -> None:
    scene = second_scene(working)
    at_once(
        lambda: add_scene(writer, working, scene, "INT. STORE - DAY\n\nRope.\n", uuid.uuid4()),
        lambda: move_scene(other_writer, scene, None),
    )
    text = working.joined_text()
    assert (text.count("INT. STORE"), text.count("EXT. SLIPWAY"), text.count("INT. BOATHOUSE")) == (1, 1, 1)
    assert len({scene.position for scene in working.scenes.all()}) == working.scenes.count()


def test_restoring_an_old_draft_while_the_working_draft_goes_up(
    writer: Member, other_writer: Member, working: WorkingDraft
) -> None:
    save_scene(writer, second_scene(working), "EXT. SLIPWAY - DAWN\n\nFog.\n", 1, uuid.uuid4())
    text, locked = working.joined_text(), Event()

    def publish() -> Draft:
        locked.wait(timeout=10)
        return publish_working(writer, working, "", "", {}, hash_text(text))

    def restore() -> WorkingDraft:
        base = working.base
        with transaction.atomic():
            lock_production(working.production_id)
            locked.set()
            Event().wait(LONG_ENOUGH_TO_WAIT)  # the other is in the midst of it by now
            return begin_working(other_writer, base, uuid.uuid4(), restored=base, set_aside=working)

    published, restored = at_once(publish, restore)
    assert isinstance(restored, WorkingDraft)
    assert isinstance(published, WorkingIsClosed)  # it was set aside meanwhile, and its writer is told so
    assert restored.joined_text() == SCRIPT


def test_saving_waits_for_no_more_than_the_act_before_it(
    writer: Member, other_writer: Member, working: WorkingDraft
) -> None:
    scene = second_scene(working)
    locked = Event()

    def hold() -> None:
        with transaction.atomic():
            working.lock()
            locked.set()
            Event().wait(LONG_ENOUGH_TO_WAIT)

    def save() -> WorkingScene:
        locked.wait(timeout=10)
        return save_scene(other_writer, scene, "EXT. SLIPWAY - DAWN\n\nFog.\n", 1, uuid.uuid4())

    _, saved = at_once(hold, save)
    assert isinstance(saved, WorkingScene)
    assert "Fog." in saved.text
