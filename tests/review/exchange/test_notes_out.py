"""Notes on a draft as files: who gets which, what is in them, and that each one taken is in the log."""

from __future__ import annotations

import csv
import uuid
from io import StringIO
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.core.exceptions import PermissionDenied
from django.urls import reverse

from review.decisions.acts import decide
from review.exchange.acts import take_notes
from review.exchange.forms import ONLY_OPEN
from review.exchange.taken_notes import WhichNotes
from review.log import Act
from review.notes.acts import reply
from review.notes.models import Audience, Fate
from review.people.security_log import read_security_log
from tests.factories import SCRIPT, make_draft, make_next_draft, make_note
from tests.pdf import sheets

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
    said = "On draft 1: 1 note. No note for the writer’s eyes only is among these."
    assert told.endswith(f"He didn't wait.\n[[ {said} ]]\n")


def test_notes_whose_lines_are_gone_come_last_with_those_lines(writer: Member, crew: Member, draft: Draft) -> None:
    later = make_draft(writer, SCRIPT.replace("NELL mends a net by one lamp.", "Dark."), number=2)
    note = make_note(crew, draft, 6)
    note.placements.create(draft=later, fate=Fate.GONE)
    assert "It stood on: NELL mends a net by one lamp." in take_notes(writer, later, "fountain", ALL).decode()
    (row,) = rows(take_notes(writer, later, "csv", ALL))
    assert (row["Its lines since"], row["First line"], row["The lines"]) == ("Gone", "", note.quoted)


def test_the_pages_have_each_note_with_its_lines_its_thread_and_its_decision(
    writer: Member, crew: Member, draft: Draft
) -> None:
    """Read back by pdfplumber, which knows nothing of ours."""
    question = make_note(crew, draft, 9, body="Whose *tide*?\n\n- hers\n- his", kind="question")
    reply(writer, question, "Both.", uuid.uuid4())
    decide(writer, question, "declined", "She must **know**.", 0, uuid.uuid4())
    make_note(writer, draft, 17, body="Rain, then?", wording="Rain. The skiff is gone.")
    file = sheets(take_notes(crew, draft, "pdf", WhichNotes()))
    (first,) = file
    told = " ".join(" ".join(first.lines).split())
    for words in (
        "Slack Water Notes on Draft 1",
        "On draft 1: 2 notes. Notes for the writer’s eyes only are left out.",
        "1 INT. BOATHOUSE - NIGHT 1. Question from Bo Finch, Camera. Declined. Page 1 ·",
        "Tide turns at four. Whose tide? – hers – his Ada Wren decided on",
        ": She must know. Ada Wren: Both.",
        "2 EXT. SLIPWAY - DAWN 2. Problem from Ada Wren, Writing. Undecided.",
        "Mist. The skiff is gone. Rain, then? In their place: Rain. The skiff is gone.",
    ):
        assert words in told
    assert first.slanted == "Bo Finch"
    assert len(first.rects) == 4  # a band and a bar at each note's lines


def test_a_wording_that_was_written_in_stands_beside_the_lines_it_took_the_place_of(
    writer: Member, crew: Member, draft: Draft
) -> None:
    """What somebody was offered is set against what they had, not against itself."""
    note = make_note(crew, draft, 9, wording="It turns at five.", body="Too early.")
    decide(writer, note, "accepted", "", 0, uuid.uuid4())
    make_note(crew, draft, 17, body="Thick mist?")
    make_note(crew, draft, 6, body="Which lamp?")
    later = make_next_draft(writer, SCRIPT.replace("Tide turns at four.", "It turns at five.").replace("Mist.", "Fog."))
    unchanged, offered, reworded = rows(take_notes(writer, later, "csv", ALL))
    told = [offered[head] for head in ("The lines", "Offers", "They read now")]
    assert told == ["Tide turns at four.", "It turns at five.", "It turns at five."]
    assert [reworded["The lines"], reworded["They read now"]] == ["Mist. The skiff is gone.", "Fog. The skiff is gone."]
    assert [unchanged["The lines"], unchanged["They read now"]] == ["NELL mends a net by one lamp.", ""]
    (page,) = sheets(take_notes(writer, later, "pdf", ALL))
    printed = " ".join(" ".join(page.lines).split())
    assert "Tide turns at four. Too early. In their place: It turns at five. Draft 2 reads as offered." in printed
    assert "Mist. The skiff is gone. Thick mist? Draft 2 reads now: Fog. The skiff is gone." in printed
    source = take_notes(writer, later, "fountain", ALL).decode()
    assert source.count("When it was left, its lines read: ") == 2
    assert "When it was left, its lines read: Tide turns at four.\nToo early.\nOffers: It turns at five." in source


