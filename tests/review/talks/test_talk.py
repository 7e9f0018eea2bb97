"""A talk: its agenda on the screen and as a PDF, taking down what is said, deciding on the spot."""

from __future__ import annotations

import json
import uuid
from datetime import timedelta
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.core.exceptions import PermissionDenied
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from review.decisions.acts import decide
from review.exchange.acts import take_notes
from review.exchange.taken_notes import WhichNotes
from review.letters.composing import compose
from review.log import Act
from review.mail.gathering import SETTLES
from review.mail.models import PieceOfNews
from review.mail.sending import send_due
from review.notes.acts import NoteWords, change_note
from review.notes.models import Note, Subject
from review.notes.taking_down import take_down
from review.people.models import Department, Member
from review.printing.open_notes import open_notes
from review.readings.question_acts import Asking, answer_questions, ask, judge
from review.readings.question_models import BlindAnswer
from review.readings.reader_acts import mark_scene
from review.talks.acts import When, call_talk
from review.talks.models import Talk
from screenplay import Paper, Span
from tests.factories import make_draft, make_member, make_note, make_reading
from tests.pdf import sheets

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from tests.mail_server import MailServer

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db

SECOND_SCENE = 15  # a line of it


@pytest.fixture
def talk(writer: Member, crew: Member, draft: Draft) -> Talk:
    """With the camera department, which left two notes, lost the thread once and missed an answer; costume, which is
    not asked, did the same."""
    other = make_member(writer.production, Role.CREW, Department.COSTUME, "Cos Tume")
    reading = make_reading(writer, draft, crew, other)
    asking = Asking("Whose lamp is it?", intended="Nell’s")
    question = ask(writer, reading, asking, uuid.uuid4())
    for member, said in ((crew, "camera"), (other, "costume")):
        make_note(member, draft, 17, body=f"Why is it gone, {said}?")
        make_note(member, draft, 6, body=f"Which net, {said}?")
        mark_scene(member, reading, 2, "lost", f"Too quick, {said}")
        answer_questions(member, reading, {question.public_id: f"The ferry’s, {said}"})
    for answer in BlindAnswer.objects.all():
        judge(writer, answer, "missed")
    return call_talk(writer, draft, [crew], When(timezone.now() + timedelta(days=1), 60, "Net loft"), uuid.uuid4())


def address(name: str, talk: Talk) -> str:
    return reverse(name, args=[talk.production.public_id, talk.public_id])


def test_the_agenda_has_what_its_departments_left_open_in_script_order(
    talk: Talk, writer: Member, signed_in: SignIn
) -> None:
    page = signed_in(writer).get(address("talk", talk)).text
    told = [
        "Which net, camera?",
        "Too quick, camera",
        "Why is it gone, camera?",
        "Whose lamp is it?",
        "The ferry’s, camera",
    ]
    places = [page.index(each) for each in told]
    assert places == sorted(places)
    assert "costume" not in page
    assert "2 open notes" in page


def test_what_is_decided_leaves_the_agenda(talk: Talk, writer: Member, signed_in: SignIn) -> None:
    client = signed_in(writer)
    page = client.get(address("talk", talk)).text
    note = Note.objects.get(body="Which net, camera?")
    assert f'action="{reverse("decide", args=[writer.production.public_id, note.public_id])}"' in page
    assert f'name="next" value="{address("talk", talk)}"' in page
    decide(writer, note, "accepted", "", 0, uuid.uuid4())
    page = client.get(address("talk", talk)).text
    assert "Which net, camera?" not in page
    assert "1 open note," in page


