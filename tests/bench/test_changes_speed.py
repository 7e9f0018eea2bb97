"""What the Changes screen weighs and takes between two drafts of 120 pages, in a process that has not shown it yet.

The peer is a bare page of Django's: as many bytes, held ready, sent through the same middleware to the same person.
"""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import include, path, reverse

from review.access import Role
from review.kept import STORE
from review.people.models import Department
from tests.bench.stopwatch import least_ratio, least_until, seconds
from tests.factories import make_draft, make_member, make_production
from tests.feature_script import feature_script

if TYPE_CHECKING:
    from django.http import HttpRequest

PAGES = 120
CHANGED_EVERY = 40  # lines: about one in each page
MOST_OF_THE_TEXT = 3.0
MOST_OF_THE_FIRST_TIME = 0.25
MOST_BARE_PAGES = 60.0
held_ready: dict[str, bytes] = {}


def bare(request: HttpRequest) -> HttpResponse:
    return HttpResponse(held_ready["page"])


urlpatterns = [path("bare/", bare), path("", include("project.urls"))]
pytestmark = [pytest.mark.django_db, pytest.mark.urls(__name__)]


def rewritten(text: str) -> str:
    lines = text.split("\n")
    for at in range(CHANGED_EVERY, len(lines), CHANGED_EVERY):
        if lines[at].endswith("."):
            lines[at] = f"{lines[at][:-1]}, and the tide turns."
    return "\n".join(lines)


def test_the_changes_come_from_what_is_kept_and_the_unchanged_stays_away() -> None:
    writer = make_member(make_production(), Role.WRITER, Department.WRITING, "Ada Wren")
    text = feature_script(PAGES)
    make_draft(writer, text)
    make_draft(writer, rewritten(text), 2)
    client = Client()
    client.force_login(writer.person, backend="allauth.account.auth_backends.AuthenticationBackend")
    address = reverse("changes-between", args=[writer.production.public_id, 1, 2])

    first = seconds(lambda: client.get(address))
    held_ready["page"] = client.get(address).content

    def anew() -> None:
        STORE.clear()  # as in a process that was just started
        assert client.get(address).status_code == 200

    again = least_until(anew, enough=MOST_OF_THE_FIRST_TIME * first)
    bare_pages = least_ratio(anew, lambda: client.get("/bare/"), enough=MOST_BARE_PAGES)
    weight = len(held_ready["page"]) / len(text)
    told = f"{weight:.2f} times the text; {again / first:.2f} of the first time, {bare_pages:.1f} bare pages"
    sys.stdout.write(f"\nChanges in a new process: {told}\n")
    assert weight <= MOST_OF_THE_TEXT
    assert again <= MOST_OF_THE_FIRST_TIME * first
    assert bare_pages <= MOST_BARE_PAGES
