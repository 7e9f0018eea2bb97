"""Taking down in a talk what is said: whose note it becomes, where it is told, who is told of it."""

from __future__ import annotations

import json
import uuid
from datetime import timedelta
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.core.exceptions import PermissionDenied
from django.urls import reverse
from django.utils import timezone

from review.decisions.acts import decide
from review.exchange.acts import take_notes
from review.exchange.taken_notes import WhichNotes
from review.letters.composing import compose
from review.mail.gathering import SETTLES
from review.mail.models import PieceOfNews
from review.mail.sending import send_due
from review.notes.acts import NoteWords, change_note, withdraw_note
from review.notes.forms import ARRIVED_BEFORE
from review.notes.models import Note, Subject
from review.notes.taking_down import take_down
from review.printing.open_notes import open_notes
from review.talks.models import Talk
from screenplay import PaperSize, Span
from tests.factories import make_reading
from tests.pdf import sheets

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member
    from tests.mail_server import MailServer

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db

SECOND_SCENE = 15  # a line of it


def address(name: str, talk: Talk) -> str:
    return reverse(name, args=[talk.production.public_id, talk.public_id])


def said_by(member: Member, body: str) -> dict[str, Any]:
    """The form for what a member says of the second scene."""
    return {"form_id": str(uuid.uuid4()), "scene": 2, "who": member.public_id, "kind": "problem", "body": body}


def test_what_is_said_is_taken_down_in_the_name_of_whoever_says_it(
    talk: Talk, writer: Member, crew: Member, signed_in: SignIn
) -> None:
    form = said_by(crew, "No fog machine.")
    pages = []
    for by in ({}, {"HX-Request": "true", "HX-Current-URL": f"http://testserver{address('talk', talk)}"}, {}):
        response = signed_in(writer).post(address("talk-taken-down", talk), form, headers=by, follow=True)
        pages.append(BeautifulSoup(response.text, "html.parser").select_one("#take-down > .message"))
        leads_to = response["HX-Redirect"] if by else response.redirect_chain[0][0]
        assert leads_to == f"{address('talk', talk)}?scene=2#take-down"
    first, by_script, again = pages
    assert first is not None
    assert first.text == "Written down in the name of Bo Finch, who can correct it."
    assert by_script is None
    assert again is not None
    assert again.text == "That was written down already in the name of Bo Finch, who can correct it."
    page = response.text
    note = Note.objects.get(body="No fog machine.")
    assert (note.author, note.taken_down_by, note.subject) == (crew, writer, Subject.SCENE)
    assert "Taken down by Ada Wren" in page
    mine = signed_in(crew).get(reverse("note", args=[talk.production.public_id, note.public_id])).text
    assert "Taken down by Ada Wren" in mine
    assert reverse("note-change", args=[talk.production.public_id, note.public_id]) in mine
    change_note(crew, note, NoteWords("problem", "No fog, please.", None, "everyone"), 1)
    note.refresh_from_db()
    assert (note.body, note.taken_down_by) == ("No fog, please.", writer)


def test_what_was_taken_down_is_nowhere_taken_for_its_authors_own_writing(
    talk: Talk, writer: Member, crew: Member, signed_in: SignIn
) -> None:
    """In the list, in each file of the notes, after the printed pages, on one's own page, and in what happened."""
    client, name = signed_in(writer), [writer.production.public_id]
    client.post(address("talk-taken-down", talk), said_by(crew, "No fog machine."))
    note = Note.objects.get(body="No fog machine.")
    client.post(reverse("notes-look", args=name), {"look": "compact"})
    page = BeautifulSoup(client.get(reverse("notes", args=name)).text, "html.parser")
    row = page.select_one(f"#note-{note.public_id} .row-who")
    assert row is not None
    assert "taken down by Ada Wren" in row.text
    files = {kind: take_notes(writer, talk.draft, kind, WhichNotes()) for kind in ("csv", "fountain", "pdf", "json")}
    mark = "from Bo Finch, Camera, taken down by Ada Wren"
    assert '"Bo Finch","Camera","Ada Wren",' in files["csv"].decode()
    assert f"Problem {mark}, on" in files["fountain"].decode()
    printed_notes = " ".join(row for sheet in sheets(files["pdf"]) for row in sheet.lines)
    assert f"Problem {mark}, on" in " ".join(printed_notes.split())
    told = next(each for each in json.loads(files["json"])["first"]["items"] if "dcterms:contributor" in each)
    assert (told["creator"]["name"], told["dcterms:contributor"]["name"]) == ("Bo Finch", "Ada Wren")
    listed = open_notes(writer, talk.draft, PaperSize.LETTER, for_writers_too=False)
    assert "Bo Finch, Camera, taken down by Ada Wren" in [each.by for each in listed.notes]
    own = signed_in(crew).get(reverse("home-own-notes", args=name)).text
    assert "taken down by Ada Wren" in own
    assert "took down a note of Bo Finch’s" in client.get(reverse("home", args=name)).text
    assert "took down a note of yours" in signed_in(crew).get(reverse("home", args=name)).text


