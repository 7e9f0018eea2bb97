"""Who gets through which door: every address of the site, tried by everybody, by GET and by POST."""

from __future__ import annotations

from copy import deepcopy
from typing import TYPE_CHECKING, Any

import pytest
from django.urls import reverse
from django.utils import timezone

from review.notes.models import Audience
from review.people.models import Member, Person
from tests.factories import make_note, make_production
from tests.review.doors import OF_THE_DRAFT, OF_THE_NOTE, OF_THE_WORKING_DRAFT, walk_as
from tests.review.who_gets_what import (
    EVERYBODY,
    EXPECTED,
    FILES,
    FORBIDDEN,
    LEADS_ON,
    NOT_FOUND,
    OPEN,
    PARTS,
    READERS,
    SIGN_IN,
    WRONG_METHOD,
    every_address,
)

if TYPE_CHECKING:
    import uuid

    from pytest_django import DjangoDbBlocker

    from tests.review.doors import Walk
    from tests.review.house import House

pytestmark = pytest.mark.django_db

# An open script goes on asking here when its draft was withdrawn, and is told so. It is what any page of the production
# is told; that no note stands on such a draft is held in test_script_news.py.
TOLD_WHATEVER_DRAFT = "script-news"


def test_every_address_has_a_name_of_its_own_and_a_line_in_the_table() -> None:
    assert sorted(name for name, _ in every_address()) == sorted(EXPECTED)


@pytest.fixture(scope="module", params=EVERYBODY)
def walk(request: pytest.FixtureRequest, houses: tuple[House, House], once_a_module: DjangoDbBlocker) -> Walk:
    """What somebody got at every address."""
    with once_a_module.unblock():
        return walk_as(request.param, deepcopy(houses[0]))


def test_the_door_opens_to_those_it_is_for(walk: Walk) -> None:
    """By GET and by an empty POST."""
    found = [(name, (got.outcome, posted.outcome)) for name, (got, posted) in walk.doors.items()]
    assert [(name, pair) for name, pair in found if pair != EXPECTED[name][walk.who]] == []
    assert walk.doors.keys() == EXPECTED.keys()


def test_what_a_browser_saves_is_a_file_to_all_whom_it_opens_to(walk: Walk) -> None:
    files = {name for name, (got, _) in walk.doors.items() if got.is_file}
    assert files == {name for name in FILES if EXPECTED[name][walk.who][0] == OPEN}


def test_a_note_for_the_writer_alone_is_read_by_them_and_its_author_and_else_through_no_door(walk: Walk) -> None:
    """Nor are its replies, its decision, and its reason, whatever a page is asked for that it looks for."""
    read_at = walk.that_tell(OF_THE_NOTE | {walk.kept.note.encode()})
    if walk.who in {"writer", "crew"}:
        assert len(read_at) > 10
    else:
        assert read_at == []


def test_a_withdrawn_draft_is_read_by_writers_and_else_through_no_door(walk: Walk) -> None:
    """Nor is why it was withdrawn, nor the working draft."""
    if walk.who == "writer":
        assert walk.that_tell(OF_THE_DRAFT)
        assert walk.that_tell(OF_THE_WORKING_DRAFT)
    else:
        assert walk.that_tell(OF_THE_DRAFT | OF_THE_WORKING_DRAFT) == []
    below = [answer for answer in walk.withdrawn if answer.name != TOLD_WHATEVER_DRAFT]
    assert (len(below) > 40) == (walk.who in READERS)
    assert [answer for answer in below if answer.outcome not in {FORBIDDEN, NOT_FOUND}] == []


@pytest.mark.parametrize("name", ["notes-in", "place", "paper-new", "paper-write", "draft-upload"])
def test_a_form_is_there_too_for_who_asks_only_whether_it_is(house: House, name: str) -> None:
    address = reverse(name, kwargs=house.sample(name))
    assert house.client("writer").head(address).status_code == EXPECTED[name]["writer"][0]


def test_a_record_of_another_production_does_not_exist(house: House, other_house: House) -> None:
    """The writer's own production in the address, another's record after it."""
    writer, answers = house.client("writer"), {}
    for name in [name for name, parts in PARTS.items() if parts >= {"production", "public_id"}]:
        address = reverse(name, kwargs=other_house.sample(name) | {"production": house.production.public_id})
        method = writer.post if EXPECTED[name]["writer"][0] == WRONG_METHOD else writer.get
        answers[name] = method(address).status_code
    assert len(answers) > 40
    assert set(answers.values()) == {NOT_FOUND}, {at: code for at, code in answers.items() if code != NOT_FOUND}


