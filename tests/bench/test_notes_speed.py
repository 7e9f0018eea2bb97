"""What the Notes screen takes with a thousand notes on a script of 120 pages: against a hundred notes, and against a
bare page of Django's, as many bytes held ready and sent through the same middleware to the same person."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import include, path, reverse

from review.access import Role
from review.drafts.drawn_pages import draw_pages
from review.notes.models import Note
from review.people.models import Department
from tests.bench.stopwatch import least_seconds
from tests.factories import make_draft, make_member, make_production
from tests.feature_script import feature_script

if TYPE_CHECKING:
    from django.http import HttpRequest

    from review.people.models import Member

PAGES, FEW, MANY = 120, 100, 1_000
MOST_OF_A_HUNDRED = 2.0
MOST_BARE_PAGES = 140.0
held_ready: dict[str, bytes] = {}


def bare(request: HttpRequest) -> HttpResponse:
    return HttpResponse(held_ready["page"])


urlpatterns = [path("bare/", bare), path("", include("project.urls"))]
pytestmark = [pytest.mark.django_db, pytest.mark.urls(__name__)]


def with_notes(count: int) -> tuple[Client, str]:
    """A writer's client, and the address of the notes of a production with so many, evenly over the script."""
    writer: Member = make_member(make_production(), Role.WRITER, Department.WRITING, "Ada Wren")
    reader = make_member(writer.production)
    draft = make_draft(writer, feature_script(PAGES))
    printed, lines = draw_pages(draft).printed, draft.text.splitlines()
    notes = []
    for nth in range(count):
        line = printed[nth * len(printed) // count]
        place = {"first_line": line, "first_char": 0, "last_line": line, "last_char": len(lines[line - 1])}
        said = {"kind": "question", "body": "Is this *really* night?", "quoted": lines[line - 1]}
        notes.append(Note(production=draft.production, draft=draft, author=reader, **place, **said))
    Note.objects.bulk_create(notes)
    client = Client()
    client.force_login(writer.person, backend="allauth.account.auth_backends.AuthenticationBackend")
    return client, reverse("notes", args=[writer.production.public_id])


def test_a_thousand_notes_take_no_more_than_twice_a_hundred() -> None:
    (few, its), (many, their) = with_notes(FEW), with_notes(MANY)
    held_ready["page"] = many.get(their).content
    hundred, thousand, peer = least_seconds(
        lambda: few.get(its), lambda: many.get(their), lambda: many.get("/bare/"), tries=5
    )
    told = f"{thousand / hundred:.2f} times a hundred, {thousand / peer:.0f} bare pages"
    sys.stdout.write(f"\nNotes, a thousand of them: {told}, {len(held_ready['page']) // 1024} KiB\n")
    assert thousand <= MOST_OF_A_HUNDRED * hundred
    assert thousand <= MOST_BARE_PAGES * peer
