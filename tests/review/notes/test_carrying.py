"""Where notes stand once a new draft is published."""

from __future__ import annotations

import uuid
from concurrent.futures import ThreadPoolExecutor
from threading import Event
from time import sleep
from typing import TYPE_CHECKING, Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from review.decisions.acts import place_note
from review.drafts.models import Draft
from review.drafts.scripts import compare_drafts
from review.log import Act
from review.notes.acts import leave_note
from review.notes.carrying import carry_notes
from review.notes.models import Fate, Note, Placement, Subject
from review.publishing.acts import publish_draft
from screenplay import Span
from screenplay.intake import Intake
from tests.factories import SCRIPT, make_draft, make_member, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.db.models import Manager

    from review.people.models import Member
    from screenplay.comparing import Comparison

HEADING, MENDS, TIDE, WAIT = 4, 6, 9, 20  # lines of SCRIPT
REWRITTEN = SCRIPT.replace("Tide turns at four.", "The tide turns at four, not three.").replace("\nHe didn't wait.", "")
RESTORED = SCRIPT.replace("Mist. The skiff is gone.", "Mist. Nobody.")


def publish(writer: Member, text: str) -> Draft:
    draft, is_new = publish_draft(writer, Intake(text=text, encoding="utf-8", bom=b""))
    assert is_new
    return draft


def stands(note: Note, draft: Draft) -> tuple[Fate, int | None, int | None]:
    placement = Placement.objects.get(note=note, draft=draft)
    return Fate(placement.fate), placement.first_line, placement.last_line


def leave(author: Member, draft: Draft, line: int, **about: Any) -> Note:
    return leave_note(author, draft, Span(line, 0, line, 0), "idea", "Hm.", form_id=uuid.uuid4(), **about)


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


def test_scene_numbers_alone_make_no_note_reworded_from_draft_to_draft(
    writer: Member, crew: Member, draft: Draft
) -> None:
    on_heading, on_scene = make_note(crew, draft, HEADING), leave(crew, draft, TIDE, subject=Subject.SCENE)
    for heading in ("INT. BOATHOUSE - NIGHT #1#", "INT. BOATHOUSE - NIGHT #1A#"):
        later = publish(writer, SCRIPT.replace("INT. BOATHOUSE - NIGHT", heading))
        assert [stands(note, later)[0] for note in (on_heading, on_scene)] == [Fate.KEPT] * 2


def test_a_line_cut_in_one_draft_and_back_in_the_next_is_as_it_was(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, TIDE)
    assert stands(note, publish(writer, SCRIPT.replace("NELL\nTide turns at four.\n\n", "")))[0] == Fate.GONE
    assert stands(note, publish(writer, "\n" + SCRIPT)) == (Fate.KEPT, TIDE + 1, TIDE + 1)


def test_a_fate_is_told_since_the_draft_the_note_was_left_on(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, TIDE)
    assert stands(note, publish(writer, REWRITTEN))[0] == Fate.REWORDED
    assert stands(note, publish(writer, REWRITTEN.replace("Mist.", "Fog."))) == (Fate.REWORDED, TIDE, TIDE)
    assert stands(note, publish(writer, RESTORED)) == (Fate.KEPT, TIDE, TIDE)


def test_a_line_reworded_twice_is_followed_though_nothing_of_it_is_left(
    writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, TIDE)
    publish(writer, SCRIPT.replace("Tide turns at four.", "Tide turns at four, when the wind does."))
    third = publish(writer, SCRIPT.replace("Tide turns at four.", "Nothing moves before the wind does."))
    assert stands(note, third) == (Fate.REWORDED, TIDE, TIDE)


def test_a_line_split_and_joined_again_is_as_it_was(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, TIDE)
    split = publish(writer, SCRIPT.replace("Tide turns at four.", "Tide turns\nat four."))
    assert stands(note, split) == (Fate.KEPT, TIDE, TIDE + 1)
    assert stands(note, publish(writer, RESTORED)) == (Fate.KEPT, TIDE, TIDE)


