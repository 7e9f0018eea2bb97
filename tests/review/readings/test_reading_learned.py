"""What came of a reading, and two readings compared."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from review.people.models import Department
from review.publishing.acts import publish_draft
from review.readings.acts import Asked, close_reading, open_reading
from review.readings.compared import compared
from review.readings.glance import NUMBERS_AT, glance
from review.readings.learned import learned
from review.readings.question_acts import Asking, answer_questions, ask, judge, show_intended
from review.readings.question_models import BlindAnswer
from review.readings.reader_acts import finish_reading, mark_scene, report_progress, share_time
from screenplay.intake import read_text
from tests.factories import SCRIPT, make_draft, make_member, make_note, make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.readers.models import Reading

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db

HEAD, BOATHOUSE = SCRIPT[: SCRIPT.index("INT. BOATHOUSE")], SCRIPT[SCRIPT.index("INT. BOATHOUSE") :]
SLIPWAY = BOATHOUSE[BOATHOUSE.index("EXT. SLIPWAY") :]


@pytest.fixture
def third(writer: Member) -> Member:
    return make_member(writer.production, Role.CREW, Department.SOUND, "Ida Moss")


@pytest.fixture
def reading(writer: Member, crew: Member, cast: Member, third: Member, draft: Draft) -> Reading:
    return make_reading(writer, draft, crew, cast, third)


def page_of(client: Client, reading: Reading, name: str = "reading-learned", *more: str) -> BeautifulSoup:
    address = reverse(name, args=[reading.production.public_id, reading.public_id, *more])
    return BeautifulSoup(client.get(address).text, "html.parser")


def text_of(page: BeautifulSoup, selector: str) -> str:
    return " ".join(" ".join(each.get_text(" ") for each in page.select(selector)).split())


def test_it_says_at_the_top_which_scenes_lose_whom_and_what_each_says(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, third: Member, reading: Reading
) -> None:
    for member, why in ((crew, "Who took the skiff?"), (cast, "the skiff"), (third, "")):
        mark_scene(member, reading, 1, "clear")
        mark_scene(member, reading, 2, "slow" if member == third else "lost", why)
    page = page_of(signed_in(writer), reading)
    assert text_of(page, ".learned-sentence") == (
        "One scene loses readers. Scene 2 EXT. SLIPWAY - DAWN loses Bo Finch (“Who took the skiff?”) and Cleo Marsh"
        " (“the skiff”) and is slow for Ida Moss. Most say “skiff”."
    )
    assert "2 lost 1 slow" in text_of(page, "#scene-2")
    assert "3 clear" in text_of(page, "#scene-1")
    assert "Fleiss’ kappa" in text_of(page, ".learned-agreement")


def test_it_says_whose_words_count_already_though_they_are_still_reading(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, third: Member, reading: Reading
) -> None:
    """Named to writers: how far others are is no reader's business."""
    for member in (crew, cast):
        mark_scene(member, reading, 2, "slow")
    finish_reading(cast, reading)
    client = signed_in(writer)
    assert text_of(page_of(client, reading), ".learned-unfinished") == (
        "Still reading: Bo Finch. What they said so far counts in this, and they can change it until they finish."
    )
    told = text_of(page_of(signed_in(cast), reading), ".learned-unfinished")
    assert told.startswith("Some are still reading. What they said so far counts in this,")
    close_reading(writer, reading)
    assert not page_of(signed_in(writer), reading).select(".learned-unfinished")
    assert "is slow for Bo Finch and Cleo Marsh" in learned(writer, reading).sentence


def test_each_scene_has_its_hot_lines_its_notes_by_kind_and_the_answers_that_missed(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, third: Member, draft: Draft, reading: Reading
) -> None:
    for member in (crew, cast, third):
        make_note(member, draft, 17, kind="confusion")
    make_note(writer, draft, 17)
    of_scene = ask(writer, reading, Asking("Where is it?", "scene", 2, intended="Gone"), uuid.uuid4())
    of_all = ask(writer, reading, Asking("Who tells it?", intended="Nell"), uuid.uuid4())
    answer_questions(crew, reading, {of_scene.public_id: "Sunk", of_all.public_id: "Tobias"})
    answer_questions(third, reading, {of_scene.public_id: "Adrift"})
    for answer in BlindAnswer.objects.all():
        judge(writer, answer, "partly" if answer.text == "Adrift" else "missed")
    page = page_of(signed_in(writer), reading)
    slipway = text_of(page, "#scene-2")
    assert "Hot lines Mist. The skiff is gone. Bo Finch, Cleo Marsh, Ida Moss" in slipway
    assert "Notes: Confusion 3" in slipway
    told = "Answers that missed, in part or whole “Where is it?” You mean: Gone "
    assert told + "Bo Finch missed Sunk Ida Moss partly Adrift" in slipway
    assert "Tobias" in text_of(page, "[aria-labelledby=about-all]")
    assert "Hot lines" not in text_of(page, "#scene-1")


