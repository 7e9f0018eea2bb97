"""How long it takes to save a scene while it is typed, and to show it, in a script of 120 pages: against a bare save,
an ORM update of one row with its transaction, and against reading and laying out the script, in the same run."""

from __future__ import annotations

import sys
import uuid
from itertools import count
from typing import TYPE_CHECKING

import pytest
from django.db import transaction
from django.urls import reverse

from review.rewriting.acts import begin_working
from review.rewriting.models import WorkingScene
from screenplay import lay_out, parse
from tests.bench.stopwatch import least_seconds
from tests.factories import make_draft
from tests.feature_script import feature_script
from tests.review.conftest import production, signed_in, writer  # noqa: F401 - fixtures

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client
    from pytest_benchmark.fixture import BenchmarkFixture

    from review.people.models import Member

PAGES = 120
BARE_SAVES = 20  # measured at one go, as one takes no longer than the clock is exact
MOST_BARE_SAVES_A_SAVE = 160
MOST_BARE_SAVES_A_LOOK = 110
# What a save cost before: the script was read for where its scenes begin, read again for the page, and laid out.
MOST_OF_READING_TWICE_AND_LAYING_OUT = 0.25


@pytest.mark.django_db(transaction=True)
def test_saving_and_showing_a_scene_that_is_typed_costs_what_the_scene_costs(
    benchmark: BenchmarkFixture,
    writer: Member,  # noqa: F811
    signed_in: Callable[[Member], Client],  # noqa: F811
) -> None:
    text = feature_script(PAGES)
    assert PAGES - 10 < lay_out(parse(text)).page_count < PAGES + 10
    working = begin_working(writer, make_draft(writer, text), uuid.uuid4())
    scene = working.scenes.order_by("position")[70]
    client, versions = signed_in(writer), count(1)
    place = [writer.production.public_id, scene.public_id]
    client.get(reverse("working-scene", args=place))

    def form(version: int) -> dict[str, object]:
        return {"text": f"{scene.text}{'So. ' * version}\n\n", "seen": version, "form_id": uuid.uuid4(), "as_typed": 1}

    def save() -> None:
        answer = client.post(reverse("working-scene", args=place), form(next(versions)), headers={"HX-Request": "true"})
        assert answer.status_code == 200

    def look() -> None:
        assert client.post(reverse("working-scene-typed", args=place), form(3)).status_code == 200

    def save_barely() -> None:
        for _ in range(BARE_SAVES):
            with transaction.atomic():
                WorkingScene.objects.filter(pk=scene.pk).update(position=scene.position)

    def read_twice_and_lay_out() -> None:
        parse(text)
        lay_out(parse(text))

    benchmark(look)
    saving, looking, bare, whole = least_seconds(save, look, save_barely, read_twice_and_lay_out, tries=7)
    bare /= BARE_SAVES
    told = f"{saving / bare:.0f} bare saves, {saving / whole:.2f} of reading twice and laying out"
    sys.stdout.write(f"\nSaving a scene that is typed: {told}; showing it: {looking / bare:.0f} bare saves\n")
    assert saving <= MOST_BARE_SAVES_A_SAVE * bare
    assert looking <= MOST_BARE_SAVES_A_LOOK * bare
    assert saving <= MOST_OF_READING_TWICE_AND_LAYING_OUT * whole
