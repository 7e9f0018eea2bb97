"""A talk: its agenda on the screen and as a PDF, deciding on the spot."""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from review.decisions.acts import decide
from review.log import Act
from review.notes.models import Note
from review.people.models import Member
from review.readings.question_acts import Asking, answer_questions, ask, carry_questions, judge
from review.readings.reader_acts import mark_scene
from review.talks.acts import When, call_talk
from review.talks.agenda import SLOW_SENSE
from review.talks.models import Talk
from tests.factories import make_draft, make_note, make_reading
from tests.pdf import sheets

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


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
    said = " ".join(again.split())
    assert said.startswith("<p>1 open note, 1 scene to talk about. What you decide counts no more, and leaves")


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
    page = client.get(address("talk", talk)).text
    assert "Slow for" not in page, "for nobody else says so"
    assert SLOW_SENSE in page
    assert SLOW_SENSE in printed(client, talk)
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


def test_a_note_of_an_earlier_draft_is_talked_about_where_it_stands_now(
    writer: Member, crew: Member, draft: Draft, signed_in: SignIn
) -> None:
    note = make_note(crew, draft, 6, body="Which net?")
    second = make_draft(writer, "Title: Slack Water\n\n" + draft.text.partition("\n\n")[2], 2)
    note.placements.create(draft=second, fate="moved", first_line=5, first_char=0, last_line=5, last_char=4)
    talk = call_talk(writer, second, [crew], When(timezone.now() + timedelta(days=1), 60, ""), uuid.uuid4())
    assert "Which net?" in signed_in(writer).get(address("talk", talk)).text


def test_a_scene_that_lost_somebody_in_an_earlier_draft_is_talked_about_where_it_stands_until_they_say_otherwise(
    talk: Talk, writer: Member, crew: Member, draft: Draft, signed_in: SignIn
) -> None:
    """The second scene of the first draft is the third of the next, before which another was put."""
    heading = "EXT. SLIPWAY - DAWN"
    second = make_draft(writer, draft.text.replace(heading, f"INT. CHANDLERY - DAY\n\nA bell.\n\n{heading}"), 2)
    later = call_talk(writer, second, [crew], When(timezone.now() + timedelta(days=1), 60, ""), uuid.uuid4())
    client = signed_in(writer)
    page = BeautifulSoup(client.get(address("talk", later)).text, "html.parser")
    lost = page.select_one(".talk-lost")
    assert lost is not None
    assert " ".join(lost.text.split()) == "Lost here: Bo Finch in draft 1 (“Too quick, camera”)."
    section = lost.find_parent("section")
    assert section is not None
    assert heading in section.text
    assert "Lost here: Bo Finch in draft 1 (Too quick, camera)." in printed(client, later)
    mark_scene(crew, make_reading(writer, second, crew), 3, "clear", "")
    assert "Lost here" not in client.get(address("talk", later)).text


def test_an_answer_that_missed_in_an_earlier_draft_is_talked_about_until_its_reader_answers_anew(
    writer: Member, crew: Member, draft: Draft, signed_in: SignIn
) -> None:
    """It was judged when the next draft was out, and its scene is the third there, before which another was put."""
    before = make_reading(writer, draft, crew)
    asked = ask(writer, before, Asking("Who took the skiff?", "scene", 2, intended="Tobias"), uuid.uuid4())
    answer_questions(crew, before, {asked.public_id: "The tide"})
    heading = "EXT. SLIPWAY - DAWN"
    second = make_draft(writer, draft.text.replace(heading, f"INT. CHANDLERY - DAY\n\nA bell.\n\n{heading}"), 2)
    talk = call_talk(writer, second, [crew], When(timezone.now() + timedelta(days=1), 60, ""), uuid.uuid4())
    client = signed_in(writer)
    assert "Who took the skiff?" not in client.get(address("talk", talk)).text, "for nobody has judged it"
    judge(writer, asked.answers.get(), "missed")
    page = BeautifulSoup(client.get(address("talk", talk)).text, "html.parser")
    (section,) = (each for each in page.select("section.talk-scene") if heading in each.text)
    (told,) = (" ".join(each.text.split()) for each in section.select(".talk-answer"))
    assert told == "Bo Finch in draft 1: The tide Missed"
    assert "Who took the skiff? said Bo Finch in draft 1: The tide" in printed(client, talk)
    again = make_reading(writer, second, crew)
    carry_questions(writer, before, again)
    assert "The tide" in client.get(address("talk", talk)).text
    answer_questions(crew, again, {again.questions.get().public_id: "Tobias did"})
    assert "The tide" not in client.get(address("talk", talk)).text


def test_an_answer_that_missed_a_scene_which_is_gone_is_not_talked_about(
    writer: Member, crew: Member, draft: Draft, signed_in: SignIn
) -> None:
    before = make_reading(writer, draft, crew)
    for asking in (Asking("Who took the skiff?", "scene", 2), Asking("Whose film is it?")):
        asked = ask(writer, before, asking, uuid.uuid4())
        answer_questions(crew, before, {asked.public_id: "The tide"})
        judge(writer, asked.answers.get(), "partly")
    second = make_draft(writer, draft.text.partition("EXT. SLIPWAY")[0], 2)
    talk = call_talk(writer, second, [crew], When(timezone.now() + timedelta(days=1), 60, ""), uuid.uuid4())
    page = signed_in(writer).get(address("talk", talk)).text
    assert "Whose film is it?" in page
    assert "Who took the skiff?" not in page


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
