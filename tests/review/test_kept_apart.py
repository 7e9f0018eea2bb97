"""A note for the writer's eyes only is on nothing made for others, unless asked for and named there."""

from __future__ import annotations

import uuid
from datetime import timedelta
from itertools import product
from typing import TYPE_CHECKING, Any

import pytest
from django.urls import reverse
from django.utils import timezone
from pypdfium2 import PdfDocument

from review.changes.change_sheets import everyone
from review.notes.models import Audience, Note
from review.talks.acts import When, call_talk
from tests.factories import SCRIPT, make_draft, make_note
from tests.review.house import is_taken_away
from tests.review.who_gets_what import EXPECTED, FILES, OPEN, SIGN_IN, WRONG_METHOD

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.talks.models import Talk
    from tests.review.house import House

    SignIn = Callable[[Member], Client]

SECRET = "Frankly unplayable"
REVISED = SCRIPT.replace("Mist.", "Fog, and more of it.")
LEFT_OUT = "Notes for the writer’s eyes only are left out"
TAKEN_IN = "Notes for the writer’s eyes only are among these"

WITHOUT_NOTES: dict[str, dict[str, str]] = {
    "draft-pdf": {},
    "draft-sides": {"character": "NELL"},
    "revised-pages-pdf": {},
    "draft-text": {},
    "draft-html": {},
    "draft-download": {},
}
WITH_NOTES: dict[str, dict[str, str]] = {
    "draft-pdf": {"notes": "on"},
    "notes-csv": {},
    "notes-fountain": {},
    "notes-json": {},
    "notes-pdf": {},
}
SHEETS = ("change-sheet", "change-sheet-pdf")
# Files that tell of the script and its figures, by what stands in their addresses beside the draft.
FIGURES: dict[str, tuple[dict[str, str], ...]] = {
    "scenes-file": ({"ending": "csv"},),
    "scenes-picture": tuple({"name": name, "ending": "svg"} for name in ("presence", "lengths", "flow")),
    "voices-picture": tuple({"name": name, "ending": "svg"} for name in ("share", "exchanges")),
    "voice-picture": ({"character": "NELL", "ending": "svg"},),
}
OF_A_TALK = {"talk-agenda": True, "talk-calendar": False}


@pytest.fixture
def drafts(writer: Member, crew: Member) -> tuple[Draft, Draft]:
    first, second = make_draft(writer, SCRIPT), make_draft(writer, REVISED, number=2)
    for draft in (first, second):
        for line in (4, 6, 15):
            make_note(crew, draft, line, body=SECRET, audience=Audience.WRITER)
    return first, second


@pytest.fixture
def talk(writer: Member, crew: Member, drafts: tuple[Draft, Draft]) -> Talk:
    return call_talk(writer, drafts[1], [crew], When(timezone.now() + timedelta(days=1), 60, "Net loft"), uuid.uuid4())


def outputs(writer: Member, drafts: tuple[Draft, Draft], talk: Talk) -> Iterator[tuple[str, dict[str, str], bool]]:
    """Everything there is to hand on: its address, what it is asked for, and whether it lists notes at all."""
    first, second = drafts
    production = writer.production.public_id
    for name, each in FIGURES.items():
        for parts in each:
            yield reverse(name, kwargs={"production": production, "number": second.number, **parts}), {}, False
    for name, lists_notes in OF_A_TALK.items():
        yield reverse(name, args=[production, talk.public_id]), {}, lists_notes
    for asked, lists_notes in ((WITHOUT_NOTES, False), (WITH_NOTES, True)):
        for name, query in asked.items():
            yield reverse(name, args=[production, second.number]), query, lists_notes
    for name in SHEETS:
        for whose in everyone(first, second):
            yield reverse(name, args=[production, first.number, second.number, whose.slug]), {}, True


def told_by(response: Any) -> str:
    if response["Content-Type"].endswith("pdf"):
        with PdfDocument(response.content) as pdf:
            return " ".join(" ".join(page.get_textpage().get_text_range() for page in pdf).split())
    return " ".join(response.content.decode().split())


def test_no_output_has_it_and_each_that_lists_notes_says_so(
    writer: Member, drafts: tuple[Draft, Draft], talk: Talk, signed_in: SignIn
) -> None:
    client = signed_in(writer)
    for address, query, lists_notes in outputs(writer, drafts, talk):
        response = client.get(address, query)
        assert response.status_code == 200, address
        told = told_by(response)
        assert SECRET not in told, address
        assert (LEFT_OUT in told) == lists_notes, address


def test_asked_for_it_is_there_and_the_copy_names_it(
    writer: Member, drafts: tuple[Draft, Draft], talk: Talk, signed_in: SignIn
) -> None:
    client = signed_in(writer)
    first, second = drafts
    production = writer.production.public_id
    for address in (
        *(reverse(name, args=[production, second.number]) for name in WITH_NOTES),
        reverse("change-sheet-pdf", args=[production, first.number, second.number, "camera"]),
        reverse("change-sheet", args=[production, first.number, second.number, "camera"]),
        reverse("talk-agenda", args=[production, talk.public_id]),
    ):
        told = told_by(client.get(address, {"notes": "on", "for_writers_too": "on"}))
        assert SECRET in told, address
        assert TAKEN_IN in told, address


@pytest.mark.parametrize("who", ["writer", "cast"])
def test_a_copy_without_any_does_not_say_that_it_has_them(
    who: str, request: pytest.FixtureRequest, drafts: tuple[Draft, Draft], signed_in: SignIn
) -> None:
    """Where there are none at all, and where whoever asks may read none."""
    first, second = drafts
    member = request.getfixturevalue(who)
    if who == "writer":
        Note.objects.filter(audience=Audience.WRITER).update(audience=Audience.EVERYONE)
    production = member.production.public_id
    for address in (
        reverse("draft-pdf", args=[production, second.number]),
        reverse("change-sheet-pdf", args=[production, first.number, second.number, "camera"]),
        reverse("change-sheet", args=[production, first.number, second.number, "camera"]),
    ):
        told = told_by(signed_in(member).get(address, {"notes": "on", "for_writers_too": "on"}))
        assert TAKEN_IN not in told, address
        assert "No note for the writer’s eyes only is among these." in told, address


def test_every_address_that_gives_a_file_is_among_those_tried(house: House) -> None:
    """A new way out has to be added above. The working draft's own text is for writers to write on.

    Which of the addresses that open as they are tried by everybody give a file is held there, in test_access.py.
    """
    client = house.client("writer")
    found = set(FILES)
    for name, outcomes in EXPECTED.items():
        if outcomes["writer"][0] in {OPEN, WRONG_METHOD, SIGN_IN}:
            continue
        for picture, ending in product(("share", "lengths"), ("csv", "svg")):
            samples = house.sample(name)
            asked = {"number": 2, "name": picture, "ending": ending}
            parts = samples | {part: told for part, told in asked.items() if part in samples}
            answer = client.get(reverse(name, kwargs=parts), {"character": "NELL"})
            if is_taken_away(answer):
                found.add(name)
            if "ending" not in samples:
                break
    assert found - {"working-download"} == {*WITHOUT_NOTES, *WITH_NOTES, *FIGURES, *OF_A_TALK, "change-sheet-pdf"}
