"""Lines that were seen to become others are known in every draft, whichever was withdrawn or put up again meanwhile."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from review.drafts.acts import put_up_again, withdraw_draft
from review.drafts.known_origins import known_origins
from review.drafts.scripts import compare_drafts
from review.notes.acts import leave_note
from review.rewriting.acts import begin_working
from tests.factories import make_draft, make_note
from tests.review.rewriting.watch_room import LONG, REPLY, SCRIPT, SPEECH, publish, words_in, words_now, write

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member

pytestmark = pytest.mark.django_db


@pytest.fixture
def draft(writer: Member) -> Draft:
    return make_draft(writer, SCRIPT)


def test_lines_of_a_draft_that_went_and_came_back_are_known_as_before(
    writer: Member, crew: Member, draft: Draft
) -> None:
    """A note left while it was away too, and a draft written meanwhile keeps its own."""
    note = make_note(crew, draft, SPEECH)
    begin_working(writer, draft, uuid.uuid4())
    write(writer, LONG, "Never.")
    withdrawn = publish(writer)
    withdraw_draft(writer, withdrawn, "Too soon.")
    meanwhile = leave_note(crew, draft, note.span, "question", "All of it?", form_id=uuid.uuid4())
    begin_working(writer, draft, uuid.uuid4())
    write(writer, LONG, "No.")
    third = publish(writer)
    put_up_again(writer, withdrawn)
    for each in (note, meanwhile):
        assert (words_in(withdrawn, each), words_in(third, each)) == ("Never.", "No.")
    begin_working(writer, third, uuid.uuid4())
    write(writer, "No.", "Hm.")
    assert words_in(publish(writer), note) == "Hm."


def test_two_drafts_written_from_one_are_not_guessed_to_be_alike(writer: Member, draft: Draft) -> None:
    """The second, withdrawn while the third was written and put up again, knows its lines in the third by the first's;
    and so does the first its own in the fourth, which was written from the third."""
    begin_working(writer, draft, uuid.uuid4())
    write(writer, LONG, "Never.")
    second = publish(writer)
    withdraw_draft(writer, second, "Too soon.")
    begin_working(writer, draft, uuid.uuid4())
    write(writer, LONG, "Hm.")
    write(writer, "It is a bulb.", "Never.")
    third = publish(writer)
    put_up_again(writer, second)
    begin_working(writer, third, uuid.uuid4())
    write(writer, "Hm.", "It is a bulb.")
    fourth = publish(writer)

    for old, new in ((second, third), (second, fourth), (draft, fourth)):
        comparison = compare_drafts(old, new)
        assert {SPEECH, REPLY} <= comparison.known
        assert (comparison.by_old[SPEECH].new, comparison.by_old[REPLY].new) == ((SPEECH,), (REPLY,))
    for new, old, most in ((fourth, third, 0), (fourth, second, 1), (draft, fourth, 0)):
        with CaptureQueriesContext(connection) as queries:
            known_origins(new, old)
        assert len(queries) == most


def test_a_working_draft_knows_its_lines_though_the_draft_it_was_begun_from_goes_and_comes_back(
    writer: Member, crew: Member, draft: Draft
) -> None:
    on_speech, on_reply = make_note(crew, draft, SPEECH), make_note(crew, draft, REPLY)
    begin_working(writer, draft, uuid.uuid4())
    write(writer, LONG, "Never.")
    write(writer, "ODA\nNever.", "ODA\nNo.\n\nBREN\nWhy?\n\nODA\nNever.")
    second = publish(writer)
    begin_working(writer, second, uuid.uuid4())
    write(writer, "It is a bulb.", "Nonsense.")
    withdraw_draft(writer, second, "Too soon.")
    assert (words_now(writer, on_speech), words_now(writer, on_reply)) == ("Never.", "Nonsense.")
    put_up_again(writer, second)
    assert (words_now(writer, on_speech), words_now(writer, on_reply)) == ("Never.", "Nonsense.")
    withdraw_draft(writer, second, "Still too soon.")
    third = publish(writer)
    assert (words_in(third, on_speech), words_in(third, on_reply)) == ("Never.", "Nonsense.")
