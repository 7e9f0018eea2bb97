"""A reader's own notes: in their words, and what became of each."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from bs4 import BeautifulSoup
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from review.decisions.acts import decide
from review.home.own_notes import NOTES_A_PAGE
from review.notes.acts import reply
from review.notes.carrying import carry_notes
from review.notes.models import NoteKind
from review.papers.acts import PaperAsked, put_up_paper, withdraw_paper
from review.papers.note_acts import decide_paper_note, leave_paper_note
from review.rewriting.wording_models import WrittenIn
from tests.factories import SCRIPT, make_draft, make_note, make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from bs4 import Tag
    from django.test import Client

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member

    SignIn = Callable[[Member], Client]


def page_of(client: Client, member: Member, **asked: str) -> BeautifulSoup:
    response = client.get(reverse("home-own-notes", args=[member.production.public_id]), asked)
    assert response.status_code == 200
    return BeautifulSoup(response.text, "html.parser")


def shown(page: BeautifulSoup, note: Note) -> Tag:
    found = page.select_one(f"#note-{note.public_id}")
    assert found is not None
    return found


def titles(page: BeautifulSoup) -> list[str]:
    return [" ".join(title.text.split()) for title in page.select(".own-section h2")]


def test_each_note_stands_with_its_end_its_reason_and_its_lines_before_and_after(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    written = make_note(crew, draft, 9, kind=NoteKind.PROBLEM, body="Four is *too* early.")
    asked = make_note(crew, draft, 6, kind=NoteKind.QUESTION, body="One lamp?")
    declined = make_note(crew, draft, 17, kind=NoteKind.IDEA, body="Snow.")
    waits = make_note(crew, draft, 20, kind=NoteKind.IDEA, body="He waited.")
    accepted = decide(writer, written, "accepted", "You are right.", 0, uuid.uuid4())
    decide(writer, asked, "accepted", "The **only** one.", 0, uuid.uuid4())
    decide(writer, declined, "declined", "Mist it stays.", 0, uuid.uuid4())
    second = make_draft(writer, SCRIPT.replace("at four", "at six").replace("He didn't wait.", ""), 2)
    carry_notes(second)
    WrittenIn.objects.create(decision=accepted, draft=second, said_by=writer)
    page = page_of(signed_in(crew), crew)
    assert titles(page) == [
        "Your questions, answered 1",
        "Written in, draft 2 1",
        "Declined 1",
        "Waiting for the writer 1",
    ]
    answer = shown(page, written)
    assert "Four is too early." in answer.text
    assert "You are right." in answer.text
    assert [(each.name, each.text) for each in answer.select("del, ins")] == [("del", "four"), ("ins", "six")]
    assert [term.text for term in answer.select("dt")] == ["Draft 1 read", "Draft 2 reads"]
    assert "The only one." in shown(page, asked).text
    assert "Mist it stays." in shown(page, declined).text
    assert "That is not in draft 2." in shown(page, waits).text


def test_it_has_one_s_own_notes_alone_and_none_that_were_taken_back(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    mine = make_note(crew, draft, 9)
    make_note(cast, draft, 9, body="Not for here.")
    make_note(crew, draft, 6, withdrawn_at=timezone.now(), body="Taken back.")
    page = page_of(signed_in(crew), crew)
    assert [str(note["id"]) for note in page.select(".own-note")] == [f"note-{mine.public_id}"]
    assert "Not for here." not in page.text
    assert "Taken back." not in page.text


def test_whoever_reads_alone_is_told_of_no_reply_by_the_others(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    mine = make_note(crew, draft, 9)
    reply(cast, mine, "I saw it too.", uuid.uuid4())
    make_reading(writer, draft, crew)
    assert "1 reply" not in " ".join(page_of(signed_in(crew), crew).text.split())


def test_without_a_note_or_a_draft_it_says_so(signed_in: SignIn, writer: Member, crew: Member) -> None:
    assert "You have left none yet" in page_of(signed_in(crew), crew).text
    make_draft(writer)
    assert "Read the script" in page_of(signed_in(crew), crew).text


def test_many_come_in_pages_with_the_same_queries(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    client = signed_in(crew)

    def queries() -> int:
        with CaptureQueriesContext(connection) as counted:
            page_of(client, crew)
        return len(counted)

    decide(writer, make_note(crew, draft, 9), "parked", "", 0, uuid.uuid4())
    few = queries()
    for _ in range(NOTES_A_PAGE):
        make_note(crew, draft, 6)
    assert queries() == few
    assert len(page_of(client, crew, page="2").select(".own-note")) == 1


def test_what_was_said_on_world_papers_stands_there_too_with_its_end(
    signed_in: SignIn, writer: Member, crew: Member
) -> None:
    paper = put_up_paper(writer, PaperAsked("The ferry song", for_everyone=True), "Ring once.", uuid.uuid4())
    version = paper.versions.get()
    decided = leave_paper_note(crew, version, 1, "question", "*Who* rings?", "everyone", uuid.uuid4())
    leave_paper_note(crew, version, 1, "question", "Why?", "everyone", uuid.uuid4())
    leave_paper_note(writer, version, 1, "idea", "Of the writer.", "everyone", uuid.uuid4())
    decide_paper_note(writer, decided, "declined", "Nobody knows.", 0, uuid.uuid4())
    page = page_of(signed_in(crew), crew)
    assert titles(page) == ["On world papers 2"]
    told = [" ".join(each.text.split()) for each in page.select(".own-note")]
    assert "Who rings? Declined by Ada Wren" in told[0]
    assert told[0].endswith("Nobody knows.")
    assert told[1] == "Question The ferry song Why? Waiting for the writer"
    (link,) = page.select(f'a[href$="#note-{decided.public_id}"]')
    assert link.text == "The ferry song"
    withdraw_paper(writer, paper)
    assert titles(page_of(signed_in(crew), crew)) == []
