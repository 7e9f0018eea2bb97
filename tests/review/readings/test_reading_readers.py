"""A reading as the writer sees it, and the cases that come up while it lasts."""

from __future__ import annotations

import uuid
from dataclasses import replace
from datetime import timedelta
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from review.drafts.acts import put_up_again, withdraw_draft
from review.notes.models import Note
from review.people.acts import Refused, change_role, remove_member, role_in_production
from review.people.models import Department
from review.publishing.acts import publish_draft
from review.readers.models import Reader
from review.readings.acts import Asked, add_readers, change_reading, close_reading, remind, reopen_reading, take_off
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

NEXT_WEEK = timezone.localdate() + timedelta(days=7)


@pytest.fixture
def reading(writer: Member, crew: Member, cast: Member, draft: Draft) -> Reading:
    return make_reading(writer, draft, crew, cast)


def page_of(client: Client, reading: Reading) -> BeautifulSoup:
    address = reverse("reading-readers", args=[reading.production.public_id, reading.public_id])
    return BeautifulSoup(client.get(address).text, "html.parser")


def rows_of(page: BeautifulSoup) -> list[str]:
    return [" ".join(row.text.split()) for row in page.select(".reader-row")]


def post(client: Client, name: str, reading: Reading, **told: Any) -> Any:
    return client.post(reverse(name, args=[reading.production.public_id, reading.public_id]), told, follow=True)


def sees(member: Member, note: Note) -> bool:
    return Note.objects.visible_to(member).filter(pk=note.pk).exists()


def messages_of(client: Client, reading: Reading) -> dict[str, str]:
    fields = page_of(client, reading).select("textarea[id^=by-hand-]")
    return {str(field["id"]).removeprefix("by-hand-"): " ".join(field.text.split()) for field in fields}


def test_the_messages_to_copy_are_folded_once_somebody_has_begun(
    signed_in: SignIn, writer: Member, crew: Member, reading: Reading
) -> None:
    client = signed_in(writer)
    assert [part.has_attr("open") for part in page_of(client, reading).select("details.by-hand")] == [True, True]
    mark_scene(crew, reading, 1, "clear")
    assert [part.has_attr("open") for part in page_of(client, reading).select("details.by-hand")] == [False, False]


def test_without_a_mail_server_it_has_a_message_for_each_thing_that_mail_would_tell(
    signed_in: SignIn, writer: Member, crew: Member, reading: Reading, settings: Any
) -> None:
    client = signed_in(writer)
    link = f"http://testserver{reverse('reading', args=[writer.production.public_id, reading.public_id])}"
    told = messages_of(client, reading)
    assert told.keys() == {"asked", "reminder"}
    assert all(link in words for words in told.values())
    finish_reading(crew, reading)
    reminded = post(client, "reading-remind", reading).text
    assert "Reminded, on their home: Cleo Marsh. A message to send them stands below." in reminded
    assert "so send this yourself: to Cleo Marsh." in " ".join(reminded.split())
    close_reading(writer, reading)
    told = messages_of(client, reading)
    assert told.keys() == {"closed"}
    assert "is closed. Thank you." in told["closed"]
    settings.EMAIL_HOST = "mail.example.org"
    assert messages_of(client, reading) == {}


def test_the_writer_sees_who_has_begun_how_far_and_who_has_finished(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, reading: Reading
) -> None:
    idle = make_member(writer.production, Role.CREW, Department.SOUND, "Rue Long")
    add_readers(writer, reading, [idle])
    mark_scene(cast, reading, 1, "clear")
    mark_scene(crew, reading, 1, "lost")
    mark_scene(crew, reading, 2, "clear")
    finish_reading(crew, reading)
    rows = rows_of(page_of(signed_in(writer), reading))
    assert rows[0].startswith("Bo Finch Camera")
    assert "2 of 2 read, 2 marked Finished" in rows[0]
    assert "1 of 2 read, 1 marked Reading" in rows[1]
    assert "0 of 2 read, 0 marked Not begun" in rows[2]


def test_a_producer_sees_how_far_they_are_and_nothing_that_they_said_nor_what_a_writer_does_there(
    signed_in: SignIn, writer: Member, crew: Member, reading: Reading
) -> None:
    mark_scene(crew, reading, 1, "lost", "Who is Oto?")
    producer = make_member(writer.production, Role.PRODUCER, Department.PRODUCTION, "Pro Ducer")
    client = signed_in(producer)
    listed = client.get(reverse("readings", args=[writer.production.public_id]))
    assert reverse("reading-readers", args=[writer.production.public_id, reading.public_id]) in listed.text
    page = page_of(client, reading)
    assert ["Reading" in row or "Not begun" in row for row in rows_of(page)] == [True, True]
    assert not page.select("main form, main details")
    for kept in ("marked", "Who is Oto?", "What came of it"):
        assert kept not in page.text


def test_nobody_is_shown_how_long_another_took(
    signed_in: SignIn, writer: Member, crew: Member, reading: Reading
) -> None:
    report_progress(crew, reading, {1: 237})
    assert "237" not in page_of(signed_in(writer), reading).text
    assert "3 min" not in page_of(signed_in(writer), reading).text


