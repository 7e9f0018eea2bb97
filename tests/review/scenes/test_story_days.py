"""The days of the story, as the writer sets them."""

from __future__ import annotations

import csv
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.scenes.acts import ImpossibleDay, UnknownScene, set_story_days
from review.scenes.breakdown import scene_rows
from review.scenes.models import StoryDay
from screenplay.intake.limits import MOST_SCENES
from tests.factories import make_draft

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.http import HttpResponse
    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

SCENES = ["INT. PIER - DAY\n\nNobody rows.", "EXT. FIELD - DAY\n\nHay.", "INT. KITCHEN - NIGHT\n\nSalt and eggs."]


def form_of(client: Client, member: Member) -> dict[str, str]:
    """What the form on the page has in its fields."""
    address = reverse("scenes-days", args=[member.production.public_id, 1])
    return fields_of(BeautifulSoup(client.get(address).text, "html.parser"))


def fields_of(page: BeautifulSoup) -> dict[str, str]:
    return {str(field["name"]): str(field.get("value", "")) for field in page.select("main form input[name]")}


def post(client: Client, member: Member, form: dict[str, str], **days: str) -> HttpResponse:
    """Send a form with other days in some of its fields, s2 for scene 2."""
    told = form | {f"day-{scene[1:]}": day for scene, day in days.items()}
    return client.post(reverse("scenes-days", args=[member.production.public_id, 1]), told)  # type: ignore[return-value]


def send(client: Client, member: Member, **days: str) -> int:
    return post(client, member, form_of(client, member), **days).status_code


def days_of(member: Member, draft: Draft) -> list[int | None]:
    return [row.story_day for row in scene_rows(member, draft)]


def test_the_days_behind_one_that_is_set_go_on_from_there(writer: Member, signed_in: SignIn) -> None:
    draft = make_draft(writer, "\n\n".join(SCENES))
    assert days_of(writer, draft) == [1, 1, 1]
    assert send(signed_in(writer), writer, s2="5") == 302
    assert days_of(writer, draft) == [1, 5, 5]
    send(signed_in(writer), writer, s2="")
    assert days_of(writer, draft) == [1, 1, 1]
    assert StoryDay.objects.count() == 2


def test_a_scene_marked_as_a_memory_is_told_to_have_no_day(writer: Member, signed_in: SignIn) -> None:
    attic = "INT. ATTIC - NIGHT\n\nBoxes.\n\n"
    make_draft(writer, f"{attic}EXT. PIER - DAY (FLASHBACK)\n\nSun.\n\n{attic}")
    client, at = signed_in(writer), [writer.production.public_id, 1]

    def page(name: str) -> BeautifulSoup:
        return BeautifulSoup(client.get(reverse(name, args=at)).text, "html.parser")

    assert client.get(reverse("scenes-days-told", args=at)).text == "1=1 9=1"
    assert [row.select("td")[1].text for row in page("scenes").select("tbody tr")] == ["1", "None", "1"]
    told = [" ".join(each.text.split()) for each in page("scenes-days").select(".order-row .soft")]
    assert [each.rpartition(", ")[2] for each in told] == ["day 1", "no day", "day 1"]
    assert "no story day" in " ".join(page("scenes-order").text.split())
    table = client.get(reverse("scenes-file", args=[*at, "csv"])).text.removeprefix("\ufeff")
    assert [row["Story day"] for row in csv.DictReader(table.splitlines())] == ["1", "", "1"]


def test_a_day_follows_its_scene_into_the_next_draft(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "\n\n".join(SCENES))
    send(signed_in(writer), writer, s2="5")
    second = make_draft(writer, "\n\n".join(["INT. ATTIC - DAY\n\nBoxes.", SCENES[0], SCENES[1], SCENES[2]]), 2)
    assert days_of(writer, second) == [1, 1, 5, 5]


def test_the_script_s_page_is_told_each_day_at_its_scene_s_heading(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    draft = make_draft(writer, "\n\n".join(SCENES))
    send(signed_in(writer), writer, s2="5")
    address = reverse("scenes-days-told", args=[draft.production.public_id, draft.number])
    assert signed_in(crew).get(address).text == "1=1 5=5 9=5"
    script = signed_in(crew).get(reverse("script", args=[draft.production.public_id, draft.number])).text
    assert f'data-days="{address}"' in script


def test_what_is_no_day_is_refused_with_a_sentence(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, "\n\n".join(SCENES))
    for wrong in ("0", "noon", "1.5"):
        assert send(signed_in(writer), writer, s1=wrong) == 422
    assert not StoryDay.objects.exists()


def test_a_page_from_before_leaves_what_a_colleague_set_meanwhile(writer: Member, signed_in: SignIn) -> None:
    draft = make_draft(writer, "\n\n".join(SCENES))
    client = signed_in(writer)
    from_before = form_of(client, writer)
    send(client, writer, s2="5")
    assert post(client, writer, from_before, s3="9").status_code == 302
    assert days_of(writer, draft) == [1, 5, 9]


def test_two_who_set_one_scene_are_told_before_either_is_written_over(writer: Member, signed_in: SignIn) -> None:
    draft = make_draft(writer, "\n\n".join(SCENES))
    client = signed_in(writer)
    from_before = form_of(client, writer)
    send(client, writer, s2="5")
    answer = post(client, writer, from_before, s2="7", s3="9")
    assert answer.status_code == 409
    page = BeautifulSoup(answer.content, "html.parser")
    assert "Somebody set day 5 here meanwhile" in page.get_text()
    assert days_of(writer, draft) == [1, 5, 5]

    again = fields_of(page)
    assert post(client, writer, again).status_code == 302
    assert days_of(writer, draft) == [1, 7, 9]


def test_a_scene_that_is_not_there_and_a_day_that_cannot_be_are_refused(writer: Member) -> None:
    draft = make_draft(writer, "\n\n".join(SCENES))
    for scene in (0, 4):
        with pytest.raises(UnknownScene):
            set_story_days(writer, draft, {1: 2, scene: 2}, {})
    for day in (0, 10_000):
        with pytest.raises(ImpossibleDay):
            set_story_days(writer, draft, {1: 2, 2: day}, {})
    assert not StoryDay.objects.exists()


def test_the_form_of_the_longest_script_there_can_be_is_taken_in(writer: Member, signed_in: SignIn) -> None:
    """By its number of fields: one for each scene, the days that were seen, and the proof that the form is ours."""
    draft = make_draft(writer, "\n\n".join(SCENES))
    whole = {f"day-{scene}": "" for scene in range(1, MOST_SCENES + 1)} | {"seen": "", "csrfmiddlewaretoken": "-"}
    assert post(signed_in(writer), writer, whole, s2="5").status_code == 302
    assert days_of(writer, draft) == [1, 5, 5]
