"""The demo's talks: one that was held, with what was said and decided in it, and one to come."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from django.utils import timezone

from review.decisions.models import Decision
from review.demo.talks import read_talks
from review.drafts.scripts import laid_out
from review.notes.models import Note
from review.talks.agenda import agenda
from review.talks.models import Talk

if TYPE_CHECKING:
    from review.demo.load import DemoPeople

pytestmark = pytest.mark.django_db


def test_one_was_held_between_the_drafts_and_one_is_to_come(people: DemoPeople) -> None:
    held, to_come = Talk.objects.order_by("draft__number")
    first, second = people.production.drafts.all()
    assert held.is_past
    assert first.created_at < held.created_at < held.starts_at < held.ends_at < second.created_at
    assert list(Talk.objects.to_come()) == [to_come]
    assert second.created_at < to_come.created_at < timezone.now()
    assert to_come in Talk.objects.known_to(people.members["wick"])


def test_what_was_said_in_it_is_taken_down_in_their_names_and_decided_on_the_spot(people: DemoPeople) -> None:
    held = Talk.objects.get(draft__number=1)
    said = Note.objects.exclude(taken_down_by=None)
    assert {note.author for note in said} == set(held.members.all())
    assert list(held.taken_down.order_by("pk")) == list(said.order_by("pk"))
    assert all(held.starts_at < note.created_at < held.ends_at for note in said)
    decisions = Decision.objects.filter(note__in=said)
    assert decisions.count() == len(said) - 1  # one was left open
    assert all(held.starts_at < decision.created_at < held.ends_at for decision in decisions)


def test_the_one_to_come_has_something_to_talk_about(people: DemoPeople) -> None:
    found = agenda(people.writer, Talk.objects.get(draft__number=2))
    assert found.notes
    assert any(scene.lost for scene in found.scenes)


def test_each_scene_it_names_is_the_one_it_means(people: DemoPeople) -> None:
    drafts = {draft.number: draft for draft in people.production.drafts.all()}
    for talk in read_talks():
        for said in talk["said"]:
            assert laid_out(drafts[talk["draft"]]).scenes[said["scene"] - 1].heading == said["heading"]
