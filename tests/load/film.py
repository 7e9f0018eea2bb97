"""Fills a database with films of a size: people with sessions, drafts, and notes all over them."""

from __future__ import annotations

import hashlib
import uuid
from dataclasses import dataclass
from datetime import timedelta
from importlib import import_module
from itertools import cycle
from typing import TYPE_CHECKING

from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.db import transaction
from django.utils import timezone

from review.access import Role
from review.decisions.models import Decision
from review.drafts.drawn_pages import draw_pages
from review.drafts.models import Draft
from review.log import Act
from review.notes.models import Fate, Note, Placement
from review.people.models import Department, Member, Person
from review.people.sessions import SIGN_IN_BACKEND
from review.productions.models import Production
from screenplay import lay_out, parse
from tests.plays import play_as_fountain

if TYPE_CHECKING:
    from collections.abc import Sequence

DECIDED_OF_FIVE = 2
LONG_AGO = timezone.now() - timedelta(days=1)  # so that nobody has just written more than one person may


@dataclass(frozen=True, slots=True)
class Film:
    """A production, its drafts in order, its writer, and everybody else in it."""

    production: Production
    drafts: list[Draft]
    writer: Member
    others: list[Member]


def text_of(pages: int) -> str:
    """A play cut to so many pages (public domain; see `tests/plays.py`)."""
    whole = lay_out(parse(play_as_fountain("hamlet")))
    last_line = max(line for line, page in whole.layout.page_of.items() if page <= pages)
    return "".join(whole.script.source[:last_line])


@transaction.atomic
def make_film(name: str, texts: Sequence[str], notes: int, people: int) -> Film:
    """A production with a draft of each text, so many notes left on them in equal parts, and so many people beside its
    writer; every note stands in each later draft, at its lines."""
    writer_person = Person.objects.create_user(email=f"writer-{uuid.uuid4()}@example.org", name="Ada Wren")
    production = Production.objects.create(name=name, started_by=writer_person, form_id=uuid.uuid4())
    writer = Member.objects.create(
        production=production, person=writer_person, role=Role.WRITER, department=Department.WRITING
    )
    others = [_join(production, ordinal) for ordinal in range(people)]
    drafts = [_put_up(writer, number, text) for number, text in enumerate(texts, 1)]
    for draft in drafts:
        _leave_notes(draft, [*others, writer], notes // len(drafts), writer)
    _carry(drafts)
    return Film(production, drafts, writer, others)


def _join(production: Production, ordinal: int) -> Member:
    person = Person(email=f"reader-{uuid.uuid4()}@example.org", name=f"Reader {ordinal}")
    person.set_unusable_password()
    person.save()
    return Member.objects.create(production=production, person=person, role=Role.CREW, department=Department.CAMERA)


def _put_up(writer: Member, number: int, text: str) -> Draft:
    draft = Draft.objects.create(
        production=writer.production,
        number=number,
        colour="White",
        text=text,
        sha256=hashlib.sha256(text.encode()).hexdigest(),
        uploaded_by=writer,
    )
    Act.objects.create(
        person=writer.person,
        verb=Act.Verb.PUBLISHED_DRAFT,
        production=writer.production,
        about=draft.public_id,
        details={"number": number, "label": ""},
        at=LONG_AGO,
    )
    return draft


def _leave_notes(draft: Draft, authors: Sequence[Member], count: int, writer: Member) -> None:
    printed, lines = draw_pages(draft).printed, draft.text.splitlines()
    made = []
    for ordinal, author in zip(range(count), cycle(authors), strict=False):
        line = printed[ordinal * len(printed) // count]
        place = {"first_line": line, "first_char": 0, "last_line": line, "last_char": len(lines[line - 1])}
        said = {"kind": "question", "body": f"Note {ordinal}: is this *really* night?", "quoted": lines[line - 1]}
        made.append(Note(production=draft.production, draft=draft, author=author, **place, **said))
    notes = Note.objects.bulk_create(made, batch_size=500)
    Act.objects.bulk_create(
        [
            Act(
                person=note.author.person,
                verb=Act.Verb.LEFT_NOTE,
                production=draft.production,
                about=note.public_id,
                at=LONG_AGO,
            )
            for note in notes
        ],
        batch_size=500,
    )
    Decision.objects.bulk_create(
        [
            Decision(note=note, ordinal=1, outcome="declined", reason="No.", decided_by=writer, form_id=uuid.uuid4())
            for ordinal, note in enumerate(notes)
            if ordinal % 5 < DECIDED_OF_FIVE
        ],
        batch_size=500,
    )


def _carry(drafts: Sequence[Draft]) -> None:
    """Each note to every later draft, at the lines that it was left on: what is measured is how many there are."""
    for draft in drafts:
        notes = list(Note.objects.filter(draft=draft))
        later = [each for each in drafts if each.number > draft.number]
        placements = [
            Placement(
                note=note,
                draft=each,
                fate=Fate.KEPT,
                first_line=note.first_line,
                first_char=note.first_char,
                last_line=note.last_line,
                last_char=note.last_char,
            )
            for each in later
            for note in notes
        ]
        Placement.objects.bulk_create(placements, batch_size=1000)


def session_of(person: Person) -> str:
    """The key of a session in which the person is signed in."""
    session = import_module(settings.SESSION_ENGINE).SessionStore()
    session[SESSION_KEY] = str(person.pk)
    session[BACKEND_SESSION_KEY] = SIGN_IN_BACKEND
    session[HASH_SESSION_KEY] = person.get_session_auth_hash()
    session.save()
    return str(session.session_key)