def test_of_two_ways_the_one_to_the_note_s_own_words_is_taken(writer: Member, crew: Member, draft: Draft) -> None:
    """By the chain the note is on the line that took the place of its own; its own line is back elsewhere."""
    note = make_note(crew, draft, TIDE)
    publish(writer, SCRIPT.replace("Tide turns at four.", "Tide turns at four, and the wind with it, says Pike."))
    back = SCRIPT.replace("Tide turns at four.", "It turns, and the wind with it, says Pike.")
    third = publish(writer, back.replace("He didn't wait.", "Tide turns at four.\nHe didn't wait."))
    fate, first, _ = stands(note, third)
    assert (fate, third.text.splitlines()[(first or 0) - 1]) == (Fate.MOVED, "Tide turns at four.")


def test_a_place_set_by_hand_is_not_overruled_by_the_note_s_own_words(
    writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, WAIT)
    second = publish(writer, REWRITTEN)
    place_note(writer, note, second, Span(MENDS, 0, MENDS, 29))
    assert stands(note, publish(writer, RESTORED)) == (Fate.KEPT, MENDS, MENDS)
    assert stands(note, publish(writer, "\n" + SCRIPT)) == (Fate.KEPT, MENDS + 1, MENDS + 1)


def test_a_scene_s_note_is_on_all_lines_of_its_scene(writer: Member, crew: Member, draft: Draft) -> None:
    note = leave(crew, draft, 9, subject=Subject.SCENE)
    assert (note.first_line, note.last_line, note.wording) == (4, 14, None)
    longer = publish(writer, SCRIPT.replace("EXT. SLIPWAY", "Rain on tin.\n\nEXT. SLIPWAY"))
    assert stands(note, longer) == (Fate.REWORDED, 4, 16)
    assert stands(note, publish(writer, SCRIPT.partition("EXT. SLIPWAY")[0] + "\n")) == (Fate.KEPT, 4, 15)


def test_a_scene_s_note_is_gone_with_its_scene(writer: Member, crew: Member, draft: Draft) -> None:
    note = leave(crew, draft, 15, subject=Subject.SCENE)
    assert stands(note, publish(writer, SCRIPT.partition("EXT. SLIPWAY")[0]))[0] == Fate.GONE


def test_a_character_s_note_follows_them_by_every_name(writer: Member, crew: Member, draft: Draft) -> None:
    note = leave(crew, draft, 9, subject=Subject.CHARACTER, character="NELL")
    assert (note.first_line, note.quoted) == (8, "NELL")
    second = publish(writer, SCRIPT.replace("NELL", "EDIE"))
    assert stands(note, second) == (Fate.REWORDED, 8, 8)
    assert Placement.objects.get(note=note, draft=second).character == "EDIE"
    third = publish(writer, SCRIPT.replace("NELL", "EDITH").replace("Mist.", "Fog."))
    assert Placement.objects.get(note=note, draft=third).character == "EDITH"
    fourth = publish(writer, "\n" + SCRIPT)
    assert stands(note, fourth) == (Fate.KEPT, 9, 9)


def test_a_character_s_note_is_gone_once_nobody_of_the_name_speaks(writer: Member, crew: Member, draft: Draft) -> None:
    note = leave(crew, draft, 11, subject=Subject.CHARACTER, character="TOBIAS")
    mute = SCRIPT.replace("TOBIAS (O.S.)\n(from the slip)\nThen we go at *three*.\n\n", "")
    assert stands(note, publish(writer, mute)) == (Fate.GONE, None, None)


def many_notes(author: Member, draft: Draft, count: int) -> None:
    """Notes on lines of every sort, scenes and characters, straight into the database."""
    lines = draft.text.splitlines()
    one = make_note(author, draft, MENDS)
    notes = []
    for at in range(count - 1):
        line = (MENDS, TIDE, WAIT, 13)[at % 4]
        subject = (Subject.LINES, Subject.SCENE, Subject.CHARACTER)[at % 3]
        note = Note(
            production=draft.production, draft=draft, author=author, kind=one.kind, body="Why?", subject=subject
        )
        note.character = "NELL" if subject == Subject.CHARACTER else ""
        note.first_line = note.last_line = line
        note.first_char, note.last_char = 0, len(lines[line - 1])
        notes.append(note)
    Note.objects.bulk_create(notes)