def test_what_is_decided_on_the_page_counts_no_more_and_the_sentence_says_when_it_leaves(
    talk: Talk, writer: Member, signed_in: SignIn
) -> None:
    client = signed_in(writer)
    page = BeautifulSoup(client.get(address("talk", talk)).text, "html.parser")
    told = page.select_one("[hx-trigger='note-decided from:body']")
    assert told is not None
    assert "2 open notes" in told.text
    assert page.select_one("[data-decided-in-turn] .note [data-undecided]") is not None
    decide(writer, Note.objects.get(body="Which net, camera?"), "accepted", "", 0, uuid.uuid4())
    again = client.get(str(told["hx-get"]), headers={"HX-Request": "true", "HX-Target": str(told["id"])}).text
    assert again.startswith("<p>1 open note, 1 scene to talk about. What you decide counts no more, and leaves")


def test_notes_for_the_writers_eyes_are_folded_away_where_the_room_looks_on(
    talk: Talk, writer: Member, crew: Member, draft: Draft, signed_in: SignIn
) -> None:
    make_note(crew, draft, 6, body="Between us.", audience="writer")
    page = BeautifulSoup(signed_in(writer).get(address("talk", talk)).text, "html.parser")
    folded = [each for each in page.select("details") if each.summary and "for your eyes only" in each.summary.text]
    assert [" ".join(each.summary.text.split()) for each in folded if each.summary] == [
        "1 note for your eyes only: show"
    ]
    assert not folded[0].has_attr("open")
    assert "Between us." in folded[0].text
    assert "Which net, camera?" not in folded[0].text
    assert page.text.count("Between us.") == 1


def test_what_was_meant_by_a_question_is_folded_away_too(talk: Talk, writer: Member, signed_in: SignIn) -> None:
    page = BeautifulSoup(signed_in(writer).get(address("talk", talk)).text, "html.parser")
    (folded,) = (each for each in page.select("details") if "Nell’s" in each.text)
    assert not folded.has_attr("open")
    assert folded.summary is not None
    assert "Nell’s" not in folded.summary.text
    assert page.text.count("Nell’s") == 1


def test_a_scene_that_loses_readers_by_being_slow_is_on_the_agenda_as_in_what_came_of_it(
    talk: Talk, writer: Member, crew: Member, signed_in: SignIn
) -> None:
    reading = talk.draft.readings.get()
    mark_scene(crew, reading, 1, "slow", "Long, camera")
    client = signed_in(writer)
    assert "Slow for" not in client.get(address("talk", talk)).text, "for nobody else says so"
    mark_scene(Member.objects.get(person__name="Cos Tume"), reading, 1, "slow", "")
    page = client.get(address("talk", talk)).text
    assert "Slow for: Bo Finch (“Long, camera”)." in page
    assert "Slow for: Bo Finch (Long, camera)." in printed(client, talk)


def test_lines_stand_as_they_are_printed_and_each_by_itself(
    talk: Talk, writer: Member, crew: Member, signed_in: SignIn
) -> None:
    """On the page, in the list of notes, and in the agenda as a PDF."""
    text = "INT. BARN - DAY\n\nNELL\n(softly)\n~Blue is the *bird*\nand so on.\n"
    draft = make_draft(writer, text, number=2)
    Talk.objects.filter(pk=talk.pk).update(draft=draft)
    make_note(crew, draft, 1, 6, body="All of it?")
    make_note(crew, draft, 5, body="Sung?")
    client = signed_in(writer)
    page = BeautifulSoup(client.get(address("talk", talk)).text, "html.parser")
    assert [each.text for each in page.select(".note-quoted pre")][:2] == [
        "INT. BARN - DAY\n\nNELL\n(softly)\nBlue is the bird\nand so on.",
        "Blue is the bird",
    ]
    client.post(reverse("notes-look", args=[writer.production.public_id]), {"look": "compact"})
    listed = client.get(reverse("notes", args=[writer.production.public_id])).text
    assert '<span class="row-lines">Blue is the bird</span>' in listed
    rows = [
        row.split("lines")[-1].strip()
        for sheet in sheets(bytes(client.get(address("talk-agenda", talk)).content))
        for row in sheet.lines
    ]
    at = rows.index("NELL")
    assert rows[at - 1 : at + 4] == ["INT. BARN - DAY", "NELL", "(softly)", "Blue is the bird", "and so on."]


