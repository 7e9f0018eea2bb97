"""Which notes stand on whose change sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from review.notes.models import Audience, Fate, Placement, Subject
from tests.factories import make_note, make_notes
from tests.review.changes.boathouse import (
    NEW,
    OLD,
    address,
    publish,
    read_pdf,
    scenes_of,
    sheet_of,
    words_of,
    written_in,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]


def test_a_department_finds_its_own_notes_though_nothing_else_concerns_it(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    [first] = publish(writer, OLD)
    make_note(crew, first, first_line=13, body="Can she be behind glass?")
    publish(writer, NEW)
    page = sheet_of(signed_in(crew), crew, "camera")
    assert "3 EXT. CHURCH - DAY" in scenes_of(page)
    assert "One of your notes." in words_of(page)
    assert "Can she be behind glass?" in words_of(page)
    assert "One note from Camera." in words_of(sheet_of(signed_in(writer), writer, "camera"))


def test_a_character_s_sheet_tells_the_reader_s_notes_from_others_and_from_those_about_the_character(
    writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    cast.character = "Tobias"
    cast.save()
    [first] = publish(writer, OLD)
    for line in (14, 15):
        make_note(cast, first, first_line=line)
    make_note(crew, first, first_line=14, subject=Subject.CHARACTER, character="TOBIAS")
    publish(writer, NEW)
    own = words_of(sheet_of(signed_in(cast), cast, "tobias"))
    assert "2 of your notes. One note about TOBIAS." in own
    others = words_of(sheet_of(signed_in(writer), writer, "tobias"))
    assert f"2 notes from {cast.name}. One note about TOBIAS." in others


def test_a_note_left_on_the_newer_draft_is_on_no_sheet_of_what_came_before_it(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    _, second = publish(writer, OLD, NEW)
    make_note(crew, second, first_line=15, body="What psalm is it?")
    publish(writer, NEW.replace("all rest", "all their rest"))
    assert "What psalm is it?" not in words_of(sheet_of(signed_in(crew), crew, "camera"))
    later = signed_in(crew).get(reverse("change-sheet", args=[crew.production.public_id, 2, 3, "camera"]))
    assert "What psalm is it?" in later.text


def test_a_note_that_the_draft_answers_is_told_as_answered(writer: Member, crew: Member, signed_in: SignIn) -> None:
    [first] = publish(writer, OLD)
    note = make_note(crew, first, first_line=3, body="More danger here.")
    [second] = publish(writer, NEW)
    written_in(note, writer, second)
    assert "Answers Bo Finch’s note: More danger here." in words_of(sheet_of(signed_in(writer), writer, "stunts"))
    assert "Answers your note: More danger here." in words_of(sheet_of(signed_in(crew), crew, "camera"))


def test_a_note_for_the_writer_is_on_nobody_else_s_sheet(
    writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    [first] = publish(writer, OLD)
    make_note(crew, first, first_line=17, body="He cannot act.", audience=Audience.WRITER)
    publish(writer, NEW)
    for member, seen in ((writer, True), (crew, True), (cast, False)):
        client = signed_in(member)
        for whose in ("camera", "production"):
            told = words_of(sheet_of(client, member, whose, for_writers_too="on"))
            printed = read_pdf(
                client.get(address(member, whose, "change-sheet-pdf"), {"for_writers_too": "on"}).content
            )
            assert ["He cannot act." in text for text in (told, printed)] == [seen, seen], (member, whose)
        with_them = sheet_of(client, member, "camera", for_writers_too="on")
        assert ("3 EXT. CHURCH - DAY" in scenes_of(with_them)) == seen
        without = sheet_of(client, member, "camera")
        assert "3 EXT. CHURCH - DAY" not in scenes_of(without)
        assert ("Take them in" in words_of(without)) == seen


def test_it_takes_as_many_queries_for_fifty_notes_as_for_five(writer: Member, crew: Member, signed_in: SignIn) -> None:
    client = signed_in(writer)
    [first] = publish(writer, OLD)
    [second] = publish(writer, NEW)
    counts: dict[str, list[int]] = {"screen": [], "pdf": []}
    for more in (5, 45):
        Placement.objects.bulk_create(
            Placement.of(note.pk, second, Fate.GONE, None) for note in make_notes(crew, first, [3] * more)
        )
        for name, url in (("screen", "change-sheet"), ("pdf", "change-sheet-pdf")):
            client.get(address(writer, "camera", url))
            with CaptureQueriesContext(connection) as queries:
                client.get(address(writer, "camera", url))
            counts[name].append(len(queries))
    assert counts["screen"][0] == counts["screen"][1]
    assert counts["pdf"][0] == counts["pdf"][1]
