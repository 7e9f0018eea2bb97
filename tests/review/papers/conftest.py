"""A world paper for everyone, with a note on its second paragraph."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest

from review.notes.models import Audience
from review.papers.acts import PaperAsked, put_up_paper
from review.papers.note_acts import leave_paper_note

if TYPE_CHECKING:
    from review.papers.models import WorldPaper
    from review.papers.note_models import PaperNote
    from review.people.models import Member

SONG = "# The ferry song\n\nRing once and wait.\n\nThe water carries what it may.\n\nNobody rings twice."


@pytest.fixture
def paper(writer: Member) -> WorldPaper:
    return put_up_paper(writer, PaperAsked("The ferry song", for_everyone=True), SONG, uuid.uuid4())


@pytest.fixture
def note(crew: Member, paper: WorldPaper) -> PaperNote:
    words = (2, "question", "Who sings it?", Audience.EVERYONE)
    return leave_paper_note(crew, paper.versions.get(), *words, uuid.uuid4())
