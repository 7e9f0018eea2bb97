"""Where lines were rewritten here, every screen that tells of a note on them says so."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup, Tag
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from review.drafts.texts import hash_text
from review.publishing.acts import publish_working
from tests.factories import make_draft, make_note
from tests.review.rewriting.watch_room import REPLY, SCRIPT, SPEECH, accept, open_working, publish, scene_with

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


@pytest.fixture
def draft(writer: Member) -> Draft:
    return make_draft(writer, SCRIPT)


def page(client: Client, member: Member, name: str, *more: object) -> BeautifulSoup:
    answer = client.get(reverse(name, args=[member.production.public_id, *more]))
    assert answer.status_code == 200
    return BeautifulSoup(answer.text, "html.parser")


def words_of(found: Tag | BeautifulSoup | None) -> str:
    assert found is not None
    return " ".join(found.get_text(" ").split())


@pytest.fixture
def on_speech(writer: Member, crew: Member, draft: Draft) -> Note:
    """A note whose own short wording for a long speech is in the working draft."""
    note = make_note(crew, draft, SPEECH, body="Too long.", wording="Never.")
    accept(writer, note)
    return note


def test_what_is_to_be_written_in_stands_in_script_order(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft, on_speech: Note
) -> None:
    cut = make_note(crew, draft, REPLY, body="Not needed.", wording="")
    last = make_note(crew, draft, 13, body="Darker.")
    for note in (last, cut):
        accept(writer, note)
    items = page(signed_in(writer), writer, "to-do").select(".to-do-item")
    assert [item["id"] for item in items] == [f"to-do-{note.public_id}" for note in (on_speech, cut, last)]
    assert ["Wording is in" in words_of(item) for item in items] == [True, True, False]
    assert "gone" not in words_of(items[0]) + words_of(items[1])
    assert "Nothing: these lines are cut." in words_of(items[1])
    assert [bool(item.select(".acts a")) for item in items] == [True, True, True]


def test_its_scene_counts_it_and_shows_it(signed_in: SignIn, writer: Member, on_speech: Note) -> None:
    scene = scene_with(writer, "Never.")
    client = signed_in(writer)
    row = page(client, writer, "working").select_one(f"#scene-{scene.public_id}")
    assert "1 accepted" in words_of(row)
    assert page(client, writer, "working-scene", scene.public_id).select(f"#note-{on_speech.public_id}")


def test_publishing_asks_about_its_words(signed_in: SignIn, writer: Member, on_speech: Note) -> None:
    question = page(signed_in(writer), writer, "working-publish").select_one(f"#question-{on_speech.public_id}")
    assert question is not None
    assert "these lines are gone" not in words_of(question)
    assert [after.get_text() for after in question.select("dd.after")] == ["Never."]
    assert question.select_one("input[value=yes]").has_attr("checked")  # type: ignore[union-attr]


def test_what_changed_shows_the_line_as_reworded_with_its_note(
    signed_in: SignIn, writer: Member, crew: Member, on_speech: Note
) -> None:
    decision = on_speech.decisions.get()
    working = open_working(writer)
    second = publish_working(writer, working, "", "", {decision.pk: True}, hash_text(working.joined_text()))
    changes = page(signed_in(crew), crew, "changes-between", 1, second.number)
    assert "1 reworded" in words_of(changes)
    assert " gone" not in words_of(changes.select_one(f"#note-{on_speech.public_id}"))
    card = page(signed_in(crew), crew, "note", on_speech.public_id)
    assert "Never." in words_of(card.select_one(".answer dd"))


def test_home_tells_its_author_that_it_reads_otherwise(
    signed_in: SignIn, writer: Member, crew: Member, on_speech: Note
) -> None:
    publish(writer)
    assert "Never." in words_of(page(signed_in(crew), crew, "home"))


def test_queries_do_not_grow_with_the_notes(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft, on_speech: Note
) -> None:
    scene, client, counts = scene_with(writer, "Never."), signed_in(writer), []
    names = (("to-do",), ("working",), ("working-scene", scene.public_id), ("working-publish",))
    for _ in range(2):
        taken = []
        for name, *more in names:
            with CaptureQueriesContext(connection) as queries:
                page(client, writer, name, *more)
            taken.append(len(queries))
        counts.append(taken)
        for line in (SPEECH, REPLY, 16, 19):
            for _ in range(3):
                accept(writer, make_note(crew, draft, line, wording=draft.text.split("\n")[line - 1] + " So."))
    assert counts[0] == counts[1]
