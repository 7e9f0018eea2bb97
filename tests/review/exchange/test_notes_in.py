"""Notes that come in from a file: shown first, once each, in the words and under the names of those who said them."""

from __future__ import annotations

import json
import uuid
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.core.exceptions import PermissionDenied
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from review.access import Role, may_change
from review.cards.note_cards import note_cards
from review.changes.notes_at_changes import notes_across_drafts
from review.changes.recipients import departments
from review.decisions.acts import decide
from review.drafts.drawn_pages import draw_pages
from review.exchange.acts import bring_in_notes, take_notes
from review.exchange.read_annotations import read_annotations
from review.exchange.taken_notes import WhichNotes
from review.log import Act
from review.notes.acts import reply
from review.notes.models import Audience, Note, Reply, Subject
from review.people.models import Department
from review.script.note_marks import note_marks
from tests.factories import SCRIPT, make_draft, make_member, make_note, make_production, make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.exchange.bringing import Coming
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

ALL = WhichNotes(for_writers_too=True)


@pytest.fixture
def file(writer: Member, crew: Member, cast: Member, draft: Draft) -> bytes:
    """Four notes, two replies and a decision."""
    note = make_note(crew, draft, 9, body="Whose tide?", wording="Tide's in.", kind="problem")
    reply(cast, note, "Mine.", uuid.uuid4())
    reply(writer, note, "The moon's.", uuid.uuid4())
    decide(writer, note, "parked", "Later.", 0, uuid.uuid4())
    make_note(crew, draft, 4, 12, subject=Subject.SCENE, kind="question")
    make_note(cast, draft, 8, subject=Subject.CHARACTER, character="NELL", kind="praise")
    make_note(crew, draft, 17, audience=Audience.WRITER, kind="question")
    return take_notes(writer, draft, "json", ALL)


@pytest.fixture
def elsewhere(crew: Member) -> Member:
    """The writer of another production, on which the head of camera of the first is too."""
    production = make_production("Elsewhere")
    other = make_member(production, Role.WRITER, Department.WRITING, "Odd Moe")
    make_member(production, Role.CREW, Department.CAMERA, person=crew.person)
    make_draft(other, f"INT. PIER - DAY\n\nRain.\n\n{SCRIPT.partition('Wren')[2].strip()}\n")
    return other


def bring(by: Member, file: bytes) -> Coming:
    return bring_in_notes(by, read_annotations(file))


def test_nothing_comes_in_twice(writer: Member, elsewhere: Member, file: bytes) -> None:
    assert bring(writer, file).is_empty
    came = bring(elsewhere, file)
    assert (len(came.notes), len(came.replies), came.decisions, came.left_out) == (4, 2, 1, ())
    again = bring(elsewhere, file)
    assert again.is_empty
    assert again.here_already == 6
    assert Note.objects.filter(production=elsewhere.production).count() == 4


def test_notes_stand_on_the_same_words_and_say_the_same(elsewhere: Member, file: bytes) -> None:
    bring(elsewhere, file)
    there = Note.objects.filter(production=elsewhere.production)
    told = set(there.values_list("subject", "first_line", "kind", "body", "wording", "audience", "character"))
    question = "Is this *really* night?"
    assert told == {
        ("lines", 10, "problem", "Whose tide?", "Tide's in.", "everyone", ""),
        ("scene", 5, "question", question, None, "everyone", ""),
        ("character", 9, "praise", question, None, "everyone", "NELL"),
        ("lines", 18, "question", question, None, "writer", ""),
    }
    assert not any(note.decisions.exists() for note in there)


