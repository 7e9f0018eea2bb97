"""The notes in groups and in an order, what is said of them, and the look they are in."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from review.decisions.acts import decide
from review.notes.acts import reply
from review.notes.models import Note, NoteKind
from review.notes_screen.looks import FEW
from screenplay.breakdown import ASSESS_FIRST, CAUTION_SENSE
from tests.factories import SCRIPT, make_draft, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from bs4 import Tag
    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]


@pytest.fixture
def notes(writer: Member, crew: Member, cast: Member, draft: Draft) -> dict[str, Note]:
    return {
        "late": make_note(crew, draft, 17, kind=NoteKind.PROBLEM),
        "early": make_note(cast, draft, 6, kind=NoteKind.IDEA),
        "on nell": make_note(cast, draft, 8, kind=NoteKind.PRAISE, subject="character", character="NELL"),
        "safety": make_note(crew, draft, 13, kind=NoteKind.SAFETY),
        "title": make_note(crew, draft, 1, kind=NoteKind.PROBLEM),
    }


def screen(client: Client, member: Member, **asked: str) -> BeautifulSoup:
    response = client.get(reverse("notes", args=[member.production.public_id]), asked)
    assert response.status_code == 200
    return BeautifulSoup(response.text, "html.parser")


def grouped(page: BeautifulSoup, notes: dict[str, Note]) -> dict[str, list[str]]:
    """The names of the notes, from the top, under the names of their groups."""
    names = {f"note-{note.public_id}": name for name, note in notes.items()}
    return {
        group.select_one("h2").text.strip(): [names[str(note["id"])] for note in group.select(".note")]  # type: ignore[union-attr]
        for group in page.select(".notes-scene")
    }


EXPECTED: list[tuple[dict[str, str], dict[str, list[str]]]] = [
    (
        {"group": "scene"},
        {
            "Safety first": ["safety"],
            "NELL": ["on nell"],
            "Before the first scene": ["title"],
            "1 INT. BOATHOUSE - NIGHT": ["early"],
            "2 EXT. SLIPWAY - DAWN": ["late"],
        },
    ),
    (
        {"group": "department"},
        {"Safety first": ["safety"], "Camera": ["title", "late"], "Cast": ["on nell", "early"]},
    ),
    (
        {"group": "kind"},
        {"Safety first": ["safety"], "Problem": ["title", "late"], "Idea": ["early"], "Praise": ["on nell"]},
    ),
    (
        {"group": "reader", "sort": "newest"},
        {"Safety first": ["safety"], "Bo Finch": ["title", "late"], "Cleo Marsh": ["on nell", "early"]},
    ),
    (
        {"group": "kind", "sort": "replies"},
        {"Safety first": ["safety"], "Problem": ["late", "title"], "Praise": ["on nell"], "Idea": ["early"]},
    ),
    (
        {"group": "kind", "department": "camera", "kind": "problem"},
        {"Problem": ["title", "late"]},
    ),
]


@pytest.mark.parametrize(("asked", "expected"), EXPECTED)
def test_notes_come_in_the_groups_and_the_order_asked_for(
    signed_in: SignIn,
    writer: Member,
    crew: Member,
    notes: dict[str, Note],
    asked: dict[str, str],
    expected: dict[str, list[str]],
) -> None:
    reply(crew, notes["late"], "I too.", uuid.uuid4())
    found = grouped(screen(signed_in(writer), writer, **asked), notes)
    assert found == expected
    assert list(found) == list(expected)


def test_safety_comes_first_until_it_is_decided(signed_in: SignIn, writer: Member, notes: dict[str, Note]) -> None:
    decide(writer, notes["safety"], "accepted", "", 0, uuid.uuid4())
    found = grouped(screen(signed_in(writer), writer, state="all"), notes)
    assert "Safety first" not in found
    assert found["1 INT. BOATHOUSE - NIGHT"] == ["early", "safety"]


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ({}, "5 undecided notes; by the lines they share, in script order."),
        ({"group": "nothing", "sort": "nobody"}, "5 undecided notes; by the lines they share, in script order."),
        (
            {"kind": "problem", "department": "camera", "group": "scene", "sort": "newest"},
            "2 undecided problems, from Camera; by scene, the newest first.",
        ),
        (
            {"state": "all", "kind": "idea", "draft": "1", "about": "lines", "fate": "here"},
            "1 idea, on lines, left on draft 1, left on this draft; by the lines they share, in script order.",
        ),
    ],
)
def test_what_is_shown_is_said_in_words(
    signed_in: SignIn, writer: Member, notes: dict[str, Note], asked: dict[str, str], sentence: str
) -> None:
    head = screen(signed_in(writer), writer, **asked).select_one(".head p")
    assert head is not None
    assert sentence in head.text


def test_the_look_one_chose_is_kept_and_many_notes_come_compact_before_that(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    client = signed_in(writer)
    for _ in range(FEW):
        make_note(crew, draft, 9)
    assert screen(client, writer).select_one(".look-pages")
    make_note(crew, draft, 9)
    assert screen(client, writer).select_one(".look-compact")
    address = reverse("notes", args=[writer.production.public_id])
    led = client.post(reverse("notes-look", args=[writer.production.public_id]), {"look": "pages", "next": address})
    assert led.headers["Location"] == address
    assert screen(client, writer).select_one(".look-pages")
    client.post(reverse("notes-look", args=[writer.production.public_id]), {"look": "upside down"})
    assert screen(client, writer).select_one(".look-pages")
    assert screen(signed_in(crew), crew).select_one(".look-compact")


def compact(client: Client, member: Member) -> None:
    client.post(reverse("notes-look", args=[member.production.public_id]), {"look": "compact"})


def test_a_row_says_who_says_what_where_and_strikes_what_a_wording_takes_out(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    client = signed_in(writer)
    compact(client, writer)
    make_note(crew, draft, 9, kind=NoteKind.IDEA, body="It *is* five.", wording="Tide turns at five.")
    row = screen(client, writer).select_one(".row")
    assert row is not None
    head = row.select_one(".row-head")
    assert head is not None
    assert {"Idea", "Bo Finch", "Camera", "It is five.", "Page 1"} <= {text.strip() for text in head.strings}
    assert [each.text for each in head.select("del, ins")] == ["four", "five"]


def test_a_row_on_a_speech_shows_its_cue_with_what_is_said_and_nothing_as_it_is_typed(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    script = "INT. QUAY - DAY\n\n@McCabe (O.S.)\n(low)\nDid *anyone* see?\nOr hear?\n\nRain.\n"
    draft, client = make_draft(writer, script), signed_in(writer)
    compact(client, writer)
    make_note(crew, draft, 3, 6, body="Who?")
    make_note(crew, draft, 3, 5, body="Nobody.", wording="@McCabe (O.S.)\n(low)\nDid *nobody* see?")
    quoted, offered = ([" ".join(row.text.split())] for row in screen(client, writer).select(".row-lines"))
    assert quoted == ["McCabe (O.S.): (low) Did anyone see? Or hear?"]
    assert offered == ["Offers: McCabe (O.S.): (low) Did anyonenobody see?"]


@pytest.mark.parametrize(
    ("kind", "word"), [("question", "Answer"), ("praise", "Thank them"), ("safety", "Acknowledge"), ("idea", "Accept")]
)
def test_the_button_and_the_keys_say_what_accepting_means(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft, kind: str, word: str
) -> None:
    client = signed_in(writer)
    compact(client, writer)
    make_note(crew, draft, 9, kind=kind)
    row = screen(client, writer).select_one(".row")
    assert row is not None
    button = row.select_one(".quick-accepted")
    assert button is not None
    assert (button.text.strip(), row["data-accept"]) == (word, word)


def test_declining_safety_needs_a_reason_and_shows_the_cautions_of_its_scene(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    draft = make_draft(writer, SCRIPT.replace("Mist. The skiff is gone.", "Nell sets fire to the boathouse."))
    caution = declined(signed_in(writer), make_note(crew, draft, 17, kind=NoteKind.SAFETY))
    assert "fire" in caution.select_one("li").text  # type: ignore[union-attr]
    assert CAUTION_SENSE in caution.text


def test_where_no_list_finds_anything_that_is_said_to_mean_nothing(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    caution = declined(signed_in(writer), make_note(crew, draft, 6, kind=NoteKind.SAFETY))
    assert caution.select_one("li") is None
    assert "which says nothing of the risk" in caution.text
    assert ASSESS_FIRST in caution.text


def declined(client: Client, note: Note) -> Tag:
    """The caution of the form that comes back where a note is declined without a reason."""
    said = {"form_id": str(uuid.uuid4()), "seen": "0", "outcome": "declined", "reason": ""}
    response = client.post(reverse("decide", args=[note.production.public_id, note.public_id]), said)
    assert response.status_code == 422
    assert not note.decisions.exists()
    caution = BeautifulSoup(response.text, "html.parser").select_one(".decide-caution")
    assert caution is not None
    return caution


def test_the_same_queries_however_many_notes_in_either_look(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    client = signed_in(writer)
    address = reverse("notes", args=[writer.production.public_id])

    def queries(**asked: Any) -> int:
        with CaptureQueriesContext(connection) as counted:
            client.get(address, asked)
        return len(counted)

    def leave(count: int) -> None:
        for at in range(count):
            note = make_note(
                (crew, cast)[at % 2], draft, (6, 9, 17)[at % 3], kind=(NoteKind.SAFETY, NoteKind.IDEA)[at % 2]
            )
            reply(crew, note, "I too.", uuid.uuid4())

    leave(2)
    for look in ("compact", "pages"):
        client.post(reverse("notes-look", args=[writer.production.public_id]), {"look": look})
        few = queries(), queries(group="reader", sort="replies")
        leave(9)
        assert (queries(), queries(group="reader", sort="replies")) == few


def test_words_taken_down_of_no_member_are_of_no_department(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    notes = {"taken down": make_note(writer, draft, 6, said_by="Gwen Tarn"), "crew": make_note(crew, draft, 9)}
    found = grouped(screen(signed_in(writer), writer, group="department"), notes)
    assert found == {"Camera": ["crew"], "No department": ["taken down"]}
    alone = screen(signed_in(writer), writer, group="department", department="none")
    assert grouped(alone, notes) == {"No department": ["taken down"]}
    assert "No department (1)" in alone.get_text()
    by_reader = grouped(screen(signed_in(writer), writer, group="reader"), notes)
    assert by_reader == {"Bo Finch": ["crew"], "Gwen Tarn": ["taken down"]}
