"""A working draft that goes on from a draft put up meanwhile: what changed there is taken over."""

from __future__ import annotations

import re
import uuid
from typing import TYPE_CHECKING

import pytest

from review.publishing.acts import publish_draft
from review.rewriting.acts import begin_working
from review.rewriting.scene_acts import cut_scene
from screenplay.intake import read_text
from tests.factories import make_draft
from tests.review.next_draft.taken_elsewhere import TEXT, address, rewrite_here

if TYPE_CHECKING:
    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.rewriting.models import WorkingDraft

pytestmark = pytest.mark.django_db


def put_up(writer: Member, before: str, after: str) -> Draft:
    """A second draft, put up while the working draft is open."""
    return publish_draft(writer, read_text(TEXT.replace(before, after)))[0]


def test_what_a_draft_put_up_meanwhile_changed_is_taken_over(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    rewrite_here(writer, working, "Fog over", "Sleet over")
    draft = put_up(writer, "Dark, and a stove.", "Dark, and no stove.")
    assert "Take its changes over" in client.get(address(writer, "working")).content.decode()
    client.post(address(writer, "working-catch-up"))
    working.refresh_from_db()
    assert working.base == draft
    text = TEXT.replace("Fog over", "Sleet over").replace("Dark, and a stove.", "Dark, and no stove.")
    assert working.joined_text() == text
    assert "Take its changes over" not in client.get(address(writer, "working")).content.decode()


def rows_on(page: str) -> list[str]:
    """What the screen says of each scene: its number, name and tags."""
    rows = re.findall(r'<li class="working-scene[^"]*".*?</li>', page, re.DOTALL)
    return [" ".join(re.sub(r"<[^>]+>", " ", row.split("<details")[0].split("<form")[0]).split()) for row in rows]


def test_what_is_touched_is_told_from_the_draft_that_it_goes_on_from(client: Client, writer: Member) -> None:
    """Where a scene was split that one which is gone stood behind, that one stands behind both its parts."""
    rain, heading = "Rain on the deck.\n\nThe engine coughs and dies.\n\n", "INT. BRIDGE - DAY\n\n"
    wheel = "Nobody has touched the wheel.\n\nThe radio hums.\n\n"
    pier, mole = "EXT. PIER - DAY\n\nFog over the posts.\n\n", "EXT. MOLE - DAWN\n\nGulls on every stone of it.\n\n"
    hut = "INT. HUT - NIGHT\n\nDark, and a stove.\n"
    first = f"INT. FERRY - DAY\n\n{rain}{wheel}{pier}{hut}"
    working = begin_working(writer, make_draft(writer, first), uuid.uuid4())
    text = f"INT. FERRY - DAY\n\n{rain}{heading}{wheel}{mole}{hut}"
    publish_draft(writer, read_text(text))

    page = client.post(address(writer, "working-catch-up"), follow=True).text

    assert working.joined_text() == text
    assert "4 scenes. Only writers" in " ".join(page.split())
    assert [row.split(" page ")[0] for row in rows_on(page)] == [
        "Before the first scene",
        "1 INT. FERRY - DAY",
        "2 INT. BRIDGE - DAY",
        "EXT. PIER - DAY Not in draft 2",
        "3 EXT. MOLE - DAWN",
        "4 INT. HUT - NIGHT",
    ]
    assert not [row for row in rows_on(page) if row.endswith(("Changed", "New", "Cut"))]
    rewrite_here(writer, working, "Gulls on", "Terns on")
    cut_scene(writer, next(scene for scene in working.scenes.all() if "a stove" in scene.text))
    page = client.get(address(writer, "working")).content.decode()
    assert "3 scenes, 2 touched. Only writers" in " ".join(page.split())
    assert [row.split()[-1] for row in rows_on(page)][-2:] == ["Changed", "Cut"]


def test_what_both_changed_is_asked_about_before_it_goes_on_from_there(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    rewrite_here(writer, working, "Fog over", "Sleet over")
    draft = put_up(writer, "Fog over", "Haar over")
    told = client.post(address(writer, "working-catch-up"))
    page = told.content.decode()
    assert told.status_code == 422
    assert f"As in draft {draft.number}" in page
    working.refresh_from_db()
    assert working.base != draft
    (seen,) = re.findall(r'name="seen" value="(\w+)"', page)
    client.post(address(writer, "working-catch-up"), {"seen": seen, "choice-1": "theirs"})
    working.refresh_from_db()
    assert working.base == draft
    assert working.joined_text() == TEXT.replace("Fog over", "Haar over")