def test_a_member_is_its_author_and_anybody_else_stays_a_name(elsewhere: Member, crew: Member, file: bytes) -> None:
    bring(elsewhere, file)
    notes = Note.objects.filter(production=elsewhere.production)
    cards = {card.author_name: card for card in note_cards(elsewhere, notes, elsewhere.production.drafts.get())}
    assert cards.keys() == {"Bo Finch", "Cleo Marsh"}
    assert cards["Bo Finch"].author.person == crew.person
    stranger = cards["Cleo Marsh"]
    assert (stranger.author, stranger.department, stranger.is_mine) == (elsewhere, "", False)
    assert not may_change(elsewhere, stranger.note)
    draft = elsewhere.production.drafts.get()
    assert not any(mark.is_mine for mark in note_marks(elsewhere, draft, draw_pages(draft)))
    assert not Note.objects.of(elsewhere).exists()
    assert stranger.may.withdraw
    assert stranger.note.said_at is not None
    assert set(Reply.objects.filter(note__in=notes).values_list("said_by", flat=True)) == {"Cleo Marsh", "Ada Wren"}
    assert Act.objects.get(verb=Act.Verb.BROUGHT_IN_NOTES).details == {"notes": 4, "replies": 2}
    told = notes_across_drafts(elsewhere, draft, make_draft(elsewhere, draft.text, number=2))
    assert {one.slug for one in departments() for note in told if one.wrote(note)} == {"camera"}


def test_what_was_brought_in_goes_out_by_the_same_iris_and_names(
    writer: Member, elsewhere: Member, file: bytes
) -> None:
    bring(elsewhere, file)
    out = json.loads(take_notes(elsewhere, elsewhere.production.drafts.get(), "json", ALL))["first"]["items"]
    came: list[dict[str, Any]] = json.loads(file)["first"]["items"]
    told = {item["id"]: (item["creator"]["name"], item["created"]) for item in out}
    decisions = [item for item in came if item["motivation"] == "assessing" and isinstance(item["target"], str)]
    assert told == {item["id"]: (item["creator"]["name"], item["created"]) for item in came if item not in decisions}
    assert bring(writer, json.dumps(json.loads(file)).encode()).is_empty


def test_what_others_said_is_kept_from_whoever_reads_alone(elsewhere: Member, crew: Member, file: bytes) -> None:
    """A reply that was brought in is not the writer's word, whoever brought it."""
    bring(elsewhere, file)
    reader = elsewhere.production.members.get(person=crew.person)
    make_reading(elsewhere, elsewhere.production.drafts.get(), reader)
    assert {note.author for note in Note.objects.visible_to(reader)} == {reader}
    assert not Reply.objects.visible_to(reader).exists()


def test_only_a_writer_brings_notes_in(crew: Member, file: bytes) -> None:
    with pytest.raises(PermissionDenied):
        bring(crew, file)


def test_what_would_come_in_is_shown_before_it_does(elsewhere: Member, file: bytes, signed_in: SignIn) -> None:
    client = signed_in(elsewhere)
    address = reverse("notes-in", args=[elsewhere.production.public_id])
    page = BeautifulSoup(client.post(address, {"file": SimpleUploadedFile("n.jsonld", file)}).content, "html.parser")
    text = " ".join(page.get_text().split())
    assert "4 notes and 2 replies would come in" in text
    assert "1 decision stays where it was made" in text
    assert "Cleo Marsh, not on this production: the name stays" in text
    assert not Note.objects.filter(production=elsewhere.production).exists()

    told = page.select_one("input[name=told]")
    assert told
    answer = client.post(address, {"told": told["value"], "sure": "on"})
    assert answer.headers["Location"] == reverse("notes", args=[elsewhere.production.public_id])
    assert Note.objects.filter(production=elsewhere.production).count() == 4


@pytest.mark.parametrize("posted", [{}, {"told": "{}"}, {"told": "[", "sure": "on"}])
def test_what_is_no_file_of_annotations_is_told(posted: dict[str, str], elsewhere: Member, signed_in: SignIn) -> None:
    answer = signed_in(elsewhere).post(reverse("notes-in", args=[elsewhere.production.public_id]), posted)
    assert answer.status_code == 422
    assert "errorlist" in answer.text or "Choose" in answer.text


def test_notes_whose_words_are_nowhere_are_left_out_and_told(writer: Member, elsewhere: Member, file: bytes) -> None:
    make_draft(elsewhere, "INT. PIER - DAY\n\nRain.\n", number=2)
    elsewhere.production.drafts.filter(number=1).update(withdrawn_at="2026-01-01T00:00Z")
    came = bring(elsewhere, file)
    assert came.is_empty
    assert {one.why for one in came.left_out} == {
        "its words stand nowhere in draft 2",
        "it answers a note that is not here, and does not come in",
    }
