"""What an open page is told, by whom it is asked, and how little it takes while nothing happens."""

from __future__ import annotations

import gzip
import json
import sys
import uuid
from datetime import timedelta
from typing import TYPE_CHECKING, Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from review import log
from review.access import Role
from review.decisions.acts import decide
from review.drafts.acts import withdraw_draft
from review.drafts.visits import Visit, be_at
from review.kept import Store
from review.news import forms, happened, short_way
from review.news.happened import MOST, news_for
from review.news.known_acts import acts_known_to
from review.notes.acts import NoteWords, change_note, leave_note, reply, withdraw_note, withdraw_reply
from review.notes.models import Audience, Note
from review.people.acts import make_sign_in_link, remove_member
from review.people.models import Department, Member, SignInLink
from review.publishing.acts import publish_draft
from review.readings.models import SceneRead
from review.readings.reader_acts import finish_reading, mark_scene, say_read
from screenplay import Span
from screenplay.intake import Intake
from tests.factories import SCRIPT, make_member, make_production, make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.drafts.models import Draft
    from review.productions.models import Production

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db
NOTHING_NEW, MOVED_ON, NOT_FOUND, UNPROCESSABLE = 304, 302, 404, 422


@pytest.fixture(autouse=True)
def nobody_remembered(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(short_way, "REMEMBERED", Store())


@pytest.fixture(autouse=True)
def within_a_minute(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whenever a page asks, it is told of the same time: what is told by the minute else hangs on when a test began."""
    began = forms.a_while_ago()
    monkeypatch.setattr(forms, "a_while_ago", lambda: began)


class OpenPage:
    """A page that somebody has open, as its script asks for it."""

    def __init__(self, client: Client, production: Production, page: dict[str, int] | None = None) -> None:
        self.client, self.production, self.page = client, production, page or {}
        self.etag = ""
        self.since: int = 0
        self.ask()  # since when there is to be told
        self.ask()

    def request(self) -> Any:
        address = reverse("news", args=[self.production.public_id])
        asked = self.page | ({"since": self.since} if self.since else {})
        headers = {"accept-encoding": "gzip"} | ({"if-none-match": self.etag} if self.etag else {})
        return self.client.get(address, asked, headers=headers)

    def ask(self) -> dict[str, Any] | None:
        """What is new; None where nothing is."""
        response = self.request()
        if response.status_code == NOTHING_NEW:
            assert not response.content
            return None
        is_compressed = response.headers.get("Content-Encoding") == "gzip"
        told: dict[str, Any] = json.loads(gzip.decompress(response.content) if is_compressed else response.content)
        self.etag, self.since = response["ETag"], told["since"]
        return told

    def sorts(self) -> list[str]:
        """What is new, by its sorts, the latest first."""
        return [each["sort"] for each in (self.ask() or {"happened": []})["happened"]]


@pytest.fixture
def opened(signed_in: SignIn) -> Callable[..., OpenPage]:
    def opened(member: Member, **page: int) -> OpenPage:
        return OpenPage(signed_in(member), member.production, page)

    return opened


def note_by(author: Member, draft: Draft, audience: str = Audience.EVERYONE) -> Note:
    """A note on line 9, unlike those that are there."""
    body = f"Louder. {Note.objects.count()}"
    return leave_note(author, draft, Span(9, 0, 9, 4), "idea", body, audience=audience, form_id=uuid.uuid4())


def taken(ask: Callable[[], object]) -> int:
    """How many queries something takes."""
    with CaptureQueriesContext(connection) as queries:
        ask()
    return len(queries)


def test_nothing_new_takes_one_query_and_has_no_body(
    opened: Callable[..., OpenPage], crew: Member, writer: Member, draft: Draft
) -> None:
    for member in (crew, writer):
        for page in ({}, {"draft": draft.number, "first": 1, "last": 18}):
            asking = opened(member, **page)
            with CaptureQueriesContext(connection) as queries:
                response = asking.request()
            assert (response.status_code, response.content, len(queries)) == (NOTHING_NEW, b"", 1)


def test_however_much_happened_before_nothing_new_takes_one_query(
    opened: Callable[..., OpenPage], crew: Member, writer: Member, draft: Draft
) -> None:
    """What is told is compressed then, and its ETag another."""
    page = opened(crew)
    for _ in range(3):
        decide(writer, note_by(writer, draft), "parked", "", 0, uuid.uuid4())
    page.ask()
    assert page.etag.startswith("W/")
    assert taken(page.ask) == 1


def test_what_one_was_told_is_not_asked_of_the_database_again_for_others(
    opened: Callable[..., OpenPage], crew: Member, writer: Member, cast: Member, draft: Draft
) -> None:
    """But for writers, who may know of more, and for whoever left something that the others may not read."""
    producer = make_member(writer.production, Role.PRODUCER, Department.PRODUCTION, "Pim Oake")
    pages = [opened(member) for member in (crew, cast, writer, producer)]
    for page in pages[1:]:
        page.since = pages[0].since
    note_by(producer, draft, Audience.WRITER)
    note_by(writer, draft)
    first, second, for_writer, for_producer = map(taken, [page.ask for page in pages])
    assert second < first
    assert for_producer == first
    assert for_writer > second
    assert [page.sorts() for page in pages[:2]] == [[], []]  # 304: they were told


def test_what_one_leaves_for_the_writer_alone_while_they_are_told_is_told_to_no_other(
    crew: Member, cast: Member, draft: Draft, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Both asked before it, and what the one is told is kept for the other."""

    def just_after(*asked: Any, **how: Any) -> Any:
        note_by(crew, draft, Audience.WRITER)
        return acts_known_to(*asked, **how)

    since = timezone.now() - timedelta(minutes=1)
    note_by(crew, draft)
    with monkeypatch.context() as meanwhile:
        meanwhile.setattr(happened, "acts_known_to", just_after)
        news_for(crew, since, 1, reads_alone=False)
    assert len(news_for(cast, since, 1, reads_alone=False).happened) == 1
    assert len(news_for(crew, since, 2, reads_alone=False).happened) == 2


def test_a_page_asks_from_later_on_once_it_was_told(
    opened: Callable[..., OpenPage], crew: Member, writer: Member, draft: Draft, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = opened(crew)
    note_by(writer, draft)
    before, later = page.since, forms.a_while_ago() + timedelta(minutes=1)
    monkeypatch.setattr(forms, "a_while_ago", lambda: later)
    assert page.sorts() == ["note"]
    assert page.since == before + 60_000
    assert page.ask() is None
    assert page.since == before + 60_000


def test_what_is_new_takes_as_many_queries_however_much_it_is(
    opened: Callable[..., OpenPage], crew: Member, writer: Member, draft: Draft
) -> None:
    page = opened(crew)
    note_by(writer, draft)
    one = taken(page.ask)
    for _ in range(5):
        reply(writer, note_by(writer, draft), "So.", uuid.uuid4())
    assert taken(page.ask) == one


def test_a_note_a_reply_and_a_decision_are_told_with_their_note(
    opened: Callable[..., OpenPage], crew: Member, writer: Member, cast: Member, draft: Draft
) -> None:
    page = opened(cast)
    note = note_by(crew, draft)
    answer = reply(writer, note, "Why?", uuid.uuid4())
    decide(writer, note, "parked", "Later.", 0, uuid.uuid4())
    withdraw_reply(writer, answer)
    told = page.ask()
    assert told
    assert [each["sort"] for each in told["happened"]] == ["change", "decision", "reply", "note"]
    assert {each["note"] for each in told["happened"]} == {note.public_id}
    assert len({each["key"] for each in told["happened"]}) == 4
    assert page.ask() is None


def test_ones_own_is_told_as_ones_own(opened: Callable[..., OpenPage], crew: Member, draft: Draft) -> None:
    page = opened(crew)
    withdraw_note(crew, note_by(crew, draft))
    told = page.ask()
    assert told
    assert [(each["sort"], each["is_own"]) for each in told["happened"]] == [("withdrawal", True), ("note", True)]


def test_a_new_draft_is_told_by_its_number(
    opened: Callable[..., OpenPage], crew: Member, writer: Member, draft: Draft
) -> None:
    page = opened(crew)
    second, _ = publish_draft(writer, Intake(text=SCRIPT.replace("Mist.", "Fog."), encoding="utf-8", bom=b""))
    withdraw_draft(writer, second, "By mistake.")
    told = page.ask()
    assert told
    assert [(each["sort"], each["draft"]) for each in told["happened"]] == [("draft withdrawn", 2), ("draft", 2)]


def test_a_note_for_the_writer_alone_is_told_to_writers_and_its_author_alone(
    opened: Callable[..., OpenPage], crew: Member, writer: Member, cast: Member, draft: Draft
) -> None:
    pages = [opened(member) for member in (writer, crew, cast)]
    note = note_by(crew, draft, Audience.WRITER)
    reply(writer, note, "I see.", uuid.uuid4())
    decide(writer, note, "parked", "", 0, uuid.uuid4())
    told = ["decision", "reply", "note"]
    assert [page.sorts() for page in pages] == [told, told, []]


def test_a_note_that_becomes_the_writers_alone_is_no_longer_told_of(
    opened: Callable[..., OpenPage], crew: Member, cast: Member, draft: Draft
) -> None:
    page = opened(cast)
    note = note_by(crew, draft)
    assert page.sorts() == ["note"]
    change_note(crew, note, NoteWords("idea", "Softly.", None, Audience.WRITER), 1)
    told = page.ask()
    assert told
    assert told["happened"] == []


def test_to_a_reader_who_reads_alone_no_answer_is_other_for_what_others_say(
    opened: Callable[..., OpenPage], crew: Member, writer: Member, cast: Member, draft: Draft
) -> None:
    """The whole answer, its ETag and its status, with the ETag and without; it is as short as ever for the others."""
    outside = make_member(writer.production, Role.PRODUCER, Department.PRODUCTION, "Pim Oake")
    reading = make_reading(writer, draft, crew, cast)
    page, others = opened(crew, draft=draft.number, first=1, last=18), opened(outside)
    own = note_by(crew, draft)
    before, asked = page.ask(), page.request()
    assert others.sorts() == ["note"]
    for author in (cast, outside, writer):
        note = note_by(author, draft)
        reply(writer, note, "Why?", uuid.uuid4())
        decide(writer, note, "parked", "", 0, uuid.uuid4())
        be_at(author, draft, 9)
    mark_scene(cast, reading, 1, "lost", "Where are we?")
    finish_reading(cast, reading)
    after = page.request()
    assert (after.status_code, after.items(), after.content) == (asked.status_code, asked.items(), asked.content)
    page.etag = ""
    assert page.ask() == before
    assert len(others.sorts()) == 10
    reply(writer, own, "To you.", uuid.uuid4())
    assert page.sorts() == ["reply", "note"]
    finish_reading(crew, reading)
    assert len(page.sorts()) == 11


def test_how_far_readers_are_is_told_to_writers_alone(
    opened: Callable[..., OpenPage], crew: Member, writer: Member, cast: Member, draft: Draft
) -> None:
    reading = make_reading(writer, draft, crew, cast, is_blind=False)
    for_writer, for_other = opened(writer), opened(cast)
    say_read(crew, reading, 1, is_read=True)
    told = for_writer.ask()
    assert told
    assert (told["scenes_read"], [each["sort"] for each in told["happened"]]) == (1, ["reading"])
    say_read(crew, reading, 2, is_read=True)
    assert SceneRead.objects.count() == 2
    assert (for_writer.ask() or {})["scenes_read"] == 2
    assert for_other.ask() is None


def at(draft: Draft, first: int = 1, last: int = 18) -> dict[str, int]:
    return {"draft": draft.number, "first": first, "last": last}


def test_who_is_at_the_page_is_told_by_name_until_they_are_elsewhere(
    opened: Callable[..., OpenPage], crew: Member, writer: Member, cast: Member, draft: Draft
) -> None:
    page = opened(crew, **at(draft))
    be_at(crew, draft, 6)
    be_at(writer, draft, 9)
    be_at(cast, draft, 6)
    assert (page.ask() or {})["here"] == ["Ada Wren", "Cleo Marsh"]
    assert page.ask() is None
    be_at(writer, draft, 9)  # they say that they are there still
    assert taken(page.ask) == 1
    page.page = at(draft, 1, 7)
    assert (page.ask() or {})["here"] == ["Cleo Marsh"]
    Visit.objects.filter(member=cast).update(last_at=timezone.now() - timedelta(minutes=4))
    assert (page.ask() or {})["here"] == []


def test_whoever_reads_alone_is_seen_by_nobody_at_a_page(
    opened: Callable[..., OpenPage], crew: Member, writer: Member, draft: Draft
) -> None:
    page = opened(writer, **at(draft))
    reading = make_reading(writer, draft, crew)
    be_at(crew, draft, 6)
    assert page.ask() is None
    finish_reading(crew, reading)
    assert (page.ask() or {})["here"] == ["Bo Finch"]


@pytest.fixture(params=["signed out", "removed", "inactive", "password", "another role"])
def gone(request: pytest.FixtureRequest, crew: Member, writer: Member) -> Callable[[Client], None]:
    """What can become of somebody who has a page open."""

    def leave(client: Client) -> None:
        if request.param == "signed out":
            client.session.flush()
        elif request.param == "removed":
            remove_member(writer, crew)
        elif request.param == "another role":
            Member.objects.filter(pk=crew.pk).update(role=Role.CAST)
        else:
            crew.person.is_active = request.param != "inactive"
            crew.person.set_password("salt marsh lanterns")
            crew.person.save()

    return leave


def test_what_is_remembered_of_them_opens_nothing_to_whoever_is_gone(
    opened: Callable[..., OpenPage], gone: Callable[[Client], None], crew: Member, writer: Member, draft: Draft
) -> None:
    page = opened(crew)
    assert taken(page.ask) == 1
    gone(page.client)
    assert taken(page.request) > 1  # the long way, on which they are met as ever
    note_by(writer, draft)
    crew.refresh_from_db()
    status = page.request().status_code
    assert status == (NOT_FOUND if crew.removed_at else 200 if crew.role == Role.CAST else MOVED_ON)


def test_what_is_remembered_of_one_is_of_no_use_to_another(
    opened: Callable[..., OpenPage], signed_in: SignIn, crew: Member, draft: Draft
) -> None:
    page = opened(crew)
    stranger = signed_in(make_member(make_production("Elsewhere")))
    address = f"{reverse('news', args=[crew.production.public_id])}?since={page.since}"
    assert page.ask() is None
    for client, status in ((stranger, NOT_FOUND), (Client(), MOVED_ON)):
        assert client.get(address, headers={"if-none-match": page.etag}).status_code == status


def test_a_session_by_a_link_asks_as_shortly_and_ends_with_the_link(crew: Member, writer: Member, draft: Draft) -> None:
    client = Client()
    client.post(reverse("sign-in-link", args=[make_sign_in_link(writer, crew)]))
    page = OpenPage(client, crew.production)
    assert taken(page.ask) == 1
    SignInLink.objects.update(ended_at=timezone.now())
    assert page.request().status_code == MOVED_ON


def test_what_is_remembered_of_one_is_no_heavier_than_it_is_taken_for(
    opened: Callable[..., OpenPage], writer: Member, draft: Draft
) -> None:
    opened(writer, **at(draft))
    held = vars(short_way.REMEMBERED)["_values"]
    for key, (remembered, weight) in held.items():
        query = remembered.question
        parts = [*key, remembered, query, query.sql, query.params, *query.params, remembered.etag, remembered.digest]
        assert sum(map(sys.getsizeof, parts)) < weight
    assert held


def test_more_than_can_be_told_is_said_to_be_more(
    opened: Callable[..., OpenPage], crew: Member, writer: Member, draft: Draft
) -> None:
    page = opened(crew)
    note = note_by(writer, draft)
    log.record_each(writer.person, log.Act.Verb.PLACED_NOTE, writer.production, [note.public_id] * (MOST + 5), draft=1)
    told = page.ask()
    assert told
    assert (len(told["happened"]), told["is_more"]) == (MOST, True)


@pytest.mark.parametrize("asked", [{"since": "soon"}, {"first": "0"}, {"draft": str(10**30)}, {"last": "-1"}])
def test_what_no_page_asks_is_refused(signed_in: SignIn, crew: Member, asked: dict[str, str]) -> None:
    response = signed_in(crew).get(reverse("news", args=[crew.production.public_id]), asked)
    assert response.status_code == UNPROCESSABLE


@pytest.mark.parametrize("since", [-(10**30), 0, 10**30])
def test_a_moment_that_cannot_be_is_the_nearest_that_can(signed_in: SignIn, crew: Member, since: int) -> None:
    response = signed_in(crew).get(reverse("news", args=[crew.production.public_id]), {"since": since})
    assert response.status_code == 200


def test_what_is_kept_of_an_act_is_no_heavier_than_it_is_taken_for(
    opened: Callable[..., OpenPage], crew: Member, writer: Member, draft: Draft
) -> None:
    page = opened(crew)
    decide(writer, note_by(writer, draft), "parked", "", 0, uuid.uuid4())
    assert page.sorts() == ["decision", "note"]
    key, (kept, weight) = next(reversed(vars(happened.LATEST)["_values"].items()))
    parts = [key, *key, kept, *(part for act in kept for part in (act, act.key, act.person, act.note))]
    assert sum(map(sys.getsizeof, parts)) < weight
