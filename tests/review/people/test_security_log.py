"""The security log: what it tells writers, of whom, and in which words."""

from __future__ import annotations

import re
import uuid
from datetime import timedelta
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from review import log
from review.access import Role
from review.log import Act
from review.people import acts
from review.people.models import Department
from review.people.security_log import ON_A_PAGE
from review.rewriting.acts import begin_working
from review.talks.acts import When, call_talk
from tests.factories import make_member, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db
PASSWORD = "mended nets by lamp"
ELSEWHERE = "192.0.2.44"


def log_of(member: Member) -> str:
    return reverse("security-log", args=[member.production.public_id])


def rows(page: str) -> list[str]:
    """The rows as they are read: what happened, and from where."""
    return [
        " ".join(cell.get_text(" ", strip=True) for cell in row.select("td")[1:]).replace("  ", " ").strip()
        for row in BeautifulSoup(page, "html.parser").select(".doors tbody tr")
    ]


def read(signed_in: SignIn, writer: Member) -> list[str]:
    return rows(signed_in(writer).get(log_of(writer)).text)


def sign_in(member: Member, password: str = PASSWORD) -> Client:
    client = Client(REMOTE_ADDR=ELSEWHERE)
    client.post(reverse("account_login"), {"login": member.person.email, "password": password})
    return client


def with_password(member: Member) -> Member:
    member.person.set_password(PASSWORD)
    member.person.save()
    return member


