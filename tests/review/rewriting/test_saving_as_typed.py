"""A scene saved by itself while its writer types: nothing is lost on the way, and little is said of each save."""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import TYPE_CHECKING

import pytest
from django.utils import timezone

from review.access import Role
from review.log import Act
from review.people.models import Department
from review.rewriting.acts import begin_working
from review.rewriting.models import SceneText
from review.rewriting.scene_acts import SavedMeanwhile, keep_theirs, save_scene
from tests.factories import make_draft, make_member

if TYPE_CHECKING:
    from review.people.models import Member
    from review.rewriting.models import WorkingScene

pytestmark = pytest.mark.django_db

HEADING = "EXT. PIER - DAY\n\n"


@pytest.fixture
def scene(writer: Member) -> WorkingScene:
    draft = make_draft(writer, f"{HEADING}Fog.\n\nINT. HUT - NIGHT\n\nDark.\n")
    return begin_working(writer, draft, uuid.uuid4()).scenes.get(position=1)


@pytest.fixture
def other_writer(writer: Member) -> Member:
    return make_member(writer.production, Role.WRITER, Department.WRITING, "Idris Fell")


def type_on(by: Member, scene: WorkingScene, words: str, form_id: uuid.UUID | None = None) -> WorkingScene:
    return save_scene(by, scene, f"{HEADING}{words}\n\n", scene.version, form_id or uuid.uuid4(), as_typed=True)


def readings(scene: WorkingScene) -> list[str]:
    return [text.text.removeprefix(HEADING).strip() for text in scene.told_texts()]


def test_typing_on_is_said_once_in_the_log(writer: Member, scene: WorkingScene) -> None:
    for words in ("F", "Fo", "Foam."):
        scene = type_on(writer, scene, words)
    assert Act.objects.filter(verb=Act.Verb.SAVED_SCENE).count() == 1


def test_typing_on_after_a_while_is_said_again(writer: Member, scene: WorkingScene) -> None:
    scene = type_on(writer, scene, "Foam.")
    SceneText.objects.filter(version=2).update(saved_at=timezone.now() - timedelta(hours=1))
    type_on(writer, scene, "Foam and spray.")
    assert Act.objects.filter(verb=Act.Verb.SAVED_SCENE).count() == 2


def test_the_earlier_texts_are_those_at_which_the_writer_stopped(writer: Member, scene: WorkingScene) -> None:
    for words in ("F", "Fo", "Foam."):
        scene = type_on(writer, scene, words)
    assert readings(scene) == ["Foam.", "Fog."]
    assert scene.texts.count() == 4  # each is kept


def test_what_another_writer_typed_between_is_among_them(
    writer: Member, other_writer: Member, scene: WorkingScene
) -> None:
    scene = type_on(writer, scene, "Foam.")
    scene = type_on(other_writer, scene, "Spray.")
    scene = type_on(writer, scene, "Mist.")
    assert readings(scene) == ["Mist.", "Spray.", "Foam.", "Fog."]


def test_what_gave_way_to_another_writers_text_is_among_them(
    writer: Member, other_writer: Member, scene: WorkingScene
) -> None:
    scene = type_on(other_writer, scene, "Spray.")
    keep_theirs(writer, scene, f"{HEADING}Mine.\n\n", uuid.uuid4())
    assert readings(scene) == ["Spray.", "Mine.", "Spray.", "Fog."]


def test_a_form_whose_answer_was_lost_saves_what_was_typed_since(writer: Member, scene: WorkingScene) -> None:
    form_id = uuid.uuid4()
    type_on(writer, scene, "Foam", form_id)
    type_on(writer, scene, "Foam and spray.", form_id)  # as the page knows neither the new version nor the new form
    scene.refresh_from_db()
    assert "Foam and spray." in scene.text


def test_a_form_whose_answer_was_lost_does_not_save_over_another_writer(
    writer: Member, other_writer: Member, scene: WorkingScene
) -> None:
    form_id = uuid.uuid4()
    saved = type_on(writer, scene, "Foam", form_id)
    type_on(other_writer, saved, "Spray.")
    for words in ("Foam", "Foam and more."):
        with pytest.raises(SavedMeanwhile):
            type_on(writer, scene, words, form_id)


def test_a_scene_typed_without_the_blank_line_after_it_is_saved_once_with_it(
    writer: Member, scene: WorkingScene
) -> None:
    scene = save_scene(writer, scene, f"{HEADING}Foam.", scene.version, uuid.uuid4(), as_typed=True)
    assert scene.text == f"{HEADING}Foam.\n\n"
    assert scene.version == 2
