"""The notes screen."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from review.decisions.acts import decide
from review.notes.carrying import carry_notes
from review.notes.models import Audience, Note, NoteKind
from review.notes_screen.looks import choose_look
from review.notes_screen.models import Look
from review.notes_screen.note_pages import NOTES_A_PAGE
from review.people.models import Department, Member
from review.rewriting.wording_models import WrittenIn
from tests.factories import (
    SCRIPT,
    make_decisions,
    make_draft,
    make_member,
    make_note,
    make_notes,
    make_production,
    make_reading,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.productions.models import Production

    SignIn = Callable[[Member], Client]

EVERYTHING = {"state": "all", "author": "all"}


def screen(client: Client, production: Production, asked: dict[str, str] | None = None) -> BeautifulSoup:
    response = client.get(reverse("notes", args=[production.public_id]), asked or {})
    assert response.status_code == 200
    return BeautifulSoup(response.text, "html.parser")


def shown(page: BeautifulSoup) -> list[str]:
    """The public ids of the notes on the page, from the top."""
    return [str(note["id"]).removeprefix("note-") for note in page.select(".note")]


def counts(page: BeautifulSoup) -> dict[str, int]:
    return {
        link.text.rsplit(maxsplit=1)[0].strip(): int(link.text.rsplit(maxsplit=1)[1])
        for link in page.select(".notes-state")
    }


def decided(writer: Member, note: Note, outcome: str = "accepted") -> Note:
    decide(writer, note, outcome, "Because.", 0, uuid.uuid4())
    return note


def test_a_writer_begins_with_what_is_undecided(signed_in: SignIn, writer: Member, crew: Member, draft: Draft) -> None:
    decided(writer, make_note(crew, draft, 6, kind=NoteKind.IDEA))
    waiting = make_note(crew, draft, 9)
    page = screen(signed_in(writer), writer.production)
    assert shown(page) == [waiting.public_id]
    assert counts(page) == {"Undecided": 1, "Accepted": 1, "All": 2}


def test_a_reader_begins_with_their_own_notes_and_their_decisions(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    mine = decided(writer, make_note(crew, draft, 9), "declined")
    make_note(cast, draft, 6)
    page = screen(signed_in(crew), crew.production)
    assert shown(page) == [mine.public_id]
    assert "Because." in page.text
    assert page.select_one("form.decide") is None


def test_notes_stand_in_script_order_under_their_scenes(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    late, early, title = make_note(crew, draft, 17), make_note(cast, draft, 6), make_note(crew, draft, 1)
    page = screen(signed_in(writer), writer.production)
    assert shown(page) == [title.public_id, early.public_id, late.public_id]
    assert [heading.text for heading in page.select(".notes-scene-head h2")] == [
        "Before the first scene",
        "1 INT. BOATHOUSE - NIGHT",
        "2 EXT. SLIPWAY - DAWN",
    ]
    assert "Begins on page 1 · 1 note" in " ".join(page.text.split())


def test_a_note_on_safety_and_one_on_the_same_lines_each_tell_of_the_other(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    risk = make_note(crew, draft, 9, kind="safety", wording="Tide turns.")
    idea = make_note(cast, draft, 9, kind="idea", wording="It turns at five.")
    make_note(crew, draft, 17)
    page = screen(signed_in(writer), writer.production)
    assert shown(page)[:2] == [risk.public_id, idea.public_id]
    told = [[link["href"] for link in place.select(".notes-meeting a")] for place in page.select(".on-lines")]
    assert told == [
        [f"?at={idea.public_id}#note-{idea.public_id}"],
        [f"?at={risk.public_id}#note-{risk.public_id}"],
        [],
    ]
    for look in (Look.PAGES, Look.COMPACT):
        choose_look(writer, look)
        page = screen(signed_in(writer), writer.production)
        senses = page.select(".safety-sense")
        assert [each.parent and each.parent.name for each in senses] == ["header"]


def test_notes_on_the_same_lines_are_shown_together(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    make_note(crew, draft, 9)
    make_note(cast, draft, 9, 13)
    make_note(crew, draft, 17)
    page = screen(signed_in(writer), writer.production)
    assert [len(place.select(".note")) for place in page.select(".on-lines")] == [2, 1]
    meeting = page.select_one(".notes-meeting")
    assert meeting is not None
    assert meeting.text == "2 notes from 2 people meet here"
    assert len(shown(screen(signed_in(writer), writer.production, {"meet": "yes"}))) == 2


def test_the_words_a_note_is_on_are_marked_under_the_name_of_who_speaks(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    make_note(crew, draft, 9, first_char=0, last_char=4)
    page = screen(signed_in(writer), writer.production)
    assert [line.text for line in page.select(".place-line:not(.line-around)")] == ["NELL", "Tide turns at four."]
    assert [mark.text for mark in page.select(".place-line mark")] == ["Tide"]


def test_the_lines_around_a_note_are_shown_within_its_scene(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    make_note(crew, draft, 13)
    page = screen(signed_in(writer), writer.production)
    around = [line.text for line in page.select(".line-around") if line.text]
    assert around == ["NELL", "Tide turns at four."]


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        ({"state": "accepted"}, {"accepted"}),
        ({"state": "undecided"}, {"safety", "hidden", "cast"}),
        ({"kind": "safety"}, {"safety"}),
        ({"department": "cast"}, {"cast"}),
        ({"draft": "2"}, {"cast"}),
        ({"fate": "gone"}, {"safety"}),
        ({"fate": "kept"}, {"accepted", "hidden"}),
        ({"fate": "here"}, {"cast"}),
        ({"state": "undecided", "fate": "kept"}, {"hidden"}),
        ({"kind": "no such kind"}, {"accepted", "safety", "hidden", "cast"}),
    ],
)
def test_notes_can_be_narrowed(
    signed_in: SignIn,
    writer: Member,
    crew: Member,
    cast: Member,
    draft: Draft,
    asked: dict[str, str],
    expected: set[str],
) -> None:
    notes = {
        "accepted": decided(writer, make_note(crew, draft, 6, kind=NoteKind.IDEA)),
        "safety": make_note(crew, draft, 20, kind=NoteKind.SAFETY),
        "hidden": make_note(crew, draft, 9, audience=Audience.WRITER),
    }
    second = make_draft(writer, SCRIPT.replace("\nNELL\nHe didn't wait.\n", ""), number=2)
    carry_notes(second)
    notes["cast"] = make_note(cast, second, 6, kind=NoteKind.PRAISE)
    page = screen(signed_in(writer), writer.production, EVERYTHING | asked)
    assert set(shown(page)) == {notes[name].public_id for name in expected}


def test_an_author_can_be_asked_for(signed_in: SignIn, crew: Member, cast: Member, draft: Draft) -> None:
    make_note(crew, draft, 6)
    theirs = make_note(cast, draft, 9)
    page = screen(signed_in(crew), crew.production, {"author": cast.public_id})
    assert shown(page) == [theirs.public_id]


def test_each_option_counts_what_choosing_it_would_leave(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    decided(writer, make_note(crew, draft, 6, kind=NoteKind.IDEA))
    make_note(crew, draft, 9, kind=NoteKind.IDEA)
    make_note(cast, draft, 9, kind=NoteKind.PRAISE)
    page = screen(signed_in(writer), writer.production, {"state": "undecided", "kind": "idea"})
    assert counts(page) == {"Undecided": 1, "Accepted": 1, "All": 2}
    kinds = [option.text for option in page.select("#narrow-kind option")]
    assert kinds == ["Every kind", "Idea (1)", "Praise (1)"]


def test_notes_whose_lines_are_gone_are_listed_with_the_lines_they_stood_on(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 20)
    carry_notes(make_draft(writer, SCRIPT.replace("\nNELL\nHe didn't wait.\n", ""), number=2))
    gone = screen(signed_in(writer), writer.production).select_one("#gone")
    assert gone is not None
    assert "He didn't wait." in gone.text
    assert gone.select_one(f"a[href='{reverse('place', args=[note.production.public_id, note.public_id])}']")
    for_reader = screen(signed_in(crew), crew.production).select_one("#gone")
    assert for_reader is not None
    assert "He didn't wait." in for_reader.text
    assert "Set its place" not in for_reader.text


def test_readers_see_no_note_that_is_for_the_writer_alone(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    hidden = make_note(crew, draft, 9, audience=Audience.WRITER, body="Cut her last line.")
    for reader, is_shown in ((writer, True), (crew, True), (cast, False)):
        page = screen(signed_in(reader), writer.production, EVERYTHING)
        assert (shown(page) == [hidden.public_id]) is is_shown
        assert ("Cut her last line." in page.text) is is_shown
        assert bool(page.select("option[value='camera']")) is is_shown


def test_a_withdrawn_note_is_shown_to_its_author_alone_and_only_when_asked_for(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 9, withdrawn_at=timezone.now())
    assert shown(screen(signed_in(writer), writer.production, {"state": "withdrawn"})) == []
    assert shown(screen(signed_in(crew), crew.production, EVERYTHING)) == []
    assert shown(screen(signed_in(crew), crew.production, {"state": "withdrawn"})) == [note.public_id]


def test_a_note_can_be_decided_where_it_is_listed(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 9, kind=NoteKind.IDEA)
    client = signed_in(writer)
    form = screen(client, writer.production).select_one("form.decide")
    assert form is not None
    fields = {str(field["name"]): str(field["value"]) for field in form.select("input[type=hidden]")}
    response = client.post(str(form["action"]), fields | {"outcome": "accepted", "reason": ""})
    assert (
        response.headers["Location"] == reverse("notes", args=[writer.production.public_id]) + f"#note-{note.public_id}"
    )
    assert note.decisions.count() == 1


def test_the_counts_can_be_asked_for_alone(signed_in: SignIn, writer: Member, crew: Member, draft: Draft) -> None:
    make_note(crew, draft, 9)
    response = signed_in(writer).get(
        reverse("notes", args=[writer.production.public_id]),
        headers={"HX-Request": "true", "HX-Target": "note-states"},
    )
    assert response.text.strip().startswith("<nav")
    assert counts(BeautifulSoup(response.text, "html.parser")) == {"Undecided": 1, "All": 1}


def test_a_long_list_comes_in_pages_and_a_note_can_be_found_in_it(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    notes = make_notes(crew, draft, [6] * (NOTES_A_PAGE + 3))
    client = signed_in(writer)
    assert len(shown(screen(client, writer.production))) == NOTES_A_PAGE
    assert shown(screen(client, writer.production, {"page": "2"})) == [note.public_id for note in notes[-3:]]
    assert notes[-1].public_id in shown(screen(client, writer.production, {"at": notes[-1].public_id}))


def test_the_notes_on_a_scene_are_on_one_page_together(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    on_first, on_second = make_notes(crew, draft, [6] * (NOTES_A_PAGE - 2)), make_notes(crew, draft, [17] * 5)
    client = signed_in(writer)
    page = screen(client, writer.production)
    assert shown(page) == [note.public_id for note in on_first]
    following = page.select_one("nav.notes-pages a[rel=next]")
    assert following is not None
    assert following.get_text() == "On to: Scene 2"
    assert shown(screen(client, writer.production, {"page": "2"})) == [note.public_id for note in on_second]
    assert [one.get_text() for one in page.select(".notes-all-pages a")] == ["Scene 1", "Scene 2"]


@pytest.mark.parametrize("number", ["0", "9", "-1", "two", "2" * 20])
def test_a_page_that_is_not_there_is_the_nearest(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft, number: str
) -> None:
    note = make_note(crew, draft, 6)
    assert shown(screen(signed_in(writer), writer.production, {"page": number})) == [note.public_id]


def test_it_says_so_when_there_is_no_draft(signed_in: SignIn, writer: Member, crew: Member) -> None:
    assert "Put up a draft" in screen(signed_in(writer), writer.production).text
    assert "once the writer has put up the first" in screen(signed_in(crew), crew.production).text


def test_it_says_so_when_there_are_no_notes(signed_in: SignIn, writer: Member, crew: Member, draft: Draft) -> None:
    assert "Invite readers" in screen(signed_in(writer), writer.production).text
    assert "Read the script" in screen(signed_in(crew), crew.production).text


def test_whoever_reads_alone_is_told_that_notes_of_others_are_kept_from_them(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    make_note(cast, draft)
    make_reading(writer, draft, crew, is_blind=True)
    told = screen(signed_in(crew), crew.production, {"author": "all"}).text
    assert "No notes of yours yet" in told
    assert "Whatever others left is kept from you" in told
    assert "No notes yet" not in told


def test_it_says_so_when_every_note_is_decided(signed_in: SignIn, writer: Member, crew: Member, draft: Draft) -> None:
    decided(writer, make_note(crew, draft, 9))
    assert "Every note is decided" in screen(signed_in(writer), writer.production).text


def test_it_says_so_when_no_note_is_like_that(signed_in: SignIn, writer: Member, crew: Member, draft: Draft) -> None:
    make_note(crew, draft, 9)
    assert "No note is like that" in screen(signed_in(writer), writer.production, {"kind": "praise"}).text


def test_it_says_so_when_a_reader_has_left_none(signed_in: SignIn, crew: Member, cast: Member, draft: Draft) -> None:
    make_note(crew, draft, 9)
    assert "You have not left a note" in screen(signed_in(cast), cast.production).text


def test_a_stranger_finds_nothing(signed_in: SignIn, draft: Draft) -> None:
    stranger = make_member(make_production("Ebb"), Role.WRITER, Department.WRITING)
    assert signed_in(stranger).get(reverse("notes", args=[draft.production.public_id])).status_code == 404


def test_it_rejects_post(signed_in: SignIn, writer: Member) -> None:
    assert signed_in(writer).post(reverse("notes", args=[writer.production.public_id])).status_code == 405


def test_fifty_notes_ask_the_database_as_often_as_five(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    client = signed_in(writer)
    for n in range(5):
        decided(writer, make_note(crew, draft, 6 + n % 4))
    with CaptureQueriesContext(connection) as few:
        screen(client, writer.production, EVERYTHING)
    make_decisions(writer, [make_note(make_member(writer.production), draft, 6 + n % 4) for n in range(45)])
    with CaptureQueriesContext(connection) as many:
        assert len(shown(screen(client, writer.production, EVERYTHING))) == 50
    assert len(many) == len(few)


def test_a_note_withdrawn_after_a_decision_stays_in_the_writer_s_list_without_its_words(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 9, body="A word in private")
    decide(writer, note, "declined", "It must be told.", 0, uuid.uuid4())
    Note.objects.filter(pk=note.pk).update(withdrawn_at=timezone.now())
    page = screen(signed_in(writer), writer.production, EVERYTHING)
    assert shown(page) == [note.public_id]
    assert "withdrew this note after your decision" in page.get_text()
    assert "It must be told." in page.get_text()
    assert "A word in private" not in page.get_text()
    everyone = screen(signed_in(make_member(writer.production, Role.CREW)), writer.production, EVERYTHING)
    assert shown(everyone) == []


def test_the_lines_beside_a_note_read_as_on_the_page(signed_in: SignIn, writer: Member) -> None:
    draft = make_draft(writer, "INT. A - DAY\n\nNELL\nLate.\n\nTOBIAS ^\n*Very* late [[or not]].\n")
    make_note(writer, draft, 7)
    page = screen(signed_in(writer), writer.production, EVERYTHING)
    lines = [line.get_text() for line in page.select(".place-line")]
    assert "TOBIAS" in lines
    assert any(line.startswith("Very late") and "[[" not in line for line in lines)
    assert [run.get_text() for run in page.select(".place-line .i")] == ["Very"]


def test_praise_is_thanked_and_the_other_decisions_are_a_step_away(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    make_note(crew, draft, 9, kind=NoteKind.PRAISE)
    form = screen(signed_in(writer), writer.production).select_one(".decide")
    assert form is not None
    assert "Thank them" in form.get_text()
    assert {str(choice["value"]) for choice in form.select("details .decide-choice")} == {"declined", "parked"}


def test_a_card_says_the_page_and_not_the_file_s_line(signed_in: SignIn, crew: Member, draft: Draft) -> None:
    make_note(crew, draft, 9)
    place = screen(signed_in(crew), crew.production).select_one(".note-place a")
    assert place is not None
    assert place.get_text() == "Page 1"


def test_a_wording_that_a_later_draft_took_is_said_to_be_taken(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    make_note(crew, draft, 9, wording="Tide turns at five.")
    carry_notes(make_draft(writer, SCRIPT.replace("Tide turns at four.", "Tide turns at five."), 2))
    card = screen(signed_in(crew), crew.production).select_one(".note")
    assert card is not None
    assert [term.get_text() for term in card.select("dt")] == ["Draft 1 read", "Offered"]
    assert "Now reads as offered" in card.get_text()
    assert "Then and now" not in card.get_text()


def test_what_is_written_in_stands_apart_from_what_was_only_accepted(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    accepted, answered = (decided(writer, make_note(crew, draft, line, kind=NoteKind.IDEA)) for line in (6, 9))
    second = make_draft(writer, SCRIPT.replace("four", "five"), 2)
    carry_notes(second)
    WrittenIn.objects.create(decision=answered.decisions.get(), draft=second, said_by=writer)
    client = signed_in(writer)
    assert shown(screen(client, writer.production, {"state": "written"})) == [answered.public_id]
    assert shown(screen(client, writer.production, {"state": "accepted"})) == [accepted.public_id]
    told = counts(screen(client, writer.production))
    assert (told["Accepted"], told["Written in"], told["All"]) == (1, 1, 2)


def test_a_note_opened_again_is_among_the_undecided(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = decided(writer, make_note(crew, draft, 6))
    decide(writer, note, "reopened", "", 1, uuid.uuid4())
    page = screen(signed_in(writer), writer.production)
    assert shown(page) == [note.public_id]
    assert counts(page)["Undecided"] == 1
