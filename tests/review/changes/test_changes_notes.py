"""Notes on the Changes screen: beside the lines they stood on, with what became of them and what answers them."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from bs4 import BeautifulSoup
from django.db import connection
from django.test.utils import CaptureQueriesContext

from review.decisions.acts import decide
from review.notes.models import Audience, Fate, Placement, Subject
from review.rewriting.wording_models import WrittenIn
from tests.factories import make_note, make_notes
from tests.review.changes.slack_water import NEW, OLD, address, page_of, publish, words_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member

    SignIn = Callable[[Member], Client]


def test_the_notes_on_changed_lines_say_what_became_of_them(writer: Member, crew: Member, signed_in: SignIn) -> None:
    [first] = publish(writer, OLD)
    make_note(crew, first, first_line=8, body="Which four?")
    make_note(crew, first, first_line=15, body="Whose dog?")
    make_note(crew, first, first_line=5, body="One lamp only?")
    publish(writer, NEW)
    page = page_of(signed_in(writer), writer)
    notes = [words_of(note) for note in page.select(".changed-note")]
    assert len(notes) == 2
    assert "Which four?" in notes[0]
    assert "its line is reworded" in notes[0]
    assert "Whose dog?" in notes[1]
    assert "its line is gone" in notes[1]


def test_a_note_for_the_writer_stays_with_its_author_and_the_writer(
    writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    [first] = publish(writer, OLD)
    make_note(crew, first, first_line=8, body="Which four?", audience=Audience.WRITER)
    publish(writer, NEW)
    seen = [bool(page_of(signed_in(member), member).select(".changed-note")) for member in (writer, crew, cast)]
    assert seen == [True, True, False]


def test_it_takes_as_many_queries_for_fifty_notes_as_for_five(writer: Member, crew: Member, signed_in: SignIn) -> None:
    client = signed_in(writer)
    [first] = publish(writer, OLD)
    make_notes(crew, first, [8] * 5)
    [second] = publish(writer, NEW)
    counts = []
    for more in (0, 45):
        Placement.objects.bulk_create(
            Placement.of(note.pk, second, Fate.GONE, None) for note in make_notes(crew, first, [8] * more)
        )
        with CaptureQueriesContext(connection) as queries:
            client.get(address(writer))
        counts.append(len(queries))
    assert counts[0] == counts[1]


def stretch_with(page: BeautifulSoup, words: str) -> str:
    """The words of the stretch of lines, with what stands beside it, that has these words in it."""
    return next(found for stretch in page.select(".stretch") if words in (found := words_of(stretch)))


def written_in(note: Note, writer: Member, draft: Draft) -> None:
    decision = decide(writer, note, "accepted", "So it shall be.", 0, uuid.uuid4())
    WrittenIn.objects.create(decision=decision, draft=draft, said_by=writer)


def test_a_note_stands_beside_the_lines_it_stood_on(writer: Member, crew: Member, signed_in: SignIn) -> None:
    [first] = publish(writer, OLD)
    make_note(crew, first, first_line=8, body="Which four?")
    make_note(crew, first, OLD.splitlines().index("He did not wait for me.") + 1, body="How long did he wait?")
    publish(writer, NEW.replace("did not wait for me", "never waited"))
    page = page_of(signed_in(writer), writer)
    assert "Which four?" in stretch_with(page, "turns at")
    assert "How long did he wait?" not in stretch_with(page, "turns at")
    assert "How long did he wait?" in stretch_with(page, "Her boots fill")


def test_a_note_about_a_scene_stands_at_its_heading(writer: Member, crew: Member, signed_in: SignIn) -> None:
    [first] = publish(writer, OLD)
    make_note(crew, first, first_line=3, last_line=16, subject=Subject.SCENE, body="Too long.")
    publish(writer, NEW)
    header = page_of(signed_in(writer), writer).select_one("#scene-1 > header")
    assert "Too long." in words_of(header)


def test_a_note_that_the_draft_answers_says_so_beside_its_lines(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    [first] = publish(writer, OLD)
    note = make_note(crew, first, first_line=8, body="Which four?")
    [second] = publish(writer, NEW)
    written_in(note, writer, second)
    client = signed_in(writer)
    page = page_of(client, writer)
    beside = stretch_with(page, "turns at")
    assert "Answers Bo Finch’s note: Which four?" in beside
    assert "written in, draft 2" in beside
    link = page.select_one(".changed-note-answered a")
    assert link is not None
    assert client.get(str(link["href"])).status_code == 200
    assert "1 answered" in words_of(page.select_one(".change-counts"))


def test_an_answer_is_told_where_its_draft_is_one_of_those_compared_or_between_them(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    [first] = publish(writer, OLD)
    note = make_note(crew, first, first_line=8, body="Which four?")
    [second] = publish(writer, NEW)
    publish(writer, NEW.replace("at five", "at six"))
    written_in(note, writer, second)
    client = signed_in(writer)
    told = {
        (old, new): "Answers Bo Finch’s note" in client.get(address(writer, old, new)).text
        for old, new in ((1, 2), (1, 3), (2, 3))
    }
    assert told == {(1, 2): True, (1, 3): True, (2, 3): False}
    later = words_of(BeautifulSoup(client.get(address(writer, 2, 3)).text, "html.parser").select_one(".changed-note"))
    assert "since draft 1 · written in, draft 2" in later
    assert "accepted" not in later


def test_an_answer_whose_scene_has_no_changed_lines_is_listed_apart(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    [first] = publish(writer, OLD)
    note = make_note(crew, first, first_line=OLD.splitlines().index("Two gulls fight over a crust.") + 1, body="Gulls?")
    [second] = publish(writer, NEW)
    written_in(note, writer, second)
    client = signed_in(writer)
    page = page_of(client, writer)
    assert "Gulls?" not in words_of(page.select_one(".changed-lines"))
    assert "Answers Bo Finch’s note: Gulls?" in words_of(page.select_one(".my-notes"))
    whole = page_of(client, writer, "?script=whole")
    assert "Answers Bo Finch’s note: Gulls?" in stretch_with(whole, "Two gulls fight")


def test_the_notes_beside_the_lines_are_never_kept_for_someone_else(
    writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    [first] = publish(writer, OLD)
    make_note(crew, first, first_line=8, body="Which four?", audience=Audience.WRITER)
    publish(writer, NEW)
    for query in ("", "?view=two", "?script=whole"):
        seen = [
            "Which four?" in words_of(page_of(signed_in(member), member, query).select_one(".changed-lines"))
            for member in (crew, cast, writer, cast)
        ]
        assert seen == [True, False, True, False]


def test_a_reader_finds_their_own_notes_at_the_top(
    writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    [first] = publish(writer, OLD)
    make_note(crew, first, first_line=8, body="Which four?")
    publish(writer, NEW)
    mine = page_of(signed_in(crew), crew).select_one(".my-notes")
    assert "Which four?" in words_of(mine)
    assert "its line is reworded" in words_of(mine)
    assert page_of(signed_in(cast), cast).select_one(".my-notes") is None