def test_hot_lines_count_readers_not_names_nor_what_somebody_brought_in(
    writer: Member, crew: Member, cast: Member, third: Member, draft: Draft, reading: Reading
) -> None:
    for member in (crew, third):
        make_note(member, draft, 17)
    make_note(cast, draft, 17, said_by="Gwen Tarn")
    make_note(third, draft, 17, kind="question", said_by="Otto Pell")
    slipway = learned(writer, reading).scenes[1]
    assert not slipway.hot
    assert sum(count for _, count in slipway.kinds) == 2
    third.person.name = crew.name
    third.person.save()
    make_note(cast, draft, 17)
    ((hot,),) = (scene.hot for scene in learned(writer, reading).scenes if scene.hot)
    assert hot.lines.readers == ("Bo Finch", "Bo Finch", "Cleo Marsh")


def test_the_picture_has_a_column_for_each_scene_as_wide_as_it_is_long_and_the_table_says_the_same(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft, reading: Reading
) -> None:
    mark_scene(crew, reading, 1, "lost")
    mark_scene(cast, reading, 2, "clear")
    page = page_of(signed_in(writer), reading)
    columns = page.select(".glance-picture a")
    script = reverse("script", args=[writer.production.public_id, 1])
    assert [column["href"] for column in columns] == [f"{script}#L4", f"{script}#L15"]
    bars = page.select("rect.glance-lost:not(.glance-column), rect.glance-clear")
    heights = [float(str(bar["height"])) for bar in bars]
    assert heights[0] > heights[1]
    rows = [" ".join(row.get_text(" ").split()) for row in page.select(".learned-table tbody tr")]
    assert rows[0].endswith("Lost me – not read – not read")
    assert rows[1].endswith("– not read Clear – not read")
    assert page.select_one(".table-hint-phone + .table-scroll .learned-table")
    assert page.select_one(f'.learned-table td a[href="{script}#L4"]')
    assert not page.select("[style]")
    widths = [str(column["width"]) for column in page.select(".glance-column")]
    assert sum(float(width.removesuffix("%")) for width in widths) == pytest.approx(100, abs=0.1)


def test_the_picture_is_whole_on_a_phone_with_names_that_fit_and_numbers_that_do_not_touch(
    writer: Member, crew: Member, cast: Member
) -> None:
    script = "\n\n".join(f"INT. ROOM {n} - DAY\n\nOne line." for n in range(20))
    bo = make_member(writer.production, Role.CREW, Department.SOUND, "Bo Ash")
    reading = make_reading(writer, make_draft(writer, script), crew, cast, bo)
    for member in (crew, cast):
        for scene in (3, 4, 5, 19):
            mark_scene(member, reading, scene, "lost")
    drawn = glance(learned(writer, reading))
    assert [row.short for row in drawn.rows] == ["Bo A.", "Bo F.", "Cleo"]
    high, low = sorted(NUMBERS_AT)
    assert [column.number_at for column in drawn.columns if column.learned.lost] == [low, high, low, low]


def test_time_is_told_where_it_is_shared_and_nowhere_else(writer: Member, crew: Member, cast: Member) -> None:
    script = "\n\n".join(f"INT. ROOM {n} - DAY\n\nOne line." for n in range(4))
    reading = make_reading(writer, make_draft(writer, script), crew, cast)
    for member in (crew, cast):
        report_progress(member, reading, {1: 10, 2: 10, 3: 10, 4: 40})
    share_time(crew, reading, shares=True)
    found = learned(writer, reading)
    assert [each.long_for for each in found.scenes] == [(), (), (), (("Bo Finch", 4.0),)]
    assert all(not each.long_for for each in learned(crew, reading).scenes)


def test_a_reader_hears_the_others_once_they_have_finished_and_not_before(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, reading: Reading
) -> None:
    one = ask(writer, reading, Asking("Whose lamp is it?", intended="The ferry’s own"), uuid.uuid4())
    mark_scene(cast, reading, 2, "lost", "whose skiff")
    answer_questions(cast, reading, {one.public_id: "Tobias has it"})
    judge(writer, BlindAnswer.objects.get(), "missed")
    client = signed_in(crew)
    address = reverse("reading-learned", args=[crew.production.public_id, reading.public_id])
    refused = client.get(address)
    assert refused.status_code == 403
    assert "once you have finished" in refused.text
    finish_reading(crew, reading)
    told = " ".join(page_of(client, reading).get_text(" ").split())
    assert "whose skiff" in told
    assert "Tobias has it" in told
    assert "The ferry’s own" not in told
    assert "missed" not in told
    show_intended(writer, one)
    assert "The ferry’s own" in page_of(client, reading).get_text(" ")