def test_what_was_said_in_it_stays_on_its_page_for_whoever_may_read_it(
    talk: Talk, writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    """For the writer what is open stands in the agenda, and once; what was decided, under it."""
    talk.members.add(cast)
    client = signed_in(writer)
    client.post(address("talk-taken-down", talk), said_by(crew, "No fog machine."))
    assert "Taken down and decided" not in client.get(address("talk", talk)).text
    note = Note.objects.get(taken_down_in=talk)
    decide(writer, note, "accepted", "None.", 0, uuid.uuid4())
    page = client.get(address("talk", talk)).text
    assert page.index("Taken down and decided") < page.index("No fog machine.")
    Talk.objects.filter(pk=talk.pk).update(starts_at=timezone.now() - timedelta(days=1))
    for member in (crew, cast):
        page = signed_in(member).get(address("talk", talk)).text
        assert "What was said in it" in page
        assert "No fog machine." in page
        assert "For your calendar" not in page
    reading = make_reading(writer, talk.draft, cast)  # which they read on their own
    page = signed_in(cast).get(address("talk", talk)).text
    assert "No fog machine." not in page
    assert "Nothing was taken down in it that is for you to read." in page
    assert not reading.closed_at


def test_what_is_said_is_taken_down_on_lines_of_a_scene(
    talk: Talk, writer: Member, crew: Member, signed_in: SignIn
) -> None:
    client, to = signed_in(writer), address("talk-taken-down", talk)
    form = said_by(crew, "No fog machine.")
    asked = client.post(to, form | {"lines": "on"})
    assert (asked.status_code, Note.objects.filter(body="No fog machine.").exists()) == (200, False)
    page = BeautifulSoup(asked.content, "html.parser")
    offered = [(option["value"], option.get_text()) for option in page.select("#taken-first option")]
    assert offered == [
        ("", "The whole scene"),
        ("15", "EXT. SLIPWAY - DAWN"),
        ("17", "Mist. The skiff is gone."),
        ("19", "NELL"),
        ("20", "He didn't wait."),
    ]
    kept = page.select_one("#taken-body")
    assert kept
    assert kept.get_text().strip() == "No fog machine."
    assert client.post(to, form | {"first": "17", "last": "15"}).status_code == 422
    assert "lines of another scene" in client.post(to, form | {"first": "6"}).text
    assert client.post(to, form | {"first": "17", "last": "20"}).status_code == 302
    note = Note.objects.get(body="No fog machine.")
    assert (note.subject, note.first_line, note.last_line) == (Subject.LINES, 17, 20)
    assert note.quoted == "Mist. The skiff is gone.\n\nNELL\nHe didn't wait."


def test_a_scene_leads_to_the_form_for_what_is_said_of_it(talk: Talk, writer: Member, signed_in: SignIn) -> None:
    page = signed_in(writer).get(address("talk", talk) + "?scene=2").text
    assert 'href="?scene=1#taking"' in page
    assert '<option value="2" selected>' in page


def test_the_next_words_are_taken_down_on_the_same_scene_unless_another_is_chosen(
    talk: Talk, writer: Member, crew: Member, signed_in: SignIn
) -> None:
    for lines in ({}, {"first": "17", "last": "20"}):
        form = said_by(crew, f"No fog machine. {lines}") | lines
        response = signed_in(writer).post(address("talk-taken-down", talk), form, follow=True)
        page = BeautifulSoup(response.content, "html.parser")
        assert [option["value"] for option in page.select("#taken-scene [selected]")] == ["2"]
        assert page.select("#taken-first option[value='17']")
        assert not page.select("#taken-first option[value='17'][selected]")
        assert page.select_one("#taken-body").get_text().strip() == ""  # type: ignore[union-attr]


def test_other_words_in_a_form_that_was_sent_are_shown_again_to_be_taken_down_as_well(
    talk: Talk, writer: Member, crew: Member, signed_in: SignIn
) -> None:
    client, to, form = signed_in(writer), address("talk-taken-down", talk), said_by(crew, "No fog machine.")
    client.post(to, form)
    late = client.post(to, form | {"body": "Nor a wind machine."})
    page = BeautifulSoup(late.content, "html.parser").select_one("#take-down")
    assert page
    assert late.status_code == 409
    assert ARRIVED_BEFORE in page.get_text()
    assert "Nor a wind machine." in page.get_text()
    renewed = page.select_one("[name=form_id]")["value"]  # type: ignore[index]
    client.post(to, form | {"body": "Nor a wind machine.", "form_id": renewed})
    taken = Note.objects.filter(taken_down_in=talk).order_by("pk")
    assert [note.body for note in taken] == ["No fog machine.", "Nor a wind machine."]


@pytest.mark.parametrize("other", ["scene", "kind", "who"])
def test_other_choices_in_a_form_that_was_sent_are_shown_again_too(
    talk: Talk, writer: Member, crew: Member, cast: Member, signed_in: SignIn, other: str
) -> None:
    chosen = {"scene": 1, "kind": "idea", "who": cast.public_id}[other]
    client, to, form = signed_in(writer), address("talk-taken-down", talk), said_by(crew, "No fog machine.")
    client.post(to, form)
    late = client.post(to, form | {other: chosen})
    page = BeautifulSoup(late.content, "html.parser")
    assert (late.status_code, ARRIVED_BEFORE in late.text) == (409, True)
    assert page.select(f"#take-down [name={other}] [value='{chosen}'][selected]")
    assert Note.objects.filter(taken_down_in=talk).count() == 1


def test_of_words_that_come_again_it_is_said_that_their_author_withdrew_them(
    talk: Talk, writer: Member, crew: Member, signed_in: SignIn
) -> None:
    client, to, form = signed_in(writer), address("talk-taken-down", talk), said_by(crew, "No fog machine.")
    client.post(to, form)
    withdraw_note(crew, Note.objects.get(taken_down_in=talk))
    page = BeautifulSoup(client.post(to, form, follow=True).content, "html.parser")
    told = page.select_one("#take-down > .message-info")
    assert told
    assert told.get_text() == "That was written down already in the name of Bo Finch, and was withdrawn since."


def test_whose_words_were_taken_down_is_told(talk: Talk, writer: Member, crew: Member, post: MailServer) -> None:
    PieceOfNews.objects.all().delete()
    take_down(
        writer, crew, talk.draft, Span(SECOND_SCENE, 0, SECOND_SCENE, 1), "idea", "Wait a day.", form_id=uuid.uuid4()
    )
    PieceOfNews.objects.update(at=timezone.now() - SETTLES)
    send_due(compose)
    assert "> Wait a day." in post.words()
    assert post.went_to == [crew.person.email]


@pytest.mark.parametrize("missing", ["scene", "who", "body"])
def test_words_of_nobody_or_of_no_scene_are_not_kept(
    talk: Talk, writer: Member, crew: Member, signed_in: SignIn, missing: str
) -> None:
    before = Note.objects.count()
    response = signed_in(writer).post(address("talk-taken-down", talk), said_by(crew, "Fog.") | {missing: ""})
    assert response.status_code == 422
    assert Note.objects.count() == before


def test_only_a_writer_takes_down_and_only_of_who_is_here(
    talk: Talk, writer: Member, crew: Member, cast: Member
) -> None:
    on = Span(SECOND_SCENE, 0, SECOND_SCENE, 1)
    with pytest.raises(PermissionDenied):
        take_down(cast, crew, talk.draft, on, "idea", "Fog.", form_id=uuid.uuid4())
    crew.removed_at = timezone.now()
    crew.save()
    with pytest.raises(PermissionDenied):
        take_down(writer, crew, talk.draft, on, "idea", "Fog.", form_id=uuid.uuid4())
