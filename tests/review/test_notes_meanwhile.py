"""A page is made by several queries, and others go on writing between them: whatever they leave, the page comes."""

from __future__ import annotations

from copy import deepcopy
from typing import TYPE_CHECKING, Any

import pytest
from django.db import connection
from django.urls import reverse

from review.access import Role
from review.people.models import Department
from review.publishing.acts import publish_draft
from screenplay.intake import read_text
from tests.factories import SCRIPT, make_draft, make_member, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client
    from pytest_django import DjangoDbBlocker

    from review.drafts.models import Draft
    from review.people.models import Member

pytestmark = pytest.mark.django_db

OF_THE_PRODUCTION = ["home", "notes", "to-do", "people", "drafts", "working-publish", "security-log"]
OF_THE_DRAFT = ["draft-report", "script", "draft-print", "voices"]


class LeavesNotes:
    """Leaves a note on the first draft, which stands in the second too, before each query of
    somebody else's page."""

    def __init__(self, author: Member, first: Draft, second: Draft) -> None:
        self.author, self.first, self.second = author, first, second
        self.is_at_it = False

    def __call__(self, execute: Callable[..., Any], sql: str, params: Any, many: bool, context: Any) -> Any:
        if sql.startswith("SELECT") and not self.is_at_it:
            self.is_at_it = True
            note = make_note(self.author, self.first)
            place = {name: getattr(note, name) for name in ("first_line", "first_char", "last_line", "last_char")}
            note.placements.create(draft=self.second, fate="kept", **place)
            self.is_at_it = False
        return execute(sql, params, many, context)


@pytest.fixture(scope="module")
def built(once_a_module: DjangoDbBlocker) -> tuple[dict[str, Member], tuple[Draft, Draft]]:
    """A production of two drafts with a note on the first: its members, and the drafts."""
    with once_a_module.unblock():
        production = make_production()
        writer = make_member(production, Role.WRITER, Department.WRITING, "Ada Wren")
        crew = make_member(production, Role.CREW, Department.CAMERA, "Bo Finch")
        first = make_draft(writer)
        make_note(crew, first)
        second, _ = publish_draft(writer, read_text(SCRIPT.replace("Mist.", "Fog.")))
        return {"writer": writer, "crew": crew}, (first, second)


@pytest.mark.parametrize("name", [*OF_THE_PRODUCTION, *OF_THE_DRAFT, "changes-between", "change-sheet"])
@pytest.mark.parametrize("role", ["writer", "crew"])
def test_a_note_left_while_a_page_is_made_does_not_spoil_it(
    built: tuple[dict[str, Member], tuple[Draft, Draft]], signed_in: Callable[[Member], Client], role: str, name: str
) -> None:
    members, drafts = deepcopy(built)
    client = signed_in(members[role])
    arguments: dict[str, Any] = {"production": members["writer"].production.public_id}
    arguments |= {"number": 2} if name in OF_THE_DRAFT else {}
    arguments |= {"old": 1, "new": 2} if name.startswith("change") else {}
    arguments |= {"whose": "camera"} if name == "change-sheet" else {}
    page = reverse(name, kwargs=arguments)
    usual = client.get(page).status_code
    with connection.execute_wrapper(LeavesNotes(members["crew"], *drafts)):
        assert client.get(page).status_code == usual
