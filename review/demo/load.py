"""The demo: an invented short film in two drafts, its people and their notes, put in by the acts that everybody uses."""

from __future__ import annotations

import tomllib
import uuid
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.utils import timezone

from review import log
from review.decisions.acts import decide
from review.drafts.acts import publish_draft
from review.notes.acts import leave_note, reply
from review.notes.lines import source_lines
from review.notes.models import Audience, Note
from review.people.acts import accept_invitation, invite
from review.people.models import SIGN_IN_LINK_LASTS, Member, Person, Role, SignInLink, hash_token, new_token
from review.productions.models import Production, start_production
from screenplay import intake
from screenplay.carry import Span

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from review.drafts.models import Draft
    from review.records import Record

FOLDER = Path(__file__).resolve().parent
WITH_LINKS = ("pia", "noor", "wick", "maren")  # the writer, two heads of department, one of the cast
FORMS = uuid.UUID("6f9d3c1e-3c0b-5f5e-9a55-2f1f0d6c7a10")

# How long before now things happened, so that the demo reads like two weeks of work.
FIRST_DRAFT_AGO = timedelta(days=15)
SECOND_DRAFT_AGO = timedelta(days=3)
BETWEEN_NOTES = timedelta(hours=3, minutes=50)
BETWEEN_REPLIES = timedelta(hours=1, minutes=35)
UNTIL_DECIDED = timedelta(hours=9, minutes=20)


class NotEmpty(Exception):  # noqa: N818 - it states what was found
    """The database has people in it; the demo goes into an empty one only."""


class NoSuchPlace(Exception):  # noqa: N818 - it states what was found
    """A note of the demo names words that its draft does not have."""


@dataclass(frozen=True, slots=True)
class DemoPeople:
    """The demo's members by their key in notes.toml."""

    production: Production
    members: dict[str, Member]

    @property
    def writer(self) -> Member:
        return next(member for member in self.members.values() if member.is_writer)

    @property
    def with_links(self) -> list[Member]:
        return [self.members[key] for key in WITH_LINKS]


@transaction.atomic
def load_demo() -> DemoPeople:
    """Put the demo into an empty database, or nothing of it. Raises NotEmpty when there is anybody in it."""
    if Person.objects.exists():
        raise NotEmpty
    script = read_demo()
    people = _gather(script)
    for told, ago in zip(script["drafts"], (FIRST_DRAFT_AGO, SECOND_DRAFT_AGO), strict=True):
        published_at = timezone.now() - ago
        draft = _publish(people.writer, told)
        _date(draft, published_at)
        notes = [note for note in script["notes"] if note["draft"] == draft.number]
        for ordinal, note in enumerate(notes, 1):
            said_at = published_at + ordinal * BETWEEN_NOTES * (0.3 if draft.number > 1 else 1)
            _say(people, draft, note, f"draft {draft.number} note {ordinal}", said_at)
    return people


def read_demo() -> dict[str, Any]:
    """The demo's people and notes, as notes.toml explains them."""
    return tomllib.loads((FOLDER / "notes.toml").read_text(encoding="utf-8"))


def demo_is_loaded() -> bool:
    """Whether this database holds the demo's production."""
    return _loaded_production() is not None


def demo_links() -> Iterator[tuple[str, str]]:
    """For each of the people meant to be tried out, who they are and the token of a new link that signs them in.

    The links work from the server's own machine alone, as often as wanted, for a day.
    """
    emails = {person["key"]: person["email"] for person in read_demo()["people"]}
    for key in WITH_LINKS:
        member = Member.objects.select_related("person", "production").get(
            production=_loaded_production(), person__email=emails[key]
        )
        yield _who(member), _link(member)


def _loaded_production() -> Production | None:
    script = read_demo()
    starter = next(person["email"] for person in script["people"] if person["role"] == Role.WRITER)
    return Production.objects.filter(name=script["production"]["title"], started_by__email=starter).first()


def _who(member: Member) -> str:
    if member.role == Role.CREW:
        return f"{member.name}, head of {member.get_department_display().lower()}"
    return f"{member.name}, {member.get_role_display().lower()}"


