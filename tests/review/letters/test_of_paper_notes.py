"""What letters tell of notes on world papers: replies and decisions, to whom they concern and who may read them."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.urls import reverse

from review.notes.models import Audience
from review.papers.acts import PaperAsked, put_up_paper, withdraw_paper
from review.papers.note_acts import (
    decide_paper_note,
    leave_paper_note,
    put_paper_note_back,
    reply_to_paper_note,
    withdraw_paper_note,
    withdraw_paper_reply,
)
from tests.factories import make_draft, make_reading
from tests.review.letters.told_by_mail import told

if TYPE_CHECKING:
    from review.papers.models import WorldPaper
    from review.papers.note_models import PaperNote
    from review.people.models import Member
    from tests.mail_server import MailServer

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("post")]


@pytest.fixture
def song(writer: Member) -> WorldPaper:
    return put_up_paper(writer, PaperAsked("The ferry song", for_everyone=True), "Ring once.", uuid.uuid4())


@pytest.fixture
def note(crew: Member, song: WorldPaper) -> PaperNote:
    words = (1, "question", "Who sings it?", Audience.EVERYONE)
    return leave_paper_note(crew, song.versions.get(), *words, uuid.uuid4())


def test_a_reply_is_told_to_whom_it_answers(
    writer: Member, crew: Member, cast: Member, note: PaperNote, post: MailServer
) -> None:
    reply_to_paper_note(cast, note, "Abel does.", uuid.uuid4())
    (mine,) = told(post, crew)
    assert mine.startswith("Slack Water: Cleo Marsh replied to your note on “The ferry song”\n")
    assert "> Abel does." in mine
    assert "> Who sings it?" in mine
    at = reverse("paper", args=[writer.production.public_id, note.version.paper.public_id])
    assert f"{at}#note-{note.public_id}" in mine
    reply_to_paper_note(writer, note, "Nell.", uuid.uuid4())
    assert len(told(post, crew, cast)) == 2
    withdraw_paper_reply(crew, reply_to_paper_note(crew, note, "I see.", uuid.uuid4()))
    assert told(post) == []


def test_a_decision_is_told_as_it_stands(writer: Member, crew: Member, note: PaperNote, post: MailServer) -> None:
    decide_paper_note(writer, note, "declined", "Never.", 0, uuid.uuid4())
    decide_paper_note(writer, note, "taken in", "Nell does.", 1, uuid.uuid4())
    (letter,) = told(post)
    assert letter.startswith("Slack Water: Your note on “The ferry song” is taken in\n")
    assert "by Ada Wren:\n\n> Nell does." in letter
    assert "Never." not in letter
    own = leave_paper_note(writer, note.version, 1, "idea", "Mine.", Audience.EVERYONE, uuid.uuid4())
    decide_paper_note(writer, own, "parked", "", 0, uuid.uuid4())
    assert told(post) == []


def test_nothing_is_told_of_what_was_taken_back_or_may_not_be_read_by_then(
    writer: Member, crew: Member, cast: Member, song: WorldPaper, note: PaperNote, post: MailServer
) -> None:
    reply_to_paper_note(cast, note, "Abel does.", uuid.uuid4())
    decide_paper_note(writer, note, "parked", "", 0, uuid.uuid4())
    withdraw_paper_note(crew, note)
    assert told(post) == []
    put_paper_note_back(crew, note)
    reply_to_paper_note(cast, note, "quillstone", uuid.uuid4())
    withdraw_paper(writer, song)
    assert told(post) == []


def test_whoever_reads_alone_is_told_what_a_writer_says_and_nobody_else(
    writer: Member, crew: Member, cast: Member, note: PaperNote, post: MailServer
) -> None:
    reply_to_paper_note(cast, note, "quillstone", uuid.uuid4())
    reply_to_paper_note(writer, note, "Nell, once.", uuid.uuid4())
    make_reading(writer, make_draft(writer), crew, cast)
    letters = told(post, crew)
    assert "Nell, once." in "".join(letters)
    assert "quillstone" not in "".join(letters)