def test_no_note_is_parted_where_it_fits_on_a_page(crew: Member, draft: Draft) -> None:
    for _ in range(7):
        make_note(crew, draft, 9, body="\n\n".join(["Whose tide?"] * 6) + "\n\nThe end of it.")
    file = sheets(take_notes(crew, draft, "pdf", WhichNotes()))
    assert len(file) > 2
    for page in file:
        titles = sum("Problem from Bo Finch" in line for line in page.lines)
        assert titles == sum("The end of it." in line for line in page.lines) > 0


def test_a_file_follows_the_filters_of_notes_and_says_so(
    writer: Member, crew: Member, cast: Member, draft: Draft, signed_in: SignIn
) -> None:
    make_note(crew, draft, 6, body="Which lamp?", kind="question")
    make_note(crew, draft, 9, body="Whose tide?")
    make_note(cast, draft, 9, body="Hers.", kind="question")
    client, of_draft = signed_in(writer), [writer.production.public_id, draft.number]
    asked = {"state": "all", "kind": "question", "author": crew.public_id, "group": "kind"}
    notes = BeautifulSoup(client.get(reverse("notes", args=of_draft[:1]), asked).content, "html.parser")
    (leads,) = (str(link["href"]) for link in notes.select("a.button") if link.get_text() == "Take along")
    page = BeautifulSoup(client.get(leads).content, "html.parser")
    chosen = page.select_one("[name=which][checked]")
    assert chosen
    assert chosen["value"] == "shown"
    assert "As Notes showed them: questions, by Bo Finch" in page.get_text()
    sent = {str(field["name"]): str(field["value"]) for field in page.select("form.take-notes [type=hidden]")}
    assert sent == {"kind": "question", "author": crew.public_id}
    whole = client.get(reverse("notes-out", args=of_draft), {"state": "all", "author": "all"}).content.decode()
    assert "As Notes showed them" not in whole, "for they are all of them"
    table = client.get(reverse("notes-csv", args=of_draft), sent).content
    (row,) = rows(table)
    assert (row["What it says"], next(iter(row))) == ("Which lamp?", "Note (On draft 1: 1 question, by Bo Finch)")
    annotations = client.get(reverse("notes-json", args=of_draft), sent | {"which": "shown"}).json()
    assert annotations["total"] == 1
    assert "On draft 1: 1 question, by Bo Finch." in annotations["label"]
    assert len(rows(client.get(reverse("notes-csv", args=of_draft), sent | {"which": "all"}).content)) == 3


def test_what_is_left_out_of_a_file_is_not_betrayed_by_what_it_meets(
    writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    make_note(crew, draft, 9)
    make_note(cast, draft, 9, audience=Audience.WRITER)
    meeting = {"meet": "yes"}
    assert rows(take_notes(writer, draft, "csv", WhichNotes(meeting))) == []
    assert len(rows(take_notes(writer, draft, "csv", WhichNotes(meeting, for_writers_too=True)))) == 2


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
    assert [row["What it says"] for row in rows(take_notes(crew, draft, "csv", WhichNotes(ONLY_OPEN)))] == [
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