@transaction.atomic
def _link(member: Member) -> str:
    token = new_token()
    SignInLink.objects.create(
        person=member.person,
        token_hash=hash_token(token),
        local_only=True,
        single_use=False,
        expires_at=timezone.now() + SIGN_IN_LINK_LASTS,
    )
    log.record(member.person, log.Act.Verb.MADE_SIGN_IN_LINK, member.production, member.public_id, demo=True)
    return token


def _gather(script: dict[str, Any]) -> DemoPeople:
    """The production and everybody in it, the others by the writer's invitation."""
    told = {person["key"]: person for person in script["people"]}
    starter = next(person for person in told.values() if person["role"] == Role.WRITER)
    person = Person.objects.create_user(starter["email"], starter["name"], starts_productions=True)
    production = start_production(person, script["production"]["title"], _form_id("production"))
    writer = Member.objects.get(production=production, person=person)
    writer.department = starter["department"]
    writer.save(update_fields=["department"])
    members = {key: writer if person is starter else _join(writer, person) for key, person in told.items()}
    return DemoPeople(production, members)


def _join(writer: Member, told: dict[str, Any]) -> Member:
    _, token = invite(writer, told["name"], told["role"], told["department"], _form_id(told["key"]))
    accept_invitation(token or "", told["name"], told["email"], None)
    return Member.objects.select_related("person", "production").get(
        production=writer.production, person__email=told["email"]
    )


def _publish(writer: Member, told: dict[str, Any]) -> Draft:
    upload = intake.read_bytes((FOLDER / told["file"]).read_bytes(), told["file"])
    draft, _ = publish_draft(writer, upload, told["label"], told["colour"].lower(), told["file"])
    return draft


def _say(people: DemoPeople, draft: Draft, told: dict[str, Any], name: str, at: datetime) -> None:
    """A note with its replies and its decision."""
    note = leave_note(
        people.members[told["author"]],
        draft,
        place_of(told, source_lines(draft.text)),
        told["kind"],
        told["body"].strip(),
        told.get("wording"),
        told.get("audience", Audience.EVERYONE),
        form_id=_form_id(name),
    )
    _date(note, at)
    for ordinal, answer in enumerate(told.get("replies", []), 1):
        author = people.members[answer["author"]]
        made = reply(author, note, answer["body"].strip(), _form_id(f"{name} reply {ordinal}"))
        _date(made, at + ordinal * BETWEEN_REPLIES)
    if outcome := told.get("decision"):
        _settle(people.writer, note, outcome, told.get("reason", ""), name, at + UNTIL_DECIDED)


def _settle(writer: Member, note: Note, outcome: str, reason: str, name: str, at: datetime) -> None:
    decision = decide(writer, note, outcome, reason.strip(), 0, _form_id(f"{name} decision"))
    _date(decision, min(at, timezone.now() - timedelta(minutes=20)))


def place_of(told: dict[str, Any], lines: Sequence[str]) -> Span:
    """The lines that a note of the demo quotes. Raises NoSuchPlace when the draft does not have them."""
    first = _line(told["from"], lines, 1, told.get("nth", 1))
    last = _line(told["to"], lines, first, 1) if "to" in told else first
    if "words" not in told:
        return Span(first, 0, last, len(lines[last - 1]))
    start = lines[first - 1].find(told["words"])
    if start < 0:
        raise NoSuchPlace(f"Line {first} does not say: {told['words']}")
    return Span(first, start, first, start + len(told["words"]))


def _line(text: str, lines: Sequence[str], start: int, nth: int) -> int:
    """The number of the nth line that reads like this, counted from line `start`."""
    found = [number for number, line in enumerate(lines, 1) if number >= start and line.strip() == text.strip()]
    if len(found) < nth:
        raise NoSuchPlace(f"No such line: {text}")
    return found[nth - 1]


def _date(record: Record, at: datetime) -> None:
    """Set back the moment a record was made. The log keeps the moment that the demo was loaded."""
    type(record).objects.filter(pk=record.pk).update(created_at=at)


def _form_id(name: str) -> uuid.UUID:
    return uuid.uuid5(FORMS, name)