@pytest.mark.parametrize("number", [7, 10**30])
def test_a_draft_that_is_not_there_does_not_exist(house: House, number: int) -> None:
    """Nor does anything under it, whichever number of an address no draft has: one too large for the database too."""
    writer, answers = house.client("writer"), {}
    for name, parts in PARTS.items():
        method = writer.post if EXPECTED[name]["writer"][0] == WRONG_METHOD else writer.get
        for part in parts & {"number", "new", "version"}:
            answers[name, part] = method(reverse(name, kwargs=house.sample(name) | {part: number})).status_code
    assert answers.pop((TOLD_WHATEVER_DRAFT, "number")) == OPEN
    assert len(answers) > 40
    assert set(answers.values()) == {NOT_FOUND}, {at: code for at, code in answers.items() if code != NOT_FOUND}


@pytest.mark.parametrize("address", ["/p/%00/", "/p/{}/notes/%00/", "/join/%00/", "/in/%00/", "/p/nowhere/"])
def test_an_address_that_cannot_be_is_not_found(house: House, address: str) -> None:
    response = house.client("writer").get(address.format(house.production.public_id))
    assert response.status_code == NOT_FOUND


def test_the_writer_and_its_author_do_read_it(house: House) -> None:
    crew = house.people["crew"].memberships.get(production=house.production)
    note = make_note(crew, house.note.draft, 9, body="The lamp frightens me.", audience=Audience.WRITER)
    address = reverse("note", args=[house.production.public_id, note.public_id])
    for who in ("writer", "crew"):
        assert "frightens" in house.client(who).get(address).text


def test_a_withdrawn_note_is_read_by_nobody_but_its_author(house: House) -> None:
    house.note.body = "I was unkind here."
    house.note.withdrawn_at = timezone.now()
    house.note.save()
    for who in ("writer", "producer", "cast"):
        client = house.client(who)
        for name in ("home", "notes", "script", "note", "drafts", "changes-between"):
            page = client.get(reverse(name, kwargs=house.sample(name)) + "?state=withdrawn&author=all")
            assert "unkind" not in page.text, (who, name)


def test_someone_removed_is_out_at_once_though_still_signed_in(house: House) -> None:
    client = house.client("crew")
    address = reverse("home", args=[house.production.public_id])
    assert client.get(address).status_code == OPEN
    Member.objects.filter(person=house.people["crew"]).update(removed_at=timezone.now())
    assert client.get(address).status_code == NOT_FOUND


def test_a_closed_account_signs_nobody_in(house: House) -> None:
    client = house.client("crew")
    Person.objects.filter(pk=house.people["crew"].pk).update(is_active=False)
    response = client.get(reverse("home", args=[house.production.public_id]))
    assert response.headers["Location"].startswith(reverse("account_login"))
    assert (
        house.client("signed out").post(reverse("sign-in-link", args=[house.tokens["sign-in-link"]])).status_code == 404
    )


@pytest.mark.parametrize("name", ["leave", "answer", "invite", "begin", "mark", "rule"])
def test_a_form_id_that_somebody_else_has_used_says_nothing_and_breaks_nothing(
    house: House, other_house: House, name: str
) -> None:
    """Sent by the cast with the id of the head of department's note and reply, by the writer with those of others."""
    production, other = house.production.public_id, other_house
    forms: dict[str, tuple[str, str, dict[str, Any], uuid.UUID]] = {
        "leave": (
            "cast",
            reverse("note-new", args=[production, 1]),
            {"kind": "idea", "body": "Mine", "audience": "everyone", "from": 6, "to": 6, "from_char": 0, "to_char": 4},
            house.note.form_id,
        ),
        "answer": (
            "cast",
            reverse("reply-new", args=[production, house.note.public_id]),
            {"body": "Mine"},
            house.reply.form_id,
        ),
        "invite": (
            "writer",
            reverse("invite", args=[production]),
            {"name": "Mine", "role": "crew", "department": "art"},
            other.invitation.form_id,
        ),
        "begin": ("writer", reverse("production-new"), {"name": "Mine"}, make_production("Theirs").form_id),
        "mark": (
            "writer",
            reverse("scenes-marked-word-new", args=[production, 1]),
            {"words": "Mine", "department": "props"},
            house.marked.form_id,
        ),
        "rule": (
            "writer",
            reverse("voice-rule-new", args=[production, 1, "NELL"]),
            {"kind": "never_says", "words": "Mine"},
            other.rule.form_id,
        ),
    }
    who, address, fields, form_id = forms[name]
    response = house.client(who).post(address, fields | {"form_id": str(form_id)}, follow=True)
    assert response.status_code == OPEN, response.text
    assert "Mine" in response.text
    assert "Theirs" not in response.text


def test_the_mix_of_expectations_is_not_all_alike() -> None:
    """The table would be worthless if it expected one thing of everybody."""
    assert {outcome for outcomes in EXPECTED.values() for pair in outcomes.values() for outcome in pair} >= {
        OPEN,
        LEADS_ON,
        FORBIDDEN,
        NOT_FOUND,
        WRONG_METHOD,
        SIGN_IN,
    }
