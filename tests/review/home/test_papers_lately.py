"""What home tells of world papers lately: to whoever may read them, and where each thing stands."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.notes.models import Audience
from review.papers.acts import PaperAsked, put_up_paper, put_up_version
from review.papers.note_acts import decide_paper_note, leave_paper_note, reply_to_paper_note
from review.papers.note_models import PaperNote
from tests.factories import make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.papers.models import WorldPaper
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("draft")]  # before a draft, home leads to putting one up

ASKED = PaperAsked("The ferry song", for_everyone=True)
SONG = "Ring once and wait.\n\nNobody rings twice."


@pytest.fixture
def song(writer: Member) -> WorldPaper:
    return put_up_paper(writer, ASKED, SONG, uuid.uuid4())


def lately(client: Client, member: Member) -> dict[str, str]:
    """Where each thing that happened leads, by the words it is told in, the latest first."""
    page = BeautifulSoup(client.get(reverse("home", args=[member.production.public_id])).text, "html.parser")
    return {link.text: str(link["href"]) for link in page.select(".home-happening a")}


def say(author: Member, paper: WorldPaper, audience: str = Audience.EVERYONE) -> object:
    """A note on the second paragraph, unlike those that are there."""
    body = f"Who sings it? {PaperNote.objects.count()}"
    return leave_paper_note(author, paper.versions.get(), 2, "question", body, audience, uuid.uuid4())


def test_what_happens_on_a_paper_leads_to_where_it_stands_there(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, song: WorldPaper
) -> None:
    note = leave_paper_note(crew, song.versions.get(), 2, "question", "Who?", Audience.EVERYONE, uuid.uuid4())
    reply_to_paper_note(cast, note, "Abel.", uuid.uuid4())
    decide_paper_note(writer, note, "parked", "", 0, uuid.uuid4())
    put_up_version(writer, song, ASKED, f"{SONG}\n\nNobody.", 1, ASKED.seen)
    at_paper = reverse("paper", args=[writer.production.public_id, song.public_id])
    at_note = f"{at_paper}#note-{note.public_id}"
    client = signed_in(cast)
    assert lately(client, cast) == {
        "put up a world paper’s next version": at_paper,
        "decided a note on a world paper": at_note,
        "replied on a world paper": at_note,
        "left a note on a world paper": at_note,
        "put up a world paper": at_paper,
    }
    page = BeautifulSoup(client.get(at_paper).text, "html.parser")
    assert page.find(id=f"note-{note.public_id}")


def test_several_of_one_kind_are_told_at_once_and_lead_to_the_papers(
    signed_in: SignIn, writer: Member, crew: Member, song: WorldPaper
) -> None:
    for _ in range(3):
        say(crew, song)
    told = lately(signed_in(writer), writer)
    assert told["left 3 notes on world papers"] == reverse("papers", args=[writer.production.public_id])


def test_a_paper_is_betrayed_to_nobody_whom_it_is_not_for(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member
) -> None:
    for_camera = put_up_paper(writer, PaperAsked("The lamps", for_everyone=False, members=(crew,)), SONG, uuid.uuid4())
    note = leave_paper_note(crew, for_camera.versions.get(), 2, "idea", "Dimmer.", Audience.EVERYONE, uuid.uuid4())
    reply_to_paper_note(writer, note, "How dim?", uuid.uuid4())
    assert lately(signed_in(cast), cast) == {}
    assert len(lately(signed_in(crew), crew)) == 3


def test_a_note_for_the_writer_s_eyes_and_whoever_reads_alone_are_left_to_themselves(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, song: WorldPaper, draft: Draft
) -> None:
    say(crew, song, Audience.WRITER)
    assert [*lately(signed_in(cast), cast)] == ["put up a world paper"]
    say(crew, song)
    assert [*lately(signed_in(cast), cast)] == ["left a note on a world paper", "put up a world paper"]
    make_reading(writer, draft, crew, cast)
    assert "left a note on a world paper" not in lately(signed_in(cast), cast)
    assert "left 2 notes on world papers" in lately(signed_in(writer), writer)