def test_a_reminder_is_one_press_and_stands_on_the_reader_s_home(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, reading: Reading
) -> None:
    finish_reading(cast, reading)
    told = post(signed_in(writer), "reading-remind", reading).text
    assert "Reminded, on their home: Bo Finch." in told
    home = signed_in(crew).get(reverse("home", args=[crew.production.public_id])).text
    assert "You were reminded on" in home
    assert Reader.objects.get(member=cast).reminded_at is None


def test_it_is_extended_closed_and_opened_again(writer: Member, reading: Reading) -> None:
    seen = Asked.of(reading).seen
    assert change_reading(writer, reading, Asked(NEXT_WEEK + timedelta(days=1), ""), seen) is True
    assert change_reading(writer, reading, Asked(NEXT_WEEK + timedelta(days=1), ""), seen) is False
    assert close_reading(writer, reading) is True
    assert close_reading(writer, reading) is False
    for act in (lambda: change_reading(writer, reading, Asked(NEXT_WEEK, ""), seen), lambda: remind(writer, reading)):
        with pytest.raises(Refused, match="closed"):
            act()
    assert reopen_reading(writer, reading, NEXT_WEEK) is True
    assert reopen_reading(writer, reading, NEXT_WEEK) is False
    reading.refresh_from_db()
    assert (reading.is_open, reading.until) == (True, NEXT_WEEK)


def test_one_that_is_over_is_offered_to_be_opened_again_from_today_on(
    signed_in: SignIn, writer: Member, reading: Reading
) -> None:
    close_reading(writer, reading)
    type(reading).objects.update(until=timezone.localdate() - timedelta(days=3))
    client = signed_in(writer)
    page = page_of(client, reading)
    assert "Did not begin" in page.get_text()
    field = page.select_one("input[name=until]")
    assert field is not None
    post(client, "reading-reopen", reading, until=field["value"])
    reading.refresh_from_db()
    assert reading.is_open
    assert reading.until > timezone.localdate()


def test_of_two_writers_who_change_it_the_later_is_shown_what_the_other_asked(
    signed_in: SignIn, writer: Member, reading: Reading
) -> None:
    client = signed_in(writer)
    field = page_of(client, reading).select_one("input[name=seen]")
    assert field is not None
    change_reading(writer, reading, Asked(NEXT_WEEK, "Whose lamp is it?"), str(field["value"]))
    late = {"until": (NEXT_WEEK + timedelta(days=1)).isoformat(), "look_for": "Is it long?"}
    told = post(client, "reading-change", reading, seen=field["value"], **late)
    assert told.status_code == 409
    assert "Another writer has changed this meanwhile" in told.text
    assert "Whose lamp is it?" in told.text
    assert "Is it long?" in told.text
    reading.refresh_from_db()
    assert reading.look_for == "Whose lamp is it?"
    page = BeautifulSoup(told.text, "html.parser").select_one("input[name=seen]")
    assert page is not None
    post(client, "reading-change", reading, seen=page["value"], **late)
    reading.refresh_from_db()
    assert reading.look_for == "Is it long?"


def test_a_date_that_is_wrong_is_refused_with_a_sentence(signed_in: SignIn, writer: Member, reading: Reading) -> None:
    response = post(signed_in(writer), "reading-change", reading, until="2020-01-01")
    assert response.status_code == 422
    assert "This day is past." in response.text


def test_past_its_date_it_is_still_open_and_says_so(signed_in: SignIn, writer: Member, crew: Member) -> None:
    past = make_reading(writer, make_draft(writer), crew, until=timezone.localdate() - timedelta(days=1))
    assert "the day is past, and it is still open" in " ".join(page_of(signed_in(writer), past).text.split())
    mark_scene(crew, past, 1, "clear")


def test_a_reader_added_late_reads_alone_from_then_on_and_is_told_as_such(
    signed_in: SignIn, writer: Member, cast: Member, draft: Draft, reading: Reading
) -> None:
    note = make_note(cast, draft)
    late = make_member(writer.production, Role.CREW, Department.SOUND, "Rue Long")
    assert sees(late, note)
    response = post(signed_in(writer), "reading-add", reading, members=[late.public_id])
    assert "Asked too: Rue Long." in response.text
    assert not sees(late, note)
    row = next(row for row in rows_of(page_of(signed_in(writer), reading)) if "Rue Long" in row)
    assert "when they could have read others’ notes" in row


def test_a_reader_who_never_finishes_reads_alone_until_it_is_closed_and_what_they_said_counts(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft, reading: Reading
) -> None:
    note = make_note(cast, draft)
    mark_scene(crew, reading, 1, "lost", "Whose lamp?")
    assert not sees(crew, note)
    close_reading(writer, reading)
    assert sees(crew, note)
    with pytest.raises(Refused, match="closed meanwhile"):
        mark_scene(crew, reading, 2, "clear")
    with pytest.raises(Refused, match="closed meanwhile"):
        finish_reading(crew, reading)
    assert Reader.objects.get(member=crew).marks.standing().count() == 1
    reopen_reading(writer, reading, NEXT_WEEK)
    assert not sees(crew, note)
    row = next(row for row in rows_of(page_of(signed_in(writer), reading)) if "Bo Finch" in row)
    assert "Could read what others said before finishing." in row


