"""The demo's readings: what they tell at one look."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from django.utils import timezone

from review.demo.readings import read_readings
from review.drafts.scripts import laid_out
from review.notes.models import Note
from review.readers.models import Reader, Reading
from review.readings.compared import compared
from review.readings.learned import learned
from review.readings.models import ClarityMark
from review.readings.progress import reader_rows
from review.readings.question_models import BlindAnswer

if TYPE_CHECKING:
    from review.demo.load import DemoPeople

pytestmark = pytest.mark.django_db


def test_it_has_a_closed_reading_of_the_first_draft_and_an_open_blind_one_of_the_second(people: DemoPeople) -> None:
    first, second = Reading.objects.order_by("draft__number")
    assert (first.is_open, second.is_open, second.is_blind) == (False, True, True)
    assert second.until >= timezone.localdate()
    rows = reader_rows(second)
    assert [row.read for row in rows] == [28, 28, 28, 25, 20, 9]
    assert sum(row.reader.finished_at is not None for row in rows) == 3


def test_the_open_one_shows_at_one_look_which_three_scenes_fail_and_why(people: DemoPeople) -> None:
    found = learned(people.writer, Reading.objects.get(draft__number=2))
    assert found.sentence == (
        "Three scenes lose readers. Scene 19 EXT. FERRY - DECK - CONTINUOUS loses Aoife Brandt, Bex Tannahill and Femi"
        " Osgood: “Tuck is where?”. Scene 23 INT. CHANDLER'S ROW - BACK BEDROOM - NIGHT loses Bex Tannahill, Greta"
        " Hollow and Wick Sandover: “Whose hand?”. Scene 21 EXT. FERRY - STERN - NIGHT is slow for Greta Hollow and"
        " Wick Sandover: “two pages before the boy”."
    )
    bedroom = found.scenes[22]
    assert {answer.answer.reader.name for _, answer in bedroom.missed} == {"Wick Sandover", "Bex Tannahill"}
    assert all(cell.was_alone for scene in found.scenes for cell in scene.cells)
    assert any(scene.long_for for scene in found.scenes)


def test_the_scenes_that_lost_people_in_the_first_hold_in_the_second_or_are_cut(people: DemoPeople) -> None:
    first, second = Reading.objects.order_by("draft__number")
    found = compared(people.writer, first, second)
    assert found.sentence == "Of 2 scenes that lost readers, 1 holds better, 1 is cut. 3 others lose them now."
    assert [scene.ordinal for scene in found.losing] == [19, 21, 23]


def test_who_has_not_finished_sees_nothing_of_the_others(people: DemoPeople) -> None:
    maren = people.members["maren"]
    assert not Note.objects.visible_to(maren).exclude(author=maren).exists()
    assert not ClarityMark.objects.visible_to(maren).exclude(reader__member=maren).exists()
    assert not BlindAnswer.objects.visible_to(maren).exclude(reader__member=maren).exists()
    assert Note.objects.visible_to(people.members["noor"]).exclude(author=people.members["noor"]).exists()


def test_each_scene_it_names_is_the_one_it_means(people: DemoPeople) -> None:
    told = read_readings()
    named = [(reading["draft"], mark) for reading in told["readings"] for mark in reading["marks"]]
    named += [(purpose["draft"], purpose) for purpose in told["purposes"]]
    drafts = {draft.number: draft for draft in people.production.drafts.all()}
    for number, each in named:
        assert laid_out(drafts[number]).scenes[each["scene"] - 1].heading == each["heading"]


def test_it_happened_one_after_the_other_and_not_in_the_future(people: DemoPeople) -> None:
    for reader in Reader.objects.select_related("reading"):
        assert reader.reading.created_at <= (reader.begun_at or timezone.now()) <= timezone.now()
        assert all(reader.reading.created_at <= mark.created_at <= timezone.now() for mark in reader.marks.all())
    first = Reading.objects.get(draft__number=1)
    assert first.closed_at is not None
    assert first.created_at < first.closed_at < people.production.drafts.get(number=2).created_at