def test_carrying_two_thousand_notes_asks_the_database_as_often_as_carrying_fifty(
    writer: Member, crew: Member, draft: Draft
) -> None:
    many_notes(crew, draft, 50)
    publish(writer, REWRITTEN)
    with CaptureQueriesContext(connection) as few:
        publish(writer, RESTORED)
    assert Placement.objects.count() == 2 * 50
    many_notes(crew, draft, 1_950)
    with CaptureQueriesContext(connection) as many:
        fourth = publish(writer, RESTORED.replace("Mist.", "Fog."))
    assert fourth.placements.count() == 2_000
    assert set(fourth.placements.values_list("fate", flat=True)) == {Fate.KEPT, Fate.REWORDED}
    assert len(many) == len(few)


def test_what_is_stored_at_once_is_what_each_record_would_be(writer: Member, crew: Member, draft: Draft) -> None:
    notes = [leave(crew, draft, 9, subject=Subject.CHARACTER, character="NELL"), make_note(crew, draft, WAIT)]
    before = timezone.now()
    later = publish(writer, REWRITTEN)
    placed, gone = (Placement.objects.get(note=note, draft=later) for note in notes)
    assert (placed.first_line, placed.first_char, placed.last_line, placed.last_char) == (8, 0, 8, 4)
    assert (placed.fate, placed.character, placed.placed_by) == (Fate.KEPT, "NELL", None)
    assert before <= placed.placed_at <= timezone.now()
    assert (gone.fate, gone.character, gone.first_line, gone.last_char) == (Fate.GONE, "", None, None)


def test_each_draft_is_compared_once_and_before_others_are_held_up(
    writer: Member, crew: Member, draft: Draft, monkeypatch: pytest.MonkeyPatch
) -> None:
    compared: list[tuple[int, str]] = []

    def compare(old: Draft, new: Draft) -> Comparison:
        assert new.pk is None  # it is not stored before all comparisons are there
        compared.append((old.number, new.text))
        return compare_drafts(old, new)

    monkeypatch.setattr("review.notes.carrying.compare_drafts", compare)
    for line in (MENDS, TIDE, WAIT):
        make_note(crew, draft, line)
    publish(writer, REWRITTEN)
    publish(writer, RESTORED)
    assert sorted(compared) == sorted([(1, REWRITTEN), (1, RESTORED), (2, RESTORED)])


def test_a_crash_in_the_middle_of_carrying_leaves_the_earlier_draft_current(
    writer: Member, crew: Member, draft: Draft, monkeypatch: pytest.MonkeyPatch
) -> None:
    class PowerCut(Exception):
        pass

    store = type(Placement.objects).bulk_create

    def store_half(manager: Manager[Placement], placements: Iterable[Placement], **how: Any) -> Any:
        if manager.model is not Placement:  # every model's manager stores by this
            return store(manager, placements, **how)
        store(manager, list(placements)[:2], **how)
        assert Placement.objects.count() == 2
        raise PowerCut

    many_notes(crew, draft, 4)
    acts = Act.objects.count()
    monkeypatch.setattr(type(Placement.objects), "bulk_create", store_half)
    with pytest.raises(PowerCut):
        publish(writer, REWRITTEN)
    assert writer.production.drafts.current() == draft
    assert not Placement.objects.exists()
    assert Draft.objects.count() == 1
    assert Act.objects.count() == acts


@pytest.mark.django_db(transaction=True)
def test_a_note_left_while_a_draft_is_being_published_stands_in_it(
    postgres_url: str, writer: Member, crew: Member, draft: Draft, monkeypatch: pytest.MonkeyPatch
) -> None:
    publishing = Event()

    def carry_slowly(new: Draft, *known: Any) -> None:
        carry_notes(new, *known)
        publishing.set()
        sleep(0.5)  # the note is left now: after its notes were carried, before the draft is there for others

    def leave_one() -> Note:
        try:
            publishing.wait(timeout=10)
            return leave_note(crew, draft, Span(TIDE, 0, TIDE, 4), "idea", "Slower.", form_id=uuid.uuid4())
        finally:
            connection.close()

    monkeypatch.setattr("review.publishing.acts.carry_notes", carry_slowly)
    with ThreadPoolExecutor(1) as thread:
        left = thread.submit(leave_one)
        second = publish(writer, REWRITTEN)
        note = left.result(timeout=10)
    assert stands(note, second)[1:] == (TIDE, TIDE)
