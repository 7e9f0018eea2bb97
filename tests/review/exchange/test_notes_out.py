"""Notes on a draft as files: who gets which, what is in them, and that each one taken is in the log."""

from __future__ import annotations

import csv
import uuid
from io import StringIO
from typing import TYPE_CHECKING

import pytest
from django.core.exceptions import PermissionDenied
from django.urls import reverse

from review.decisions.acts import decide
from review.exchange.acts import take_notes
from review.exchange.taken_notes import WhichNotes
from review.log import Act
from review.notes.acts import reply
from review.notes.models import Audience, Fate
from review.people.security_log import read_security_log
from tests.factories import SCRIPT, make_draft, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client
    from pytest_django import DjangoAssertNumQueries

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

ALL = WhichNotes(for_writers_too=True)


def rows(file: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(file.decode("utf-8-sig"), newline=""), strict=True))


def test_the_table_has_each_note_where_it_stands_and_what_became_of_it(
    writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 9, body="=HYPERLINK(1)", wording="", kind="question")
    reply(writer, note, "No.", uuid.uuid4())
    decide(writer, note, "declined", "She must know.", 0, uuid.uuid4())
    make_note(writer, draft, 6)
    first, second = rows(take_notes(crew, draft, "csv", ALL))
    assert [first["What it says"], first["The lines"]] == ["Is this *really* night?", "NELL mends a net by one lamp."]
    told = [second[head] for head in ("Page", "Scene", "First line", "Kind", "From", "State", "Reason", "Decided by")]
    assert told == ["1", "1", "9", "Question", "Bo Finch", "Declined", "She must know.", "Ada Wren"]
    assert [second["What it says"], second["Offers"]] == ["'=HYPERLINK(1)", "(These lines cut.)"]
    assert second["Replies"] == "Ada Wren: No."


def test_the_source_has_each_note_under_its_lines(writer: Member, crew: Member, draft: Draft) -> None:
    make_note(crew, draft, 9, body="Whose ]] tide?\n\nAnd when?", kind="question")
    told = take_notes(writer, draft, "fountain", ALL).decode()
    question = (
        "Tide turns at four.\n[[ Question from Bo Finch, Camera. Undecided.\nWhose ] ] tide?\n  \nAnd when? ]]\n\n"
    )
    assert question in told
    assert told.endswith("He didn't wait.\n[[ No note for the writer’s eyes only is among these. ]]\n")


def test_notes_whose_lines_are_gone_come_last_with_those_lines(writer: Member, crew: Member, draft: Draft) -> None:
    later = make_draft(writer, SCRIPT.replace("NELL mends a net by one lamp.", "Dark."), number=2)
    note = make_note(crew, draft, 6)
    note.placements.create(draft=later, fate=Fate.GONE)
    assert "It stood on: NELL mends a net by one lamp." in take_notes(writer, later, "fountain", ALL).decode()
    (row,) = rows(take_notes(writer, later, "csv", ALL))
    assert (row["Its lines since"], row["First line"], row["The lines"]) == ("Gone", "", note.quoted)


@pytest.mark.parametrize("form", ["csv", "json"])
def test_a_file_holds_what_its_maker_may_read(form: str, writer: Member, crew: Member, cast: Member) -> None:
    draft = make_draft(writer)
    make_note(crew, draft, 6, body="sealed", audience=Audience.WRITER)
    assert b"sealed" in take_notes(writer, draft, form, ALL)
    assert b"sealed" not in take_notes(cast, draft, form, ALL)
    assert b"sealed" not in take_notes(writer, draft, form, WhichNotes())


def test_only_those_nobody_decided_if_so_chosen(writer: Member, crew: Member, draft: Draft) -> None:
    decide(writer, make_note(crew, draft, 6), "declined", "No.", 0, uuid.uuid4())
    make_note(crew, draft, 9, body="Still open.")
    assert [row["What it says"] for row in rows(take_notes(crew, draft, "csv", WhichNotes(only_open=True)))] == [
        "Still open."
    ]


def test_the_source_is_for_writers(crew: Member, draft: Draft) -> None:
    with pytest.raises(PermissionDenied):
        take_notes(crew, draft, "fountain", WhichNotes())


def test_each_file_taken_is_in_the_security_log(writer: Member, draft: Draft, signed_in: SignIn) -> None:
    address = reverse("notes-csv", args=[writer.production.public_id, draft.number])
    response = signed_in(writer).get(address, {"for_writers_too": "on"})
    assert response["Content-Disposition"] == 'attachment; filename="slack-water-draft-1-notes-the-writers-too.csv"'
    assert Act.objects.get(verb=Act.Verb.TOOK_NOTES).about == draft.public_id
    ((_, (entry,)),) = read_security_log(writer.production).days
    assert entry.what == "took 0 notes on draft 1 as a table, with those for the writer’s eyes only"


def test_the_screen_offers_what_its_reader_may_take(
    writer: Member, cast: Member, draft: Draft, signed_in: SignIn
) -> None:
    address = reverse("notes-out", args=[writer.production.public_id, draft.number])
    assert "Download the script with notes" in signed_in(writer).get(address).text
    assert "Download the script with notes" not in signed_in(cast).get(address).text


def test_queries_are_as_many_for_many_notes(
    writer: Member, crew: Member, draft: Draft, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    later = make_draft(writer, SCRIPT.replace("one lamp", "two lamps"), number=2)
    for line in (6, 9, 12):
        make_note(crew, draft, line).placements.create(draft=later, fate=Fate.GONE)
    with django_assert_num_queries(7):
        take_notes(crew, later, "json", ALL)
    for line in (6, 9, 12) * 3:
        make_note(crew, draft, line).placements.create(draft=later, fate=Fate.GONE)
    with django_assert_num_queries(7):
        take_notes(crew, later, "json", ALL)
