"""The screen on which one scene is written."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from review.access import Role
from review.decisions.models import Outcome
from review.rewriting.acts import begin_working
from review.rewriting.scene_acts import cut_scene, save_scene
from tests.factories import make_draft, make_member, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member
    from review.rewriting.models import WorkingDraft, WorkingScene

pytestmark = pytest.mark.django_db

TEXT = "INT. FERRY - DAY\n\nRain.\n\nEXT. PIER - DAY\n\nFog.\n\nINT. HUT - NIGHT\n\nDark.\n"
FOG, DARK = 7, 11


@pytest.fixture
def working(writer: Member) -> WorkingDraft:
    return begin_working(writer, make_draft(writer, TEXT), uuid.uuid4())


@pytest.fixture
def pier(working: WorkingDraft) -> WorkingScene:
    return working.scenes.get(ordinal=2)


def address(scene: WorkingScene) -> str:
    return reverse("working-scene", args=[scene.working.production.public_id, scene.public_id])


def test_it_shows_the_scene_alone_as_text_and_as_it_prints(client: Client, pier: WorkingScene) -> None:
    page = client.get(address(pier)).text
    assert "EXT. PIER - DAY\n\nFog.\n\n</textarea>" in page
    assert page.count("Fog.") == 2
    assert "Rain." not in page


def test_it_says_saved_of_what_somebody_saved_alone(client: Client, writer: Member, pier: WorkingScene) -> None:
    assert "As in draft 1</span>" in client.get(address(pier)).text
    save_scene(writer, pier, "EXT. PIER - DAY\n\nSleet.\n", 1, uuid.uuid4())
    page = client.get(address(pier)).text
    assert "As in draft" not in page
    assert "Saved " in page


def test_the_scenes_before_and_after_are_linked(client: Client, working: WorkingDraft, pier: WorkingScene) -> None:
    page = client.get(address(pier)).text
    assert f'href="{address(working.scenes.get(ordinal=1))}" rel="prev"' in page
    assert f'href="{address(working.scenes.get(ordinal=3))}" rel="next"' in page


def test_a_scene_that_is_cut_is_passed_over(
    client: Client, writer: Member, working: WorkingDraft, pier: WorkingScene
) -> None:
    cut_scene(writer, pier)
    page = client.get(address(working.scenes.get(ordinal=1))).text
    assert f'href="{address(working.scenes.get(ordinal=3))}" rel="next"' in page
    assert "This scene is cut" in client.get(address(pier)).text


def test_its_open_and_accepted_notes_are_shown_and_no_others(
    client: Client, writer: Member, crew: Member, working: WorkingDraft, pier: WorkingScene
) -> None:
    said = {Outcome.ACCEPTED: "Thicker, please.", Outcome.DECLINED: "Thinner, please."}
    for outcome, body in said.items():
        note = make_note(crew, working.base, FOG, body=body)
        note.decisions.create(ordinal=1, outcome=outcome, reason="So.", decided_by=writer)
    make_note(crew, working.base, FOG, body="How thick?")
    make_note(crew, working.base, DARK, body="How dark?")
    page = client.get(address(pier)).text
    assert ("Thicker" in page, "How thick?" in page) == (True, True)
    assert ("Thinner" in page, "How dark?" in page) == (False, False)


def test_what_htmx_saves_answers_with_the_page_and_the_version(client: Client, pier: WorkingScene) -> None:
    form = {"text": "EXT. PIER - DAY\r\n\r\nHaar.\r\n", "seen": 1, "form_id": uuid.uuid4(), "as_typed": "1"}
    response = client.post(address(pier), form, headers={"HX-Request": "true"})
    assert response.status_code == 200
    assert "Haar." in response.text
    assert 'name="seen" value="2"' in response.text


def test_a_null_character_gets_a_sentence_and_nothing_is_saved(client: Client, pier: WorkingScene) -> None:
    fields = {"text": "INT. PIER - DAY\n\nA\0B.\n", "seen": 1, "form_id": uuid.uuid4()}
    response = client.post(address(pier), fields)
    assert response.status_code == 400
    assert "There is a null character in what you sent" in response.text
    before = pier.text
    pier.refresh_from_db()
    assert pier.text == before


def test_a_save_that_comes_later_is_shown_both_texts(client: Client, writer: Member, pier: WorkingScene) -> None:
    save_scene(writer, pier, "EXT. PIER - DAY\n\nSleet.\n", 1, uuid.uuid4())
    form = {"text": "EXT. PIER - DAY\r\n\r\nSnow.\r\n", "seen": 1, "form_id": uuid.uuid4()}
    for headers in ({}, {"HX-Request": "true"}):
        response = client.post(address(pier), form, headers=headers)
        assert response.status_code == 409
        assert "Sleet." in response.text
        assert "Snow" in response.text
    pier.refresh_from_db()
    assert "Sleet." in pier.text


def test_the_other_text_is_told_apart_as_another_pages_or_anothers(
    client: Client, writer: Member, pier: WorkingScene, signed_in: Callable[[Member], Client]
) -> None:
    save_scene(writer, pier, "EXT. PIER - DAY\n\nSleet.\n", 1, uuid.uuid4())
    form = {"text": "EXT. PIER - DAY\r\n\r\nSnow.\r\n", "seen": 1, "form_id": uuid.uuid4()}
    own = client.post(address(pier), form).text
    assert "Let the other page’s text stand" in own
    assert "over theirs" not in own
    colleague = signed_in(make_member(writer.production, role=Role.WRITER))
    assert "Let theirs stand" in colleague.post(address(pier), form | {"form_id": uuid.uuid4()}).text


def test_a_warning_of_the_scene_stands_beside_it(client: Client, writer: Member, pier: WorkingScene) -> None:
    save_scene(writer, pier, "EXT. PIER - DAY\n\nFog. [[left open\n\n", 1, uuid.uuid4())
    assert "writing-warnings" in client.get(address(pier)).text


def test_it_asks_as_much_of_the_database_for_many_notes_and_texts_as_for_few(
    client: Client, writer: Member, crew: Member, working: WorkingDraft, pier: WorkingScene
) -> None:
    save_scene(writer, pier, "EXT. PIER - DAY\n\nFog.\n\nA bell.\n\n", 1, uuid.uuid4())
    make_note(crew, working.base, FOG)
    shown = address(pier)
    client.get(shown)  # what is kept from then on
    with CaptureQueriesContext(connection) as few:
        client.get(shown)
    for nth in range(12):
        pier.refresh_from_db()
        save_scene(writer, pier, f"EXT. PIER - DAY\n\nFog.\n\nA bell {nth}.\n\n", pier.version, uuid.uuid4())
        make_note(crew, working.base, FOG)
    with CaptureQueriesContext(connection) as many:
        client.get(shown)
    assert len(many) == len(few)


def typed_at(scene: WorkingScene) -> str:
    return reverse("working-scene-typed", args=[scene.working.production.public_id, scene.public_id])


def test_what_is_typed_is_shown_and_not_stored(client: Client, pier: WorkingScene) -> None:
    response = client.post(typed_at(pier), {"text": "EXT. PIER - DAY\r\n\r\nHaar.\r\n"})
    assert "Haar." in response.text
    assert "<html" not in response.text
    pier.refresh_from_db()
    assert "Haar." not in pier.text


def test_a_boneyard_left_open_is_shown_as_the_whole_script_has_it(client: Client, pier: WorkingScene) -> None:
    client.get(address(pier))
    page = client.post(typed_at(pier), {"text": "EXT. PIER - DAY\r\n\r\nHaar. /* and\r\n\r\n"}).text
    assert "This /* is never closed" in page


def test_what_rests_is_shown_again_only_where_something_around_it_changed(
    client: Client, writer: Member, working: WorkingDraft, pier: WorkingScene
) -> None:
    client.get(address(pier))
    form = {"text": "EXT. PIER - DAY\r\n\r\nHaar.\r\n\r\n", "rests": "1"}
    assert client.post(typed_at(pier), form).status_code == 204
    ferry = working.scenes.get(ordinal=1)
    save_scene(writer, ferry, "INT. FERRY - DAY\n\n" + "Rain.\n\n" * 30, 1, uuid.uuid4())
    assert 'aria-label="Page 2"' in client.post(typed_at(pier), form).text
    assert client.post(typed_at(pier), form).status_code == 204


def test_what_is_saved_while_typing_asks_the_database_as_often_in_a_long_script(
    writer: Member, signed_in: Callable[[Member], Client]
) -> None:
    working = begin_working(writer, make_draft(writer, TEXT * 20), uuid.uuid4())
    scene = working.scenes.get(ordinal=30)
    client = signed_in(writer)
    client.get(address(scene))
    counts = []
    for version, words in enumerate(("Haar.", "Haar and foam."), 1):
        form = {
            "text": f"EXT. PIER - DAY\r\n\r\n{words}\r\n",
            "seen": version,
            "form_id": uuid.uuid4(),
            "as_typed": "1",
        }
        with CaptureQueriesContext(connection) as asked:
            client.post(address(scene), form, headers={"HX-Request": "true"})
        counts.append(len(asked))
    assert counts[1] <= counts[0] <= 24
