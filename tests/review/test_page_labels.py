"""Wherever a screen or a file names a page of a script whose pages are locked, it says what that page is called.

A page added behind locked page 2 is 2A (common practice in the trade).
"""

from __future__ import annotations

import re
import uuid
from copy import deepcopy
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

import pdfplumber
import pytest
from bs4 import BeautifulSoup
from django.conf import settings
from django.urls import reverse

from review.access import Role
from review.drafts.scripts import laid_out
from review.people.models import Department
from review.rewriting.acts import begin_working
from tests.factories import make_member, make_note, make_production, make_reading
from tests.review.locked_film import GROWN, GROWN_TO, PIER, WHOLE, lock_all, put_up
from tests.screenplay.next_draft.test_page_carrying import begins

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client
    from pytest_django import DjangoDbBlocker

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

LINE_ON_2A = GROWN[: GROWN.index("Line 51.")].count("\n") + 1
ACROSS = GROWN[: GROWN.index("Line 50.")].count("\n") + 1, LINE_ON_2A


@pytest.fixture(scope="module")
def writer_of_it(once_a_module: DjangoDbBlocker) -> Member:
    with once_a_module.unblock():
        writer = make_member(make_production(), Role.WRITER, Department.WRITING, "Ada Wren")
        put_up(writer, WHOLE)
        lock_all(writer)
        draft = put_up(writer, GROWN)
        assert begins(laid_out(draft).layout) == GROWN_TO
        camera = make_member(writer.production, Role.CREW, Department.CAMERA, "Bo Finch")
        make_note(camera, draft, LINE_ON_2A)
        make_note(camera, draft, *ACROSS)
        return writer


@pytest.fixture
def film(writer_of_it: Member, db: None) -> Member:
    """Two drafts with locked pages: in the second 2 runs over to 2A, where a scene begins and two notes stand."""
    return deepcopy(writer_of_it)


def address(member: Member, name: str, *numbers: object) -> str:
    return reverse(name, args=[member.production.public_id, *numbers])


def words_of(client: Client, at: str) -> str:
    """What a screen, a text or a PDF reads, without the name that lies across a PDF's pages."""
    answer = client.get(at, follow=True)
    assert answer.status_code == 200, at
    if answer["Content-Type"] == "application/pdf":
        with pdfplumber.open(BytesIO(answer.content)) as read:
            pages = [page.filter(lambda each: "matrix" not in each or each["matrix"][1] == 0) for page in read.pages]
            return " ".join(" ".join(page.extract_text() for page in pages).split())
    return " ".join(BeautifulSoup(answer.content, "html.parser").get_text(" ").split())


SAID = {
    "script": ("2A.", "p. 2A", "Notes on page 2A"),
    "notes": ("Page 2A", "Pages 2 to 2A"),
    "draft-report": (f"{PIER} NELL 2A",),
    "draft-pdf": ("2A.", "Page 2A, scene 2", "Page 2, scene 1"),
    "draft-sides": ("2A.",),
    "draft-text": ("2A.",),
    "draft-html": ("2A.",),
    "voices": ("2 2A",),
}
ASKED = {"draft-pdf": "?notes=on", "draft-sides": "?character=NELL", "draft-text": "?paper=letter"}


@pytest.mark.parametrize("name", SAID)
def test_a_draft_says_what_its_pages_are_called(film: Member, signed_in: SignIn, name: str) -> None:
    numbers = () if name == "notes" else (2,)
    read = words_of(signed_in(film), address(film, name, *numbers) + ASKED.get(name, ""))
    for words in SAID[name]:
        assert words in read


def test_the_notes_of_one_page_of_the_script_say_on_which_pages_they_stand(film: Member, signed_in: SignIn) -> None:
    client = signed_in(film)
    assert "Pages 2 to 2A" in words_of(client, address(film, "script-page", 2, "2"))
    assert "Page 2A" in words_of(client, address(film, "script-page", 2, "2A"))


def test_reading_scene_by_scene_says_the_page(film: Member, signed_in: SignIn) -> None:
    crew = make_member(film.production)
    reading = make_reading(film, film.production.drafts.get(number=2), crew)
    client = signed_in(crew)
    assert "page 2A" in words_of(client, address(film, "reading", reading.public_id))
    assert "2A." in words_of(client, address(film, "reading-scene", reading.public_id, 2))


def test_changes_and_change_sheets_say_on_which_page_a_scene_is_and_was(film: Member, signed_in: SignIn) -> None:
    client = signed_in(film)
    assert "Page 2A of Draft 2" in words_of(client, address(film, "changes-between", 1, 2))
    for name in ("change-sheet", "change-sheet-pdf"):
        assert "age 2A, before on page 2" in words_of(client, address(film, name, 1, 2, "locations"))


def test_setting_a_place_by_hand_says_the_page(film: Member, signed_in: SignIn) -> None:
    note = make_note(make_member(film.production), film.production.drafts.get(number=1), 3)
    given = {"first_line": LINE_ON_2A, "last_line": LINE_ON_2A, "shown": 2}
    answer = signed_in(film).post(address(film, "place", note.public_id), given, follow=True)
    assert "in Draft 2 the note stands on page 2A" in answer.content.decode()


def test_the_working_draft_has_the_pages_that_it_is_put_up_with(film: Member, signed_in: SignIn) -> None:
    draft = film.production.drafts.get(number=2)
    begin_working(film, draft, uuid.uuid4())
    working = film.production.working_drafts.open_now()
    assert working is not None
    client = signed_in(film)
    assert f"{PIER} page 2A" in words_of(client, address(film, "working"))
    pier = working.scenes.get(ordinal=2)
    beside = client.get(address(film, "working-scene", pier.public_id)).content.decode()
    labels = [each.get_text() for each in BeautifulSoup(beside, "html.parser").select(".page-number")]
    assert labels == ["2A.", "3."]


def test_no_template_names_a_page_by_its_number() -> None:
    """Which is how many pages come before it, and no name for it where pages are locked."""
    named = re.compile(r"[Pp](?:age|\.) \{\{ *[\w.]*\b(?:page|number) *[|}]|\bpage\.number\b")
    assert named.search("Page {{ scene.page }}")
    for template in sorted(Path(settings.BASE_DIR, "templates").rglob("*.html")):
        assert not named.search(template.read_text(encoding="utf-8")), template
