"""Fills a database with films of a size: people with sessions, drafts, and notes all over them."""

from __future__ import annotations

import hashlib
import uuid
from dataclasses import dataclass
from datetime import timedelta
from importlib import import_module
from itertools import cycle
from typing import TYPE_CHECKING, Any

from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.core.management.color import no_style
from django.db import connection, transaction
from django.db.models import Max, Min, QuerySet
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
    from collections.abc import Mapping, Sequence

    from django.db.models import Field, Model

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


@transaction.atomic
def copy_film(film: Film, times: int) -> None:
    """Put so many copies of a film in, people, drafts, notes and all, as productions of their own. They are copied
    within the database, each row with its key moved on, so that a hundred take less time than the film did."""
    made: dict[type[Model], QuerySet[Any]] = {
        Person: Person.objects.filter(memberships__production=film.production),
        Production: Production.objects.filter(pk=film.production.pk),
        Member: Member.objects.filter(production=film.production),
        Draft: Draft.objects.filter(production=film.production),
        Act: Act.objects.filter(production=film.production),
        Note: Note.objects.filter(production=film.production),
        Decision: Decision.objects.filter(note__production=film.production),
        Placement: Placement.objects.filter(note__production=film.production),
    }
    ends = {model: found.order_by().aggregate(first=Min("pk"), last=Max("pk")) for model, found in made.items()}
    with connection.cursor() as cursor:
        for _ in range(times):
            on = {model: _last_key(model) + 1 - ends[model]["first"] for model in made}
            for model in made:
                cursor.execute(_copying(model, on), [ends[model]["first"], ends[model]["last"]])
        for statement in connection.ops.sequence_reset_sql(no_style(), list(made)):
            cursor.execute(statement)


def _last_key(model: type[Model]) -> int:
    last: int = QuerySet(model).aggregate(last=Max("pk"))["last"]
    return last


def _copying(model: type[Model], on: Mapping[type[Model], int]) -> str:
    """The statement that copies the rows of a model between two keys, each key moved on as `on` says."""
    described = model._meta  # noqa: SLF001 - Django's own way to a model's table
    table = connection.ops.quote_name(described.db_table)
    copied = {str(field.column): _copied(field, model, on) for field in described.local_concrete_fields}
    columns = ", ".join(map(connection.ops.quote_name, copied))
    return (
        f"INSERT INTO {table} ({columns}) SELECT {', '.join(copied.values())} FROM {table} WHERE id BETWEEN %s AND %s"
    )


def _copied(field: Field[Any, Any], model: type[Model], on: Mapping[type[Model], int]) -> str:
    """What a row's copy has in a field: the same, but for keys, and for what no two rows may share."""
    column, is_postgres = connection.ops.quote_name(str(field.column)), connection.vendor == "postgresql"
    if field.primary_key:
        return f"{column} + {on[model]}"
    if field.related_model in on:
        return f"{column} + {on[field.related_model]}"  # type: ignore[index]  # a model, as it is among them
    if field.name in {"public_id", "email"}:
        return "substr(md5(random()::text), 1, 12)" if is_postgres else "lower(hex(randomblob(6)))"
    if field.name == "form_id":
        return "gen_random_uuid()" if is_postgres else "lower(hex(randomblob(16)))"
    return column


def session_of(person: Person) -> str:
    """The key of a session in which the person is signed in."""
    session = import_module(settings.SESSION_ENGINE).SessionStore()
    session[SESSION_KEY] = str(person.pk)
    session[BACKEND_SESSION_KEY] = SIGN_IN_BACKEND
    session[HASH_SESSION_KEY] = person.get_session_auth_hash()
    session.save()
    return str(session.session_key)