def test_a_reader_taken_off_reads_the_others_again_and_what_they_said_stays(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft, reading: Reading
) -> None:
    note = make_note(cast, draft)
    mark_scene(crew, reading, 1, "lost")
    reader = Reader.objects.get(member=crew)
    post(signed_in(writer), "reading-take-off", reading, reader=reader.public_id)
    assert sees(crew, note)
    assert reader.marks.standing().count() == 1
    assert take_off(writer, reader) is False
    address = reverse("reading", args=[crew.production.public_id, reading.public_id])
    assert signed_in(crew).get(address).status_code == 404
    add_readers(writer, reading, [crew])
    assert not sees(crew, note)
    assert Reader.objects.get(member=crew).others_open_at is not None


def test_a_reader_removed_from_the_production_is_waited_for_no_longer_and_reads_alone_if_they_come_back(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft, reading: Reading
) -> None:
    note = make_note(cast, draft)
    mark_scene(crew, reading, 1, "lost")
    remove_member(writer, crew)
    assert [reader.member for reader in remind(writer, reading)] == [cast]
    page = page_of(signed_in(writer), reading)
    assert any("Bo Finch" in row and "No longer on the production" in row for row in rows_of(page))
    assert "Remind 1" in page.text
    type(crew).objects.filter(pk=crew.pk).update(removed_at=None)
    assert not sees(crew, note)


def test_a_reader_who_becomes_a_writer_is_waited_for_no_longer(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft, reading: Reading
) -> None:
    note = make_note(cast, draft)
    change_role(writer, crew, replace(role_in_production(crew), role=Role.WRITER))
    crew.refresh_from_db()
    assert sees(crew, note)
    assert [reader.member for reader in remind(writer, reading)] == [cast]
    page = page_of(signed_in(writer), reading)
    assert any("Bo Finch" in row and "A writer now" in row for row in rows_of(page))
    assert "Remind 1" in page.text
    script = signed_in(crew).get(reverse("script", args=[crew.production.public_id, draft.number])).text
    assert "You are asked to read" not in script


def test_a_withdrawn_draft_takes_its_reading_along_and_brings_it_back(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    second = make_draft(writer, SCRIPT.replace("Mist.", "Fog."), 2)
    reading, note = make_reading(writer, second, crew), make_note(cast, draft)
    mark_scene(crew, reading, 1, "lost")
    assert not sees(crew, note)
    withdraw_draft(writer, second, "Mine.")
    assert sees(crew, note)
    address = reverse("reading", args=[crew.production.public_id, reading.public_id])
    assert signed_in(crew).get(address).status_code == 404
    assert signed_in(writer).get(address).status_code == 404
    put_up_again(writer, second)
    assert not sees(crew, note)
    assert "Lost me" in signed_in(crew).get(address).text


def test_a_new_draft_in_the_middle_leaves_the_reading_where_it_is(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, reading: Reading
) -> None:
    """It stays with its draft, is told so, and keeps the others' words on the new one too."""
    second, _ = publish_draft(writer, read_text(SCRIPT.replace("Mist.", "Fog.")))
    note = make_note(cast, second)
    assert not sees(crew, note)
    client = signed_in(crew)
    address = reverse("reading", args=[crew.production.public_id, reading.public_id])
    assert "This reading stays with draft 1" in client.get(address).text
    assert "Mist." in client.get(reverse("reading-scene", args=[crew.production.public_id, reading.public_id, 2])).text
    assert "on any draft" in page_of(signed_in(writer), reading).text
    finish_reading(crew, reading)
    assert sees(crew, note)


def test_a_reader_who_becomes_a_writer_sees_everything(
    crew: Member, cast: Member, draft: Draft, reading: Reading
) -> None:
    note = make_note(cast, draft)
    crew.role = Role.WRITER
    crew.save()
    assert sees(crew, note)


def test_it_asks_the_database_no_more_often_for_many_readers(
    signed_in: SignIn, writer: Member, crew: Member, reading: Reading
) -> None:
    client = signed_in(writer)

    def queries() -> int:
        with CaptureQueriesContext(connection) as captured:
            page_of(client, reading)
        return len(captured)

    few = queries()
    more = [make_member(writer.production, name=f"Reader {n}") for n in range(8)]
    add_readers(writer, reading, more)
    for member in more:
        mark_scene(member, reading, 1, "clear")
    assert queries() == few


def test_sharing_the_time_is_the_reader_s_own_to_say(crew: Member, reading: Reading) -> None:
    assert share_time(crew, reading, shares=True) is True
    assert share_time(crew, reading, shares=True) is False
    assert Reader.objects.get(member=crew).shares_time
    assert uuid.UUID(str(reading.form_id))
