"""What became of notes in a draft, told since the draft before it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.notes.fates import fates_since_before
from review.notes.models import Fate, Note
from tests.factories import SCRIPT, make_next_draft, make_note

if TYPE_CHECKING:
    from pytest_django import DjangoAssertNumQueries

    from review.drafts.models import Draft
    from review.people.models import Member

MENDS, MIST, TIDE = 6, 17, 9
SECOND = SCRIPT.replace("Tide turns at four.", "The tide turns at five.").replace("Mist. The skiff is gone.\n", "")


def test_a_note_of_an_earlier_draft_is_kept_where_only_that_one_s_rewrite_changed_its_lines(
    writer: Member, crew: Member, draft: Draft
) -> None:
    reworded, cut, kept = (make_note(crew, draft, line) for line in (TIDE, MIST, MENDS))
    second = make_next_draft(writer, SECOND)
    assert fates_since_before(Note.objects.all(), second).fates == {
        reworded.pk: Fate.REWORDED,
        cut.pk: Fate.GONE,
        kept.pk: Fate.KEPT,
    }
    third = make_next_draft(writer, SECOND.replace("one lamp", "two lamps"))
    told = fates_since_before(Note.objects.all(), third)
    assert told.fates == {reworded.pk: Fate.KEPT, kept.pk: Fate.REWORDED}
    assert (told.gone_already, told.found_again) == (1, 0)
    assert reworded.placements.get(draft=third).fate == Fate.REWORDED, "which is since the draft it was left on"


def test_lines_that_come_back_are_found_again(writer: Member, crew: Member, draft: Draft) -> None:
    make_note(crew, draft, MIST)
    make_next_draft(writer, SECOND)
    told = fates_since_before(Note.objects.all(), make_next_draft(writer, SCRIPT + "\nAnd out.\n"))
    assert (dict(told.fates), told.gone_already, told.found_again) == ({}, 0, 1)


def test_words_that_change_back_were_reworded_by_the_draft_that_did_it(
    writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, TIDE)
    make_next_draft(writer, SECOND)
    third = make_next_draft(writer, SCRIPT + "\nAnd out.\n")
    assert note.placements.get(draft=third).fate == Fate.KEPT
    assert fates_since_before(Note.objects.all(), third).fates == {note.pk: Fate.REWORDED}


def test_it_takes_as_many_queries_however_many_drafts_there_are(
    writer: Member, crew: Member, draft: Draft, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    make_note(crew, draft, TIDE)
    later = [make_next_draft(writer, SECOND), make_next_draft(writer, SCRIPT + "\nAnd out.\n")]
    for each in later:
        fates_since_before(Note.objects.all(), each)  # what is compared is kept
        with django_assert_num_queries(3):
            fates_since_before(Note.objects.all(), each)


def test_of_the_first_draft_there_is_nothing_to_tell(crew: Member, draft: Draft) -> None:
    make_note(crew, draft, TIDE)
    assert fates_since_before(Note.objects.all(), draft).before is None