def test_what_was_said_after_seeing_others_is_told_as_such(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    open_to_all = make_reading(writer, draft, crew, is_blind=False)
    mark_scene(crew, open_to_all, 1, "lost", "whose lamp")
    open_to_all.readers.update(others_open_at=open_to_all.created_at)
    assert "after seeing others" in text_of(page_of(signed_in(writer), open_to_all), "#scene-1")


def test_it_asks_the_database_no_more_often_for_many_readers(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft, reading: Reading
) -> None:
    client = signed_in(writer)

    def queries() -> int:
        with CaptureQueriesContext(connection) as captured:
            page_of(client, reading)
        return len(captured)

    mark_scene(crew, reading, 1, "lost")
    make_note(crew, draft, 6)
    few = queries()
    for n in range(8):
        member = make_member(writer.production, name=f"Reader {n}")
        reading.readers.create(member=member)
        mark_scene(member, reading, 1, "lost", "why")
        make_note(member, draft, 6)
    assert queries() == few


def test_two_readings_are_compared_by_the_same_readers_and_by_fresh_ones_wherever_a_scene_went(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, third: Member, reading: Reading
) -> None:
    for member in (crew, cast):
        mark_scene(member, reading, 1, "lost")
        mark_scene(member, reading, 2, "lost")
    second, _ = publish_draft(writer, read_text(f"{HEAD}INT. LOFT - DAY\n\nDust.\n\n{SLIPWAY}"))
    again = make_reading(writer, second, crew, third)
    for member in (crew, third):
        mark_scene(member, again, 2, "clear")
    found = compared(writer, reading, again)
    assert found.sentence == "Of 2 scenes that lost readers, 1 holds better, 1 is cut."
    told = [(each.then and each.then.ordinal, *(later.scene.ordinal for later in each.now)) for each in found.scenes]
    assert told == [(1,), (2, 2)]
    assert found.scenes[1].hold.same == (("Bo Finch", True),)
    assert (found.scenes[1].hold.fresh_held, found.scenes[1].hold.fresh_marked) == (1, 1)
    page = page_of(signed_in(writer), again, "reading-compare", reading.public_id)
    rows = [" ".join(row.get_text(" ").split()) for row in page.select(".compare-table tbody tr")]
    assert rows[0].startswith("1 INT. BOATHOUSE - NIGHT lost readers cut cut 0 of 2")
    assert "lost readers holds better 2 " in rows[1]
    assert "Bo Finch is held 1 of 1 held" in rows[1]
    assert "Against the reading of draft 1" in page_of(signed_in(writer), again).get_text(" ")
    later_one = reverse("reading-compare", args=[writer.production.public_id, reading.public_id, again.public_id])
    assert signed_in(writer).get(later_one).status_code == 404


def test_agreement_counts_those_who_have_finished_where_they_are_enough(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, third: Member, reading: Reading
) -> None:
    beginner = make_member(writer.production, name="Rue Long")
    reading.readers.create(member=beginner)
    mark_scene(beginner, reading, 1, "clear")
    for member in (crew, cast, third):
        mark_scene(member, reading, 1, "clear")
        mark_scene(member, reading, 2, "lost")
    assert learned(writer, reading).agreement.kappa is None
    for member in (crew, cast, third):
        finish_reading(member, reading)
    found = learned(writer, reading).agreement
    assert (found.raters, found.things, found.kappa) == (3, 2, 1)
    told = text_of(page_of(signed_in(writer), reading), ".learned-agreement")
    assert told.startswith("3 readers who have finished marked the same 2 scenes.")


def test_agreement_is_that_of_those_who_heard_nobody_first_and_says_who_is_left_out(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, third: Member, reading: Reading
) -> None:
    swayed = make_member(writer.production, name="Rue Long")
    reading.readers.create(member=swayed, others_open_at=timezone.now())
    for member in (crew, cast, swayed):
        mark_scene(member, reading, 1, "clear")
        mark_scene(member, reading, 2, "lost")
    client = signed_in(writer)
    assert page_of(client, reading).select_one(".learned-agreement") is None, "for two alone say nothing"
    mark_scene(third, reading, 1, "clear")
    mark_scene(third, reading, 2, "clear")
    told = text_of(page_of(client, reading), ".learned-agreement")
    assert told.startswith("3 readers marked the same 2 scenes.")
    assert told.endswith("Left out: Rue Long, who marked a scene after seeing others.")


def test_agreement_in_an_open_reading_counts_all_and_says_that_they_could_see_each_other_s_notes(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, third: Member, draft: Draft
) -> None:
    members = [crew, cast, third]
    asked = Asked(timezone.localdate(), "")
    opened = open_reading(writer, draft, members, asked, uuid.uuid4(), is_blind=False)
    for member in members:
        mark_scene(member, opened, 1, "clear")
        mark_scene(member, opened, 2, "lost")
    told = text_of(page_of(signed_in(writer), opened), ".learned-agreement")
    assert told.startswith("3 readers marked the same 2 scenes.")
    assert told.endswith("This reading was open: they could see each other’s notes.")