def test_whoever_is_asked_sees_the_date_and_nothing_of_the_agenda(talk: Talk, crew: Member, signed_in: SignIn) -> None:
    page = signed_in(crew).get(address("talk", talk)).text
    assert "Net loft" in page
    assert "Which net" not in page
    assert "Take down" not in page


def test_an_agenda_with_nothing_on_it_says_so(writer: Member, crew: Member, draft: Draft, signed_in: SignIn) -> None:
    talk = call_talk(writer, draft, [crew], When(timezone.now() + timedelta(days=1), 60, ""), uuid.uuid4())
    assert "Nothing of theirs is open." in signed_in(writer).get(address("talk", talk)).text
    said = printed(signed_in(writer), talk)
    assert "nothing to talk over: no note" in said
    assert "lost any of them or was slow for them." in said


def printed(client: Client, talk: Talk, query: str = "") -> str:
    """The words of the agenda as a PDF."""
    response = client.get(address("talk-agenda", talk) + query)
    assert response["Content-Type"] == "application/pdf"
    return " ".join(" ".join(row for sheet in sheets(bytes(response.content)) for row in sheet.lines).split())


def test_the_agenda_is_printed_without_what_is_for_writers_alone(
    talk: Talk, writer: Member, crew: Member, draft: Draft, signed_in: SignIn
) -> None:
    make_note(crew, draft, 6, body="Between us.", audience="writer")
    client = signed_in(writer)
    text = printed(client, talk)
    for told in ("Talking over Draft 1", "Which net, camera?", "Lost here: Bo Finch (Too quick, camera)", "Whose lamp"):
        assert told in text
    for kept in ("Nell’s", "Between us.", "costume", "risk assessment"):
        assert kept not in text
    make_note(crew, draft, 13, body="Who holds the boat?", kind="safety")
    text = printed(client, talk)
    assert "Then we go at three." in text  # as it is printed
    assert "not a risk assessment" in text
    assert "Between us." in printed(client, talk, "?for_writers_too=on")
    assert Act.objects.filter(verb=Act.Verb.TOOK_AGENDA).count() == 3


def said_by(member: Member, body: str) -> dict[str, Any]:
    """The form for what a member says of the second scene."""
    return {"form_id": str(uuid.uuid4()), "scene": 2, "who": member.public_id, "kind": "problem", "body": body}


def test_what_is_said_is_taken_down_in_the_name_of_whoever_says_it(
    talk: Talk, writer: Member, crew: Member, signed_in: SignIn
) -> None:
    form = said_by(crew, "No fog machine.")
    for _ in range(2):
        page = signed_in(writer).post(address("talk-taken-down", talk), form, follow=True).text
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
    listed = open_notes(writer, talk.draft, Paper.LETTER, for_writers_too=False)
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


def test_a_note_of_an_earlier_draft_is_talked_about_where_it_stands_now(
    writer: Member, crew: Member, draft: Draft, signed_in: SignIn
) -> None:
    note = make_note(crew, draft, 6, body="Which net?")
    second = make_draft(writer, "Title: Slack Water\n\n" + draft.text.partition("\n\n")[2], 2)
    note.placements.create(draft=second, fate="moved", first_line=5, first_char=0, last_line=5, last_char=4)
    talk = call_talk(writer, second, [crew], When(timezone.now() + timedelta(days=1), 60, ""), uuid.uuid4())
    assert "Which net?" in signed_in(writer).get(address("talk", talk)).text


def test_its_queries_do_not_grow_with_the_notes(
    talk: Talk, writer: Member, crew: Member, draft: Draft, signed_in: SignIn, django_assert_num_queries: Any
) -> None:
    client = signed_in(writer)
    client.get(address("talk", talk))
    with CaptureQueriesContext(connection) as few:
        client.get(address("talk", talk))
    for _ in range(8):
        make_note(crew, draft, 6, body="More.")
    with django_assert_num_queries(len(few)):
        client.get(address("talk", talk))
