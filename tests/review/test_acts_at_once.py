"""Acts of different rooms at the same moment: neither waits for the other for ever."""

from __future__ import annotations

import uuid
from concurrent.futures import ThreadPoolExecutor
from threading import Event
from time import sleep
from typing import TYPE_CHECKING

import pytest
from django.db import connection, transaction

from review.decisions.acts import decide, place_note
from review.decisions.models import Decision
from review.notes.acts import reply
from review.notes.models import Fate, Placement, Reply
from review.people.acts import remove_member
from review.publishing.acts import publish_draft
from screenplay.intake import Intake
from tests.factories import SCRIPT, make_draft, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.drafts.models import Draft
    from review.people.models import Member

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.usefixtures("postgres_url")]

MENDS = 6  # a line of SCRIPT


def one_after_the_other(first: Callable[[], object], then: Callable[[], object]) -> None:
    """Begins the second while the first is done and not committed; the second waits, and neither is lost."""
    first_done, then_begun = Event(), Event()

    def do_first() -> None:
        try:
            with transaction.atomic():
                first()
                first_done.set()
                then_begun.wait(timeout=10)
                sleep(0.2)
        finally:
            connection.close()

    def do_then() -> None:
        try:
            first_done.wait(timeout=10)
            then_begun.set()
            then()
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as threads:
        for done in [threads.submit(do_first), threads.submit(do_then)]:
            done.result(timeout=20)


def publish(writer: Member) -> Draft:
    return publish_draft(writer, Intake(text=SCRIPT + "\nShe waits.\n", encoding="utf-8", bom=b""))[0]


def test_deciding_a_note_while_a_draft_is_published(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, MENDS)
    one_after_the_other(lambda: publish(writer), lambda: decide(writer, note, "accepted", "", 0, uuid.uuid4()))
    assert Decision.objects.get().note == note
    assert Placement.objects.get(note=note).draft.number == 2


def test_setting_a_place_while_a_draft_is_published(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, MENDS)
    second = make_draft(writer, SCRIPT.replace("Mist.", "Fog."), number=2)
    one_after_the_other(lambda: publish(writer), lambda: place_note(writer, note, second, None))
    assert Placement.objects.get(note=note, draft=second).fate == Fate.GONE
    assert Placement.objects.filter(note=note, draft__number=3).exists()


def test_replying_while_the_note_is_decided(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, MENDS)
    one_after_the_other(
        lambda: decide(writer, note, "declined", "No.", 0, uuid.uuid4()),
        lambda: reply(crew, note, "Later than that.", uuid.uuid4()),
    )
    assert (Decision.objects.count(), Reply.objects.count()) == (1, 1)


def test_deciding_a_note_while_its_author_is_removed(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, MENDS)
    one_after_the_other(
        lambda: remove_member(writer, crew), lambda: decide(writer, note, "accepted", "", 0, uuid.uuid4())
    )
    crew.refresh_from_db()
    assert crew.removed_at is not None
    assert Decision.objects.get().note == note
