"""Where notes stand once a new draft is published."""

from __future__ import annotations

import uuid
from concurrent.futures import ThreadPoolExecutor
from threading import Event
from time import sleep
from typing import TYPE_CHECKING

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from review.decisions.acts import place_note
from review.drafts.acts import publish_draft
from review.drafts.scripts import compare_drafts
from review.notes.acts import leave_note
from review.notes.carrying import carry_notes
from review.notes.models import Fate, Note, Placement
from screenplay.carry import Span
from screenplay.intake import Intake
from tests.factories import SCRIPT, make_draft, make_member, make_note, make_production

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member
    from screenplay.compare import Comparison

MENDS, TIDE, WAIT = 6, 9, 20  # lines of SCRIPT
REWRITTEN = SCRIPT.replace("Tide turns at four.", "The tide turns at four, not three.").replace("\nHe didn't wait.", "")
RESTORED = SCRIPT.replace("Mist. The skiff is gone.", "Mist. Nobody.")


def publish(writer: Member, text: str) -> Draft:
    draft, is_new = publish_draft(writer, Intake(text=text, encoding="utf-8", bom=b""))
    assert is_new
    return draft


def stands(note: Note, draft: Draft) -> tuple[Fate, int | None, int | None]:
    placement = Placement.objects.get(note=note, draft=draft)
    return Fate(placement.fate), placement.first_line, placement.last_line


def test_a_note_on_a_kept_line_stays_on_its_line(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, MENDS)
    assert stands(note, publish(writer, REWRITTEN)) == (Fate.KEPT, MENDS, MENDS)


def test_a_note_follows_its_line_down_the_page(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, TIDE)
    later = publish(writer, SCRIPT.replace("INT. BOATHOUSE - NIGHT\n", "INT. BOATHOUSE - NIGHT\n\nRain on tin.\n"))
    fate, first, last = stands(note, later)
    assert (first, last) == (TIDE + 2, TIDE + 2)
    assert fate != Fate.GONE


def test_a_note_on_a_reworded_line_says_so(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, TIDE)
    assert stands(note, publish(writer, REWRITTEN)) == (Fate.REWORDED, TIDE, TIDE)


def test_a_note_on_a_cut_line_is_gone_and_keeps_its_own_lines(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, WAIT)
    assert note.quoted == "He didn't wait."
    assert stands(note, publish(writer, REWRITTEN)) == (Fate.GONE, None, None)
    note.refresh_from_db()
    assert (note.first_line, note.quoted) == (WAIT, "He didn't wait.")


def test_a_note_whose_lines_come_back_stands_on_them_again(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, WAIT)
    publish(writer, REWRITTEN)
    assert stands(note, publish(writer, RESTORED)) == (Fate.KEPT, WAIT, WAIT)


def test_a_withdrawn_note_is_carried_too(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, MENDS, withdrawn_at=timezone.now())
    assert stands(note, publish(writer, REWRITTEN)) == (Fate.KEPT, MENDS, MENDS)


def test_notes_of_another_production_are_left_alone(writer: Member, crew: Member, draft: Draft) -> None:
    elsewhere = make_member(make_production("Ebb"))
    note = make_note(elsewhere, make_draft(elsewhere))
    publish(writer, REWRITTEN)
    assert not note.placements.exists()


def test_a_place_set_by_hand_is_carried_on_from_there(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, WAIT)
    second = publish(writer, REWRITTEN)
    place_note(writer, note, second, Span(MENDS, 0, MENDS, 10))
    third = publish(writer, "Title: Slack Water\n\n" + REWRITTEN.partition("\n\n")[2])
    fate, first, _ = stands(note, third)
    assert third.text.splitlines()[(first or 0) - 1] == "NELL mends a net by one lamp."
    assert fate != Fate.GONE
    assert Placement.objects.get(note=note, draft=second).placed_by == writer


def test_lines_said_by_hand_to_be_gone_stay_gone(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, MENDS)
    place_note(writer, note, publish(writer, REWRITTEN), None)
    assert stands(note, publish(writer, RESTORED)) == (Fate.GONE, None, None)


def test_a_note_left_on_an_earlier_draft_stands_in_every_draft_since(
    writer: Member, crew: Member, draft: Draft
) -> None:
    second, third = publish(writer, REWRITTEN), publish(writer, RESTORED)
    note = leave_note(crew, draft, Span(TIDE, 0, TIDE, 4), "idea", "Say it slower.", form_id=uuid.uuid4())
    assert stands(note, second) == (Fate.REWORDED, TIDE, TIDE)
    assert stands(note, third)[1:] == (TIDE, TIDE)


def test_carrying_fifty_notes_asks_the_database_as_often_as_carrying_five(
    writer: Member, crew: Member, draft: Draft
) -> None:
    for _ in range(5):
        make_note(crew, draft, TIDE)
    with CaptureQueriesContext(connection) as few:
        publish(writer, REWRITTEN)
    for _ in range(45):
        make_note(crew, draft, TIDE)
    with CaptureQueriesContext(connection) as many:
        publish(writer, RESTORED)
    assert Placement.objects.count() == 5 + 50
    assert len(many) == len(few)


def test_each_earlier_draft_is_compared_once(
    writer: Member, crew: Member, draft: Draft, monkeypatch: pytest.MonkeyPatch
) -> None:
    compared: list[tuple[int, int]] = []

    def compare(old: Draft, new: Draft) -> Comparison:
        compared.append((old.number, new.number))
        return compare_drafts(old, new)

    monkeypatch.setattr("review.notes.carrying.compare_drafts", compare)
    for line in (MENDS, TIDE, WAIT):
        make_note(crew, draft, line)
    publish(writer, REWRITTEN)
    publish(writer, RESTORED)
    assert sorted(compared) == [(1, 2), (1, 3), (2, 3)]


def test_a_crash_while_carrying_leaves_the_earlier_draft_current(
    writer: Member, crew: Member, draft: Draft, monkeypatch: pytest.MonkeyPatch
) -> None:
    class PowerCut(Exception):  # noqa: N818 - it is what happens
        pass

    def cut(*_: object, **__: object) -> None:
        raise PowerCut

    make_note(crew, draft, MENDS)
    monkeypatch.setattr(Placement.objects, "bulk_create", cut)
    with pytest.raises(PowerCut):
        publish(writer, REWRITTEN)
    assert writer.production.current_draft == draft
    assert not Placement.objects.exists()


@pytest.mark.django_db(transaction=True)
def test_a_note_left_while_a_draft_is_being_published_stands_in_it(
    postgres_url: str, writer: Member, crew: Member, draft: Draft, monkeypatch: pytest.MonkeyPatch
) -> None:
    publishing = Event()

    def carry_slowly(new: Draft) -> None:
        carry_notes(new)
        publishing.set()
        sleep(0.5)  # the note is left now: after its notes were carried, before the draft is there for others

    def leave() -> Note:
        try:
            publishing.wait(timeout=10)
            return leave_note(crew, draft, Span(TIDE, 0, TIDE, 4), "idea", "Slower.", form_id=uuid.uuid4())
        finally:
            connection.close()

    monkeypatch.setattr("review.notes.carrying.carry_notes", carry_slowly)
    with ThreadPoolExecutor(1) as thread:
        left = thread.submit(leave)
        second = publish(writer, REWRITTEN)
        note = left.result(timeout=10)
    assert stands(note, second)[1:] == (TIDE, TIDE)
