"""Makes the few records a test needs, with plain defaults."""

from __future__ import annotations

import hashlib
import itertools
import uuid
from datetime import timedelta
from typing import TYPE_CHECKING, Any

from django.utils import timezone

from review.access import Role
from review.decisions.models import Decision, Outcome
from review.drafts.models import Draft
from review.notes.carrying import carry_notes
from review.notes.models import Audience, Note, NoteKind
from review.people.models import Department, Member, Person
from review.productions.models import USUAL_COLOURS, Production
from review.readers.models import Reader, Reading

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

SCRIPT = """Title: Slack Water
Author: Ada Wren

INT. BOATHOUSE - NIGHT

NELL mends a net by one lamp.

NELL
Tide turns at four.

TOBIAS (O.S.)
(from the slip)
Then we go at *three*.

EXT. SLIPWAY - DAWN

Mist. The skiff is gone.

NELL
He didn't wait.
"""

_ordinals: Iterator[int] = itertools.count(1)


def make_person(name: str = "", **fields: Any) -> Person:
    n = next(_ordinals)
    return Person.objects.create_user(email=f"person{n}@example.org", name=name or f"Person {n}", **fields)


def make_production(name: str = "Slack Water", started_by: Person | None = None) -> Production:
    return Production.objects.create(name=name, started_by=started_by or make_person(), form_id=uuid.uuid4())


def make_member(
    production: Production,
    role: Role = Role.CREW,
    department: Department = Department.CAMERA,
    name: str = "",
    person: Person | None = None,
) -> Member:
    return Member.objects.create(
        production=production, person=person or make_person(name), role=role, department=department
    )


def make_draft(writer: Member, text: str = SCRIPT, number: int = 1, label: str = "", colour: str = "") -> Draft:
    """A published draft, put straight into the database: no notes are carried."""
    return Draft.objects.create(
        production=writer.production,
        number=number,
        label=label,
        colour=colour or USUAL_COLOURS[(number - 1) % len(USUAL_COLOURS)],
        text=text,
        sha256=hashlib.sha256(text.encode()).hexdigest(),
        uploaded_by=writer,
    )


def make_next_draft(writer: Member, text: str) -> Draft:
    """The draft after those there are, put straight into the database, with every note carried to it."""
    draft = make_draft(writer, text, writer.production.drafts.next_number())
    carry_notes(draft)
    return draft


def make_reading(writer: Member, draft: Draft, *members: Member, **fields: Any) -> Reading:
    """An open reading of a draft by these members, put straight into the database; a blind one unless fields say so."""
    reading = Reading.objects.create(
        production=writer.production,
        draft=draft,
        opened_by=writer,
        **({"until": timezone.localdate() + timedelta(days=7)} | fields),
    )
    for member in members:
        Reader.objects.create(reading=reading, member=member)
    return reading


def make_note(author: Member, draft: Draft, first_line: int = 6, last_line: int | None = None, **fields: Any) -> Note:
    """A note on whole lines of a draft."""
    note = _note(author, draft, first_line, last_line or first_line, **fields)
    note.save()
    return note


def make_notes(author: Member, draft: Draft, lines: Iterable[int], **fields: Any) -> list[Note]:
    """Many notes at once, each on one of these lines of a draft."""
    return Note.objects.bulk_create(_note(author, draft, line, line, **fields) for line in lines)


def _note(author: Member, draft: Draft, first_line: int, last_line: int, **fields: Any) -> Note:
    lines = draft.text.splitlines()
    defaults: dict[str, Any] = {
        "kind": NoteKind.PROBLEM,
        "body": "Is this *really* night?",
        "audience": Audience.EVERYONE,
        "first_char": 0,
        "last_char": len(lines[last_line - 1]),
        "quoted": "\n".join(lines[first_line - 1 : last_line]),
    }
    return Note(
        production=draft.production,
        draft=draft,
        author=author,
        first_line=first_line,
        last_line=last_line,
        **(defaults | fields),
    )


def make_decisions(writer: Member, notes: Iterable[Note], outcome: Outcome = Outcome.ACCEPTED) -> list[Decision]:
    """The first decision on each of many notes: no wording goes into the working draft by it, and nobody is told."""
    return Decision.objects.bulk_create(
        Decision(note=note, ordinal=1, outcome=outcome, reason="Because.", decided_by=writer) for note in notes
    )
