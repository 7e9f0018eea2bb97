"""Who gets through which door: every address of the site, tried by everybody, by GET and by POST."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from django.urls import reverse
from django.utils import timezone

from review.decisions.acts import decide
from review.drafts.acts import withdraw_draft
from review.notes.acts import reply
from review.notes.models import Audience
from review.people.models import Member, Person
from tests.factories import make_note, make_production
from tests.review.house import is_taken_away, outcome_of
from tests.review.who_gets_what import (
    EVERYBODY,
    EXPECTED,
    FILES,
    FORBIDDEN,
    LEADS_ON,
    MEMBERS,
    NOT_FOUND,
    OPEN,
    OUTSIDERS,
    PARTS,
    READERS,
    SIGN_IN,
    WRONG_METHOD,
    every_address,
)

if TYPE_CHECKING:
    from tests.review.house import House

pytestmark = pytest.mark.django_db

NARROWED = {"state": "all", "author": "all", "page": "1", "word": "lamp"}  # what shows the most of notes and lines

# An open script goes on asking here when its draft was withdrawn, and is told so. It is what any page of the production
# is told; that no note stands on such a draft is held in test_script_news.py.
TOLD_WHATEVER_DRAFT = "script-news"


def test_every_address_has_a_name_of_its_own_and_a_line_in_the_table() -> None:
    assert sorted(name for name, _ in every_address()) == sorted(EXPECTED)


@pytest.mark.parametrize("name", EXPECTED)
def test_the_door_opens_to_those_it_is_for(house: House, name: str) -> None:
    address = reverse(name, kwargs=house.sample(name))
    answers = {who: (house.tries(who, "GET", address), house.tries(who, "POST", address)) for who in EVERYBODY}
    assert {who: (outcome_of(got), outcome_of(posted)) for who, (got, posted) in answers.items()} == EXPECTED[name]
    assert any(is_taken_away(got) for got, _ in answers.values()) == (name in FILES)


@pytest.mark.parametrize("name", ["notes-in", "place", "paper-new", "paper-write", "draft-upload"])
def test_a_form_is_there_too_for_who_asks_only_whether_it_is(house: House, name: str) -> None:
    address = reverse(name, kwargs=house.sample(name))
    assert house.client("writer").head(address).status_code == EXPECTED[name]["writer"][0]


@pytest.mark.parametrize("name", [name for name, parts in PARTS.items() if parts >= {"production", "public_id"}])
def test_a_record_of_another_production_does_not_exist(house: House, other_house: House, name: str) -> None:
    """The writer's own production in the address, another's record after it."""
    kwargs = other_house.sample(name) | {"production": house.production.public_id}
    method = "post" if EXPECTED[name]["writer"][0] == WRONG_METHOD else "get"
    assert getattr(house.client("writer"), method)(reverse(name, kwargs=kwargs)).status_code == NOT_FOUND


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


@pytest.mark.parametrize("who", ["producer", "cast", *OUTSIDERS, "signed out"])
def test_a_note_for_the_writer_alone_is_read_through_no_door(house: House, looked_for: set[str], who: str) -> None:
    """Nor are its replies, its decision, and its reason, whatever a page is asked for that it looks for."""
    crew = house.people["crew"].memberships.get(production=house.production)
    writer = house.people["writer"].memberships.get(production=house.production)
    note = make_note(crew, house.note.draft, 9, body="The lamp frightens me.", audience=Audience.WRITER)
    reply(crew, note, "Truly frightens.", uuid.uuid4())
    decide(writer, note, "accepted", "Then no lamp, frightful thing.", 0, uuid.uuid4())
    client = house.client(who)
    shut = {FORBIDDEN} | (set() if who in MEMBERS else {NOT_FOUND, SIGN_IN})
    for name, parts in PARTS.items():
        if EXPECTED[name][who][0] == WRONG_METHOD:
            continue  # nobody gets as far as a view
        kwargs = house.sample(name)
        if parts >= {"production", "public_id"} and not name.startswith(("member", "inv")):
            kwargs["public_id"] = note.public_id
        if name in {"account_logout", "sign-in-link", "join"}:
            continue  # doors to being someone else
        for query in (NARROWED, {}):
            looked_for.clear()
            response = client.get(reverse(name, kwargs=kwargs), query)
            assert b"frigh" not in response.content, name
            assert note.public_id.encode() not in response.content, name
            if EXPECTED[name][who][0] in shut or looked_for.isdisjoint(NARROWED):
                break  # whatever is asked for there


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


@pytest.mark.parametrize("who", READERS)
def test_a_withdrawn_draft_is_read_through_no_door(house: House, who: str) -> None:
    """Draft 2, the one with the fog; the working draft that was begun from it is the writers' alone."""
    writer = house.people["writer"].memberships.get(production=house.production)
    withdraw_draft(writer, house.production.drafts.get(number=2), "Frightful typing.")
    client = house.client(who)
    for name, parts in PARTS.items():
        if name in {"account_logout", "sign-in-link", "join"}:
            continue  # doors to being someone else
        if EXPECTED[name][who][0] == WRONG_METHOD:
            continue  # nobody gets as far as a view
        kwargs = house.sample(name) | ({"number": 2} if "number" in parts else {})
        response = client.get(reverse(name, kwargs=kwargs) + "?since=1&character=NELL&page=1")
        assert b"Fog." not in response.content, name
        assert b"Frightful" not in response.content, name
        if parts & {"number", "new"} and name != TOLD_WHATEVER_DRAFT:
            assert response.status_code in {FORBIDDEN, NOT_FOUND}, name


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
            house.mark.form_id,
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
