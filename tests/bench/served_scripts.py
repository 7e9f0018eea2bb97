"""A server as `serve` starts it, and what browsers are measured on: the demo, and 150 pages with few notes and many."""

from __future__ import annotations

import os
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

DEMO, SOME_NOTES, MANY_NOTES = "the demo", "200 notes", "1000 notes"


@dataclass(frozen=True)
class ServedScripts:
    """A running server, the cookie of somebody who is signed in there, and the addresses of scripts by name."""

    url: str
    cookie: str
    scripts: dict[str, str]

    @property
    def signed_in(self) -> dict[str, str]:
        """The cookie, as a browser takes it."""
        return {"name": "sessionid", "value": self.cookie, "url": self.url}


@contextmanager
def served(folder: Path) -> Iterator[ServedScripts]:
    from tests import servers

    servers.PATIENCE = 600  # seconds: the demo is put in, and a busy machine is waited for
    with servers.serving(folder, "--demo") as server:
        server.wait_for("The demo is loaded")
        server.wait_until_it_answers()
        os.environ["FAIRHAND_DATA"] = str(folder)
        cookie, scripts = put_in()
        yield ServedScripts(f"http://127.0.0.1:{server.port}", cookie, scripts)


def put_in() -> tuple[str, dict[str, str]]:
    import django

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "project.settings")
    django.setup()
    from django.test import Client
    from django.urls import reverse

    from review.access import Role
    from review.drafts.models import Draft
    from review.people.models import Department
    from tests.bench.long_script import leave_notes, long_script
    from tests.factories import make_draft, make_member, make_production

    writer = make_member(make_production("The long one"), Role.WRITER, Department.WRITING, "Ada Wren")
    demo = Draft.objects.exclude(production=writer.production).order_by("-number").first()
    assert demo is not None
    make_member(demo.production, Role.WRITER, Department.WRITING, person=writer.person)
    scripts = {DEMO: reverse("script", args=[demo.production.public_id, demo.number])}
    text = long_script()
    for number, (name, notes) in enumerate({SOME_NOTES: 200, MANY_NOTES: 1000}.items(), start=1):
        draft = make_draft(writer, text, number)
        leave_notes(writer, draft, notes)
        scripts[name] = reverse("script", args=[writer.production.public_id, number])
    client = Client()
    client.force_login(writer.person, backend="allauth.account.auth_backends.AuthenticationBackend")
    return client.cookies["sessionid"].value, scripts