def test_it_says_who_signed_in_who_was_kept_out_and_who_chose_a_password(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    sign_in(with_password(crew), "a guess by somebody")
    client = sign_in(crew)
    new = "two lamps and a net"
    client.post(reverse("account_change_password"), {"oldpassword": PASSWORD, "password1": new, "password2": new})
    assert read(signed_in, writer) == [
        f"Bo Finch chose a new password {ELSEWHERE}",
        f"Bo Finch signed in {ELSEWHERE}",
        f"Somebody gave a wrong password for Bo Finch {ELSEWHERE}",
    ]


def test_it_says_who_was_invited_joined_was_changed_removed_and_whose_invitation_was_withdrawn(
    signed_in: SignIn, writer: Member
) -> None:
    invitation, _ = acts.invite(writer, "Sunniva Grey", "crew", "sound", uuid.uuid4())
    acts.withdraw_invitation(writer, invitation)
    _, token = acts.invite(writer, "Ida Roe", "crew", "art", uuid.uuid4())
    form = {"name": "Ida Roe", "email": "ida@example.org", "password": ""}
    Client(REMOTE_ADDR=ELSEWHERE).post(reverse("join", args=[token]), form)
    ida = writer.production.members.get(person__email="ida@example.org")
    acts.change_role(writer, ida, acts.RoleInProduction("producer", "production", ""))
    acts.remove_member(writer, ida)
    assert read(signed_in, writer) == [
        "Ada Wren removed Ida Roe",
        "Ada Wren made Ida Roe producer, in production; before: crew, in art",
        f"Ida Roe joined by invitation as crew, in art {ELSEWHERE}",
        "Ada Wren invited Ida Roe as crew, in art",
        "Ada Wren withdrew the invitation for Sunniva Grey",
        "Ada Wren invited Sunniva Grey as crew, in sound",
    ]


def test_it_says_which_link_was_made_and_used(signed_in: SignIn, writer: Member, crew: Member) -> None:
    token = acts.make_sign_in_link(writer, crew)
    Client(REMOTE_ADDR=ELSEWHERE).post(reverse("sign-in-link", args=[token]))
    assert read(signed_in, writer) == [
        f"Bo Finch was signed in by the link that Ada Wren made {ELSEWHERE}",
        "Ada Wren made a sign-in link for Bo Finch",
    ]


def test_it_says_what_was_made_at_the_terminal(signed_in: SignIn, writer: Member, crew: Member) -> None:
    acts.remove_member(writer, crew)
    acts.let_back_in(crew.person, writer.production, Role.CAST)
    acts.make_link_at_terminal(crew.person)
    assert read(signed_in, writer)[:2] == [
        "Bo Finch was made a sign-in link at the server’s own terminal",
        "Bo Finch was let back in at the server’s own terminal",
    ]


def test_it_says_who_took_which_copy(signed_in: SignIn, writer: Member, crew: Member, draft: Draft) -> None:
    make_note(crew, draft)
    begin_working(writer, draft, uuid.uuid4())
    talk = call_talk(writer, draft, [crew], When(timezone.now() + timedelta(days=1), 60, ""), uuid.uuid4())
    client = signed_in(writer)
    production = writer.production.public_id
    asked: list[tuple[str, list[Any], dict[str, str]]] = [
        ("draft-download", [1], {}),
        ("draft-text", [1], {}),
        ("draft-html", [1], {}),
        ("draft-pdf", [1], {}),
        ("draft-sides", [1], {"character": "NELL"}),
        ("notes-csv", [1], {}),
        ("scenes-file", [1, "csv"], {}),
        ("talk-agenda", [talk.public_id], {"for_writers_too": "on"}),
        ("working-download", [], {}),
    ]
    for name, parts, query in asked:
        assert client.get(reverse(name, args=[production, *parts]), query).status_code == 200, name
    assert read(signed_in, writer)[: len(asked)] == [
        f"Ada Wren {taken} 127.0.0.1"
        for taken in (
            "downloaded the text of the working draft",
            "took the agenda of a talk about draft 1, with those for the writer’s eyes only",
            "took the breakdown of draft 1",
            "took 1 note on draft 1 as a table",
            "took the sides of NELL from draft 1",
            "took a PDF of draft 1",
            "downloaded the web page of draft 1",
            "downloaded the plain text of draft 1",
            "downloaded the source of draft 1",
        )
    ]


def test_the_same_over_and_over_is_one_row_with_its_count(signed_in: SignIn, writer: Member, crew: Member) -> None:
    with_password(crew)
    for _ in range(4):
        sign_in(crew, "a guess by somebody")
    assert read(signed_in, writer) == [f"Somebody gave a wrong password for Bo Finch 4 times {ELSEWHERE}"]


def test_it_tells_nothing_of_what_its_people_do_in_other_productions(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    other = make_member(make_production("Other Film"), Role.WRITER, Department.WRITING)
    acts.invite(other, "Secret Guest", "crew", "art", uuid.uuid4())
    make_member(other.production, person=crew.person)
    acts.change_role(
        other, other.production.members.get(person=crew.person), acts.RoleInProduction("producer", "art", "")
    )
    assert read(signed_in, writer) == []


def test_it_tells_nothing_of_those_who_are_not_in_it(signed_in: SignIn, writer: Member) -> None:
    stranger = with_password(make_member(make_production("Other Film"), name="Odd Moe"))
    sign_in(stranger)
    assert read(signed_in, writer) == []


def test_of_an_address_that_nobody_has_nothing_is_kept(signed_in: SignIn, writer: Member) -> None:
    Client().post(reverse("account_login"), {"login": "my secret password", "password": "x"})
    Client().post(reverse("account_login"), {"login": "nobody@example.org", "password": "x"})
    assert not Act.objects.exists()


@pytest.mark.parametrize("role", [Role.PRODUCER, Role.CREW, Role.CAST])
def test_readers_do_not_read_it(signed_in: SignIn, writer: Member, role: Role) -> None:
    reader = make_member(writer.production, role)
    client = signed_in(reader)
    assert client.get(log_of(reader)).status_code == 403
    assert log_of(reader) not in client.get(reverse("people", args=[reader.production.public_id])).text


def test_it_holds_no_secret(signed_in: SignIn, writer: Member, crew: Member) -> None:
    _, invitation = acts.invite(writer, "Ida", "crew", "art", uuid.uuid4())
    link = acts.make_sign_in_link(writer, crew)
    sign_in(with_password(crew), "a guess by somebody")
    page = signed_in(writer).get(log_of(writer)).text
    kept = str(list(Act.objects.values()))
    for secret in (invitation or "", link, "a guess by somebody", crew.person.email):
        assert secret not in page
        assert secret not in kept


def test_many_days_come_in_pages_that_lead_on(signed_in: SignIn, writer: Member) -> None:
    for n in range(ON_A_PAGE + 5):
        with log.happened_at(timezone.now() - timedelta(days=ON_A_PAGE + 5 - n)):
            log.record(writer.person, Act.Verb.SIGNED_IN, None)
    client = signed_in(writer)
    first = client.get(log_of(writer)).text
    earlier = re.search(r'href="(\?before=\d+)"', first)
    assert earlier
    second = client.get(log_of(writer) + earlier.group(1)).text
    assert (len(rows(first)), len(rows(second))) == (ON_A_PAGE, 5)
    assert "?before=" not in second


@pytest.mark.parametrize("before", ["x", "-1", "9" * 40, "\u00b2"])
def test_a_page_that_there_is_not_is_the_latest_or_nothing(signed_in: SignIn, writer: Member, before: str) -> None:
    assert signed_in(writer).get(f"{log_of(writer)}?before={before}").status_code == 200


def test_it_asks_the_database_no_more_often_for_a_long_one(signed_in: SignIn, writer: Member) -> None:
    client = signed_in(writer)

    def queries() -> int:
        with CaptureQueriesContext(connection) as captured:
            client.get(log_of(writer))
        return len(captured)

    acts.invite(writer, "Ida", "crew", "art", uuid.uuid4())
    few = queries()
    for n in range(30):
        acts.invite(writer, f"Ida {n}", "crew", "art", uuid.uuid4())
        log.record(make_member(writer.production).person, Act.Verb.SIGNED_IN, None)
    assert queries() == few
