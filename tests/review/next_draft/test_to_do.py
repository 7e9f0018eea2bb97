"""The list of accepted notes that are still to be written in."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

from bs4 import BeautifulSoup
from django.urls import reverse

from review.cards.accepted import count_accepted
from review.decisions.acts import decide
from review.next_draft.to_do import to_do
from review.notes.acts import leave_note
from review.notes.models import Subject
from review.notes.then_and_now import NextText
from review.publishing.acts import publish_draft
from review.publishing.answers import preset_answers
from review.rewriting.acts import begin_working
from review.rewriting.current_text import current_text
from review.rewriting.scene_acts import save_scene
from screenplay import Span
from screenplay.intake import read_text
from tests.factories import SCRIPT, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from bs4 import Tag
    from django.test import Client

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member

    SignIn = Callable[[Member], Client]


def accept(writer: Member, note: Note) -> Note:
    decide(writer, note, "accepted", "", 0, uuid.uuid4())
    return note


def address(writer: Member) -> str:
    return reverse("to-do", args=[writer.production.public_id])


def items(client: Client, writer: Member) -> list[Tag]:
    return BeautifulSoup(client.get(address(writer)).text, "html.parser").select(".to-do-item")


def write(writer: Member, draft: Draft, before: str, after: str) -> None:
    working = begin_working(writer, draft, uuid.uuid4())
    scene = next(scene for scene in working.scenes.all() if before in scene.text)
    save_scene(writer, scene, scene.text.replace(before, after), scene.version, uuid.uuid4())


def test_they_stand_in_script_order_with_their_lines(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    last = accept(writer, make_note(crew, draft, 17, body="Whose skiff?"))
    first = accept(writer, make_note(crew, draft, 6))
    decide(writer, make_note(crew, draft, 9), "parked", "", 0, uuid.uuid4())
    make_note(crew, draft, 9)
    found = items(signed_in(writer), writer)
    assert [str(item["id"]) for item in found] == [f"to-do-{first.public_id}", f"to-do-{last.public_id}"]
    assert "NELL mends a net by one lamp." in found[0].text
    assert "Whose skiff?" in found[1].text


def test_with_a_working_draft_each_leads_to_its_scene_at_its_lines_and_says_what_has_changed(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    changed, as_it_was, numbered = (accept(writer, make_note(crew, draft, line)) for line in (9, 20, 4))
    write(writer, draft, "Tide turns at four.", "Hush.\n\nNELL\nThe tide turns at five.")
    write(writer, draft, "BOATHOUSE - NIGHT", "BOATHOUSE - NIGHT #1#")
    client = signed_in(writer)
    found = {str(item["id"]): item for item in items(client, writer)}
    one, other = found[f"to-do-{changed.public_id}"], found[f"to-do-{as_it_was.public_id}"]
    assert "Changed" in one.text
    assert "The tide turns at five." in one.text
    assert "Changed" not in other.text
    assert "Changed" not in found[f"to-do-{numbered.public_id}"].text
    link = other.select_one(".question-lines a")
    assert link is not None
    assert str(link["href"]).endswith("?line=6")
    assert "He didn't wait." in BeautifulSoup(client.get(str(link["href"])).text, "html.parser").text


def test_what_a_rename_alone_changed_is_still_to_write_in(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    on_lines = accept(writer, make_note(crew, draft, 6))
    for subject, character in ((Subject.SCENE, ""), (Subject.CHARACTER, "NELL")):
        line, key = Span(9, 0, 9, 0), uuid.uuid4()
        note = leave_note(crew, draft, line, "idea", "Hm.", subject=subject, character=character, form_id=key)
        accept(writer, note)
    for before, after in (("NELL mends", "ADA mends"), ("\nNELL\nTide", "\nADA\nTide"), ("\nNELL\nHe", "\nADA\nHe")):
        write(writer, draft, before, after)
    client = signed_in(writer)
    found = {str(item["id"]): item.text for item in items(client, writer)}
    assert [text.count("Changed") for text in found.values()] == [0, 0, 0]
    assert "ADA mends a net" in found[f"to-do-{on_lines.public_id}"]

    write(writer, draft, "Tide turns at four.", "The tide turns at five.")
    assert sorted(item.text.count("Changed") for item in items(client, writer)) == [0, 1, 1]


def test_a_note_whose_lines_are_cut_stays_at_the_end(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    gone, stays = accept(writer, make_note(crew, draft, 6)), accept(writer, make_note(crew, draft, 20))
    write(writer, draft, "NELL mends a net by one lamp.\n\n", "")
    found = items(signed_in(writer), writer)
    assert [str(item["id"]) for item in found] == [f"to-do-{stays.public_id}", f"to-do-{gone.public_id}"]
    assert "Lines are cut" in found[1].text


def test_one_whose_wording_is_in_says_so(signed_in: SignIn, writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, 9, wording="The tide turns at four.")
    decide(writer, note, "accepted", "", 0, uuid.uuid4(), with_wording=True)
    assert "Wording is in" in items(signed_in(writer), writer)[0].text


def test_what_a_draft_answers_leaves_the_list(signed_in: SignIn, writer: Member, crew: Member, draft: Draft) -> None:
    accept(writer, make_note(crew, draft, 9))
    text = SCRIPT.replace("at four", "at five")
    assert count_accepted(writer) == 1
    publish_draft(writer, read_text(text), answers=preset_answers(writer, NextText.of(writer.production, text)))
    assert count_accepted(writer) == 0
    assert "Nothing is left to write in" in signed_in(writer).get(address(writer)).text


def test_one_that_was_overtaken_says_by_whose_wording_and_what_it_offered(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    taken = make_note(crew, draft, 9, wording="The tide turns at four.")
    overtaken = accept(writer, make_note(cast, draft, 9, wording="Our tide turns at four."))
    decide(writer, taken, "accepted", "", 0, uuid.uuid4(), with_wording=True)
    found = {str(item["id"]): " ".join(item.text.split()) for item in items(signed_in(writer), writer)}
    told = found[f"to-do-{overtaken.public_id}"]
    assert "Overtaken Was" in told
    assert "Offered Our tide turns at four. Overtaken by Bo Finch’s note." in told
    assert "Overtaken" not in found[f"to-do-{taken.public_id}"]


def test_home_tells_the_writer_how_many_there_are(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    accept(writer, make_note(crew, draft, 9))
    home = reverse("home", args=[writer.production.public_id])
    assert "1 accepted note to write in" in signed_in(writer).get(home).text
    assert "to write in" not in signed_in(crew).get(home).text


def test_before_the_first_draft_it_is_empty(signed_in: SignIn, writer: Member) -> None:
    page = signed_in(writer).get(address(writer)).text
    assert "There is no draft yet" in page
    assert "Begin the next draft" not in page
    assert f'href="{reverse("draft-upload", args=[writer.production.public_id])}">Put up the first draft' in page


def test_many_notes_cost_no_more_queries_than_a_few(
    writer: Member, crew: Member, draft: Draft, django_assert_num_queries: Any
) -> None:
    begin_working(writer, draft, uuid.uuid4())

    def read() -> int:
        pages = current_text(writer.production)
        assert pages is not None
        return len(to_do(writer, pages))

    for _ in range(3):
        accept(writer, make_note(crew, draft, 9))
    with django_assert_num_queries(11):
        assert read() == 3
    for _ in range(20):
        accept(writer, make_note(crew, draft, 9))
    with django_assert_num_queries(11):
        assert read() == 23
