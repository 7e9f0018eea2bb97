"""A note whose lines were rewritten here stands on what they became: nothing is guessed that was seen."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest

from review.decisions.acts import decide
from review.decisions.models import Outcome
from review.notes.acts import leave_note
from review.notes.models import Fate, Placement
from review.notes.then_and_now import lines_then_and_now
from review.publishing.acts import publish_draft
from review.rewriting.acts import begin_working
from review.rewriting.current_text import current_text
from review.rewriting.scene_acts import move_scene, save_scene
from screenplay.intake import read_text
from tests.factories import make_draft, make_note
from tests.review.rewriting.watch_room import (
    LONG,
    REPLY,
    SCRIPT,
    SPEECH,
    accept,
    publish,
    scene_with,
    words_in,
    words_now,
    write,
)

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member

pytestmark = pytest.mark.django_db


@pytest.fixture
def draft(writer: Member) -> Draft:
    return make_draft(writer, SCRIPT)


def test_a_short_wording_for_a_long_speech_is_where_its_note_stands(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, SPEECH, wording="Never.")
    accept(writer, note)
    assert words_now(writer, note) == "Never."
    published = publish(writer)
    placement = Placement.objects.get(draft=published, note=note)
    assert (words_in(published, note), placement.fate, placement.is_known) == ("Never.", Fate.REWORDED, True)


def test_every_note_on_the_words_goes_where_the_wording_went(writer: Member, crew: Member, draft: Draft) -> None:
    other = make_note(crew, draft, SPEECH)
    accept(writer, make_note(crew, draft, SPEECH, wording="Never."))
    assert words_now(writer, other) == "Never."
    assert words_in(publish(writer), other) == "Never."


def test_a_line_that_is_written_anew_is_that_line(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, SPEECH)
    begin_working(writer, draft, uuid.uuid4())
    write(writer, LONG, "No.")
    assert words_now(writer, note) == "No."
    assert words_in(publish(writer), note) == "No."


def test_a_line_that_is_emptied_first_and_then_written_is_that_line(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, REPLY)
    begin_working(writer, draft, uuid.uuid4())
    scene = scene_with(writer, LONG)
    for typed in ("", "H", "Hm."):
        text = SCRIPT.split("EXT.", maxsplit=1)[0].replace("It is a bulb.", typed)
        scene = save_scene(writer, scene, text, scene.version, uuid.uuid4(), as_typed=True)
    assert words_now(writer, note) == "Hm."


def test_of_two_who_say_the_same_the_one_that_stays_keeps_the_note(writer: Member, crew: Member, draft: Draft) -> None:
    on_bren, on_oda = make_note(crew, draft, 16), make_note(crew, draft, 19)
    begin_working(writer, draft, uuid.uuid4())
    write(writer, "BREN\nYes.\n\n", "")
    assert (words_now(writer, on_bren), words_now(writer, on_oda)) == (None, "Yes.")
    published = publish(writer)
    assert (words_in(published, on_bren), words_in(published, on_oda)) == (None, "Yes.")


def test_it_stays_with_its_words_in_a_scene_that_moves(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, SPEECH, wording="Never.")
    accept(writer, note)
    move_scene(writer, scene_with(writer, "Never."), scene_with(writer, "The lamp turns"))
    assert words_in(publish(writer), note) == "Never."


def test_it_follows_its_words_into_a_scene_of_their_own(writer: Member, crew: Member, draft: Draft) -> None:
    note, other = make_note(crew, draft, SPEECH, wording="Never."), make_note(crew, draft, REPLY)
    accept(writer, note)
    write(writer, "ODA\nNever.", "INT. STAIR - NIGHT\n\nODA\nNever.")
    write(writer, "It is a bulb.", "Nonsense.")
    published = publish(writer)
    assert (words_in(published, note), words_in(published, other)) == ("Never.", "Nonsense.")


def test_words_taken_out_again_are_where_they_were(writer: Member, crew: Member, draft: Draft) -> None:
    note, other = make_note(crew, draft, SPEECH, wording="Never."), make_note(crew, draft, REPLY)
    accept(writer, note)
    write(writer, "It is a bulb.", "Nonsense.")
    decide(writer, note, Outcome.REOPENED, "", 1, uuid.uuid4(), with_wording=True)
    assert (words_now(writer, note), words_now(writer, other)) == (LONG, "Nonsense.")


def test_a_wording_that_cuts_its_lines_leaves_its_note_with_none(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, 16, wording="")
    accept(writer, note)
    pages = current_text(writer.production)
    assert pages is not None
    told = lines_then_and_now([note], draft, pages.following)[note.pk]
    assert (told.now, told.reads_as_proposed) == (None, True)
    assert words_in(publish(writer), note) is None


def test_words_put_back_by_hand_are_no_longer_the_wordings(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, SPEECH, wording="Never.")
    accept(writer, note)
    write(writer, "Never.", LONG)
    pages = current_text(writer.production)
    assert pages is not None
    told = lines_then_and_now([note], draft, pages.following)[note.pk]
    assert (told.now and told.now.lines, told.reads_as_proposed) == (LONG, False)


def test_a_draft_put_up_from_a_file_keeps_it_where_it_was_rewritten(writer: Member, crew: Member, draft: Draft) -> None:
    """The note's own words were rewritten here; a later draft that has others more like them does not draw it away."""
    note = make_note(crew, draft, SPEECH, wording="Never.")
    accept(writer, note)
    text = publish(writer).text
    third, _ = publish_draft(writer, read_text(f"{text}\nBREN\nI have stood at this window every night for years.\n"))
    assert words_in(third, note) == "Never."


def test_a_note_left_late_on_the_draft_before_goes_to_its_line(writer: Member, crew: Member, draft: Draft) -> None:
    begin_working(writer, draft, uuid.uuid4())
    write(writer, LONG, "No.")
    published = publish(writer)
    earlier = make_note(crew, draft, SPEECH)
    note = leave_note(crew, draft, earlier.span, "idea", "Too long.", form_id=uuid.uuid4())
    assert words_in(published, note) == "No."
