"""The days of the story, as the writer sets them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.urls import reverse

from review.scenes.breakdown import scene_rows
from review.scenes.models import StoryDay
from tests.factories import make_draft

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

SCENES = ["INT. PIER - DAY\n\nNobody rows.", "EXT. FIELD - DAY\n\nHay.", "INT. KITCHEN - NIGHT\n\nSalt and eggs."]


def send(client: Client, member: Member, number: int = 1, **days: str) -> int:
    address = reverse("scenes-days", args=[member.production.public_id, number])
    return client.post(address, {f"day-{scene[1:]}": day for scene, day in days.items()}).status_code


def days_of(member: Member, draft: Draft) -> list[int]:
    return [row.story_day for row in scene_rows(member, draft)]


def test_the_days_behind_one_that_is_set_go_on_from_there(writer: Member, signed_in: SignIn) -> None:
    draft = make_draft(writer, "\n\n".join(SCENES))
    assert days_of(writer, draft) == [1, 1, 1]
    assert send(signed_in(writer), writer, s2="5") == 302
    assert days_of(writer, draft) == [1, 5, 5]
    send(signed_in(writer), writer, s2="")
    assert days_of(writer, draft) == [1, 1, 1]
    assert StoryDay.objects.count() == 2


def test_a_day_follows_its_scene_into_the_next_draft(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "\n\n".join(SCENES))
    send(signed_in(writer), writer, s2="5")
    second = make_draft(writer, "\n\n".join(["INT. ATTIC - DAY\n\nBoxes.", SCENES[0], SCENES[1], SCENES[2]]), 2)
    assert days_of(writer, second) == [1, 1, 5, 5]


def test_what_is_no_day_is_refused_with_a_sentence(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "\n\n".join(SCENES))
    for wrong in ("0", "noon", "1.5"):
        assert send(signed_in(writer), writer, s1=wrong) == 422
    assert not StoryDay.objects.exists()
