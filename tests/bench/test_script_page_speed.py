"""What the script's page weighs and takes, on a script of 150 pages, without notes and with a thousand.

The peer is a bare page of Django's: as many bytes, held ready, sent through the same middleware to the same person.
"""

from __future__ import annotations

import sys
from functools import partial
from typing import TYPE_CHECKING

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import include, path, reverse

from review.access import Role
from review.drafts.drawn_pages import draw
from review.people.models import Department
from screenplay import lay_out, parse
from tests.bench.long_script import leave_notes, long_script
from tests.bench.stopwatch import least_ratio
from tests.factories import make_draft, make_member, make_production

if TYPE_CHECKING:
    from django.http import HttpRequest

    from review.drafts.models import Draft
    from review.people.models import Member

NOTES = 1000
held_ready: dict[str, bytes] = {}


def bare(request: HttpRequest) -> HttpResponse:
    return HttpResponse(held_ready["page"])


def say(figure: str) -> None:
    """What was measured, where `pytest -s` shows it."""
    sys.stdout.write(f"\n{figure}\n")


urlpatterns = [path("bare/", bare), path("", include("project.urls"))]
pytestmark = [pytest.mark.django_db, pytest.mark.urls(__name__)]


@pytest.fixture(scope="module")
def text() -> str:
    return long_script()


@pytest.fixture
def writer() -> Member:
    return make_member(make_production(), Role.WRITER, Department.WRITING, "Ada Wren")


@pytest.fixture
def draft(writer: Member, text: str) -> Draft:
    return make_draft(writer, text)


@pytest.fixture
def client(writer: Member) -> Client:
    client = Client()
    client.force_login(writer.person, backend="allauth.account.auth_backends.AuthenticationBackend")
    return client


def address(draft: Draft) -> str:
    return reverse("script", args=[draft.production.public_id, draft.number])


def test_the_page_is_no_more_than_three_times_its_text(client: Client, draft: Draft) -> None:
    page = client.get(address(draft)).content
    ratio = len(page) / len(draft.text.encode())
    say(f"The script's page without notes: {ratio:.2f} times its text")
    assert ratio <= 3


def test_the_first_rendering_takes_at_most_twice_as_long_as_reading_and_laying_out(text: str) -> None:
    ratio = least_ratio(lambda: draw(lay_out(parse(text))), lambda: lay_out(parse(text)), enough=2)
    say(f"The first rendering: {ratio:.2f} times the parse and the layout")
    assert ratio <= 2


def test_from_what_is_kept_it_takes_at_most_three_times_as_long_as_a_bare_page(client: Client, draft: Draft) -> None:
    """Both as browsers ask for them: compressed."""
    held_ready["page"] = client.get(address(draft)).content
    get = partial(client.get, headers={"accept-encoding": "gzip"})
    ratio = least_ratio(lambda: get(address(draft)), lambda: get("/bare/"), enough=3, tries=20)
    say(f"The script's page as kept: {ratio:.2f} times a bare page")
    assert ratio <= 3


def test_a_thousand_notes_add_a_quarter_to_the_page_at_most_and_take_three_times_as_long_at_most(
    client: Client, writer: Member, draft: Draft
) -> None:
    other = make_draft(writer, draft.text, 2)
    leave_notes(writer, draft, NOTES)
    noted, plain = (client.get(address(each)).content for each in (draft, other))
    time = least_ratio(lambda: client.get(address(draft)), lambda: client.get(address(other)), enough=3, tries=20)
    say(f"A thousand notes: {len(noted) / len(plain):.2f} times the page, {time:.2f} times the time")
    assert len(noted) <= 1.25 * len(plain)
    assert time <= 3
