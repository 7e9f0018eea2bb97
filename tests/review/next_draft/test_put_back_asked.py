"""What was changed elsewhere and here as well: the writer is asked, and nothing is stored until they have chosen."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from review.access import Role
from review.people.models import Department
from review.rewriting.scene_acts import move_scene
from tests.factories import make_member
from tests.review.next_draft.taken_elsewhere import TEXT, put_back, rewrite_here, take_away

if TYPE_CHECKING:
    from django.test import Client

    from review.people.models import Member
    from review.rewriting.models import WorkingDraft

pytestmark = pytest.mark.django_db


def test_a_scene_cut_elsewhere_and_rewritten_here_is_asked_about(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    taken = take_away(client, writer)
    rewrite_here(writer, working, "Fog over", "Sleet over")
    response = put_back(client, writer, taken[: taken.index("EXT. PIER")] + taken[taken.index("INT. HUT") :])
    assert response.status_code == 422
    assert "One text cuts this" in response.content.decode()


@pytest.mark.parametrize("chosen", ["ours", "theirs"])
def test_a_scene_put_into_a_boneyard_elsewhere_and_rewritten_here_is_asked_about(
    client: Client, writer: Member, working: WorkingDraft, chosen: str
) -> None:
    taken = take_away(client, writer)
    pier, hut = taken.index("EXT. PIER"), taken.index("INT. HUT")
    edited = f"{taken[:pier]}/*\r\n{taken[pier:hut]}*/\r\n\r\n{taken[hut:]}"
    rewrite_here(writer, working, "Fog over", "Sleet over")
    page = put_back(client, writer, edited).content.decode()
    (seen,) = re.findall(r'name="seen" value="(\w+)"', page)
    assert put_back(client, writer, edited, seen=seen, **{"choice-1": chosen}).status_code == 302
    assert working.joined_text() == (TEXT.replace("Fog", "Sleet") if chosen == "ours" else edited)


def test_a_scene_moved_here_and_elsewhere_is_asked_about_at_both_places(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    taken = take_away(client, writer)
    pier, hut = taken.index("EXT. PIER"), taken.index("INT. HUT")
    move_scene(writer, working.scenes.get(ordinal=2), None)
    edited = f"{taken[:pier]}{taken[hut:]}\r\n{taken[pier:hut]}"
    page = put_back(client, writer, edited).content.decode()
    assert page.count("Both moved this scene") == 2
    (seen,) = re.findall(r'name="seen" value="(\w+)"', page)
    put_back(client, writer, edited, seen=seen, **{"choice-1": "ours", "choice-2": "ours"})
    assert [scene.text[:9] for scene in working.scenes.order_by("position")][1:] == [
        "EXT. PIER",
        "INT. FERR",
        "INT. HUT ",
    ]


def test_lines_changed_in_both_texts_are_shown_and_nothing_is_stored(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    taken = take_away(client, writer)
    rewrite_here(writer, working, "Fog over", "Sleet over")
    response = put_back(client, writer, taken.replace("Fog over", "Haar over"))
    page = response.content.decode()
    assert response.status_code == 422
    assert "Sleet" in page
    assert "Haar" in page
    assert working.joined_text() == TEXT.replace("Fog", "Sleet")


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"choice-1": "ours"}, "Sleet over the posts."),
        ({"choice-1": "theirs"}, "Haar over the posts."),
        ({"choice-1": "other", "other-1": "Sleet and haar over the posts.\r\n"}, "Sleet and haar over the posts."),
        ({"choice-1": "other", "other-1": "No line end."}, "No line end."),
        ({"choice-1": "other", "other-1": "One.\r\nTwo."}, "One.\r\nTwo."),
    ],
)
def test_the_writer_chooses_or_writes_what_is_to_stand(
    client: Client, writer: Member, working: WorkingDraft, said: dict[str, str], words: str
) -> None:
    taken = take_away(client, writer)
    rewrite_here(writer, working, "Fog over", "Sleet over")
    edited = taken.replace("Fog over", "Haar over")
    page = put_back(client, writer, edited).content.decode()
    (seen,) = re.findall(r'name="seen" value="(\w+)"', page)
    put_back(client, writer, edited, seen=seen, **said)
    assert working.joined_text() == TEXT.replace("Fog over the posts.", words)


def test_where_the_text_here_was_chosen_everywhere_that_is_said(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    taken = take_away(client, writer)
    rewrite_here(writer, working, "Fog over", "Sleet over")
    edited = taken.replace("Fog over", "Haar over")
    (seen,) = re.findall(r'name="seen" value="(\w+)"', put_back(client, writer, edited).content.decode())
    answer = put_back(client, writer, edited, seen=seen, **{"choice-1": "ours"})
    assert "The text here stands as it was. Each scene keeps" in client.get(answer.url).content.decode()


def test_a_null_character_in_what_is_to_stand_gets_a_sentence(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    taken = take_away(client, writer)
    rewrite_here(writer, working, "Fog over", "Sleet over")
    edited = taken.replace("Fog over", "Haar over")
    (seen,) = re.findall(r'name="seen" value="(\w+)"', put_back(client, writer, edited).content.decode())
    response = put_back(client, writer, edited, seen=seen, **{"choice-1": "other", "other-1": "Sl\0eet."})
    assert response.status_code == 400
    assert "There is a null character in what you sent" in response.text
    assert working.joined_text() == TEXT.replace("Fog", "Sleet")


def test_a_choice_made_before_another_writer_saved_is_asked_again(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    taken = take_away(client, writer)
    rewrite_here(writer, working, "Fog over", "Sleet over")
    edited = taken.replace("Fog over", "Haar over")
    page = put_back(client, writer, edited).content.decode()
    (seen,) = re.findall(r'name="seen" value="(\w+)"', page)
    other = make_member(writer.production, Role.WRITER, Department.WRITING, "Idris Fell")
    rewrite_here(other, working, "Sleet over", "Snow over")
    response = put_back(client, writer, edited, seen=seen, **{"choice-1": "theirs"})
    assert response.status_code == 409
    assert "Snow over" in working.joined_text()
