"""How long publishing takes with two thousand notes over five drafts: against the comparisons it needs, beside what
search is given of every draft, in one run."""

from __future__ import annotations

import random
from dataclasses import astuple
from typing import TYPE_CHECKING

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

import screenplay
from review.access import Role
from review.drafts.found_lines import index_draft
from review.drafts.scripts import read_script
from review.kept import STORE
from review.notes.models import Note, Placement, Subject
from review.notes.subjects import whole_subject
from review.people.models import Department
from review.publishing.acts import publish_draft
from screenplay import Span
from screenplay.intake import Intake
from screenplay.script import characters_of
from tests.bench.stopwatch import seconds
from tests.factories import make_member, make_production
from tests.plays import play_as_fountain
from tests.rewrite import revise_play

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.drafts.models import Draft
    from review.people.models import Member
    from screenplay import Screenplay

NOTES, DRAFTS = 2_000, 5
MOST_OF_COMPARISONS = 2.5  # the comparisons once, and one and a half times them for carrying, storing and all else


def drafts_of_a_play() -> list[str]:
    texts = [play_as_fountain("hamlet")]
    for seed in range(1, DRAFTS):
        texts.append(revise_play(texts[-1], seed, other=play_as_fountain("king-lear")).new)
    return texts


def compare_all(drafts: Sequence[Screenplay]) -> None:
    """The last with each of the others."""
    for draft in drafts[:-1]:
        screenplay.compare(draft, drafts[-1])


def publish(writer: Member, text: str) -> Draft:
    return publish_draft(writer, Intake(text=text, encoding="utf-8", bom=b""))[0]


def leave_notes(author: Member, draft: Draft, count: int, rng: random.Random) -> None:
    """Notes of every sort on lines anywhere, straight into the database."""
    script = read_script(draft)
    lines = [text.rstrip("\r\n") for text in script.source]
    names = [one.name for one in characters_of(script)]
    written = [number for number, text in enumerate(lines, 1) if text.strip() and script.scene_of[number - 1]]
    notes = []
    for at in range(count):
        first = rng.choice(written)
        last = min(first + rng.choice((0, 0, 0, 1, 4)), len(lines))
        subject = (Subject.LINES, Subject.LINES, Subject.LINES, Subject.SCENE, Subject.CHARACTER)[at % 5]
        wanted = Span(first, rng.randrange(len(lines[first - 1])), last, len(lines[last - 1]))
        span, name = whole_subject(draft, subject, wanted, rng.choice(names))
        note = Note(production=draft.production, draft=draft, author=author, kind="idea", body="Hm.", subject=subject)
        note.character = name
        note.first_line, note.first_char, note.last_line, note.last_char = astuple(span)
        notes.append(note)
    Note.objects.bulk_create(notes)


@pytest.mark.django_db
def test_publishing_with_two_thousand_notes_takes_at_most_two_and_a_half_times_its_comparisons() -> None:
    writer = make_member(make_production(), Role.WRITER, Department.WRITING)
    texts, rng = drafts_of_a_play(), random.Random(1)
    for text in texts[:-1]:
        leave_notes(writer, publish(writer, text), NOTES // (DRAFTS - 1), rng)
    last = texts[-1]

    comparing = seconds(lambda: compare_all([screenplay.parse(text) for text in texts]))
    STORE.clear()  # as on a server that was just started
    with CaptureQueriesContext(connection) as queries:
        publishing = seconds(lambda: publish(writer, last))

    draft = writer.production.drafts.current()
    assert draft is not None
    assert Placement.objects.filter(draft=draft).count() == NOTES
    print(f"\npublishing {publishing:.2f} s, comparing {comparing:.2f} s, {len(queries)} queries")  # noqa: T201 - the report
    indexing = seconds(lambda: index_draft(draft))  # what search is given of every draft, with notes or without
    assert publishing - indexing <= MOST_OF_COMPARISONS * comparing
    assert len(queries) < 25
