"""The demo: an invented short film in two drafts, its people and their notes, put in by the acts everybody uses."""

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
from review.access import Role
from review.decisions.acts import decide
from review.demo.papers import put_up_demo_paper
from review.demo.readings import go_through_demo_reading, open_demo_reading
from review.demo.talks import hold_demo_talk
from review.notes.acts import leave_note, reply
from review.notes.lines import source_lines
from review.notes.models import Audience, Subject
from review.notes.then_and_now import NextText
from review.people.acts import accept_invitation, invite, start_production
from review.people.models import SIGN_IN_LINK_LASTS, Member, Person, SignInLink, hash_token, new_token
from review.productions.models import Production
from review.publishing.acts import publish_draft
from review.publishing.answers import preset_answers
from screenplay import Span, intake

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from review.drafts.models import Draft
    from review.records import Record

FOLDER = Path(__file__).resolve().parent
WITH_LINKS = ("pia", "noor", "wick", "maren")  # the writer, two heads of department, one of the cast
FORMS = uuid.UUID("6f9d3c1e-3c0b-5f5e-9a55-2f1f0d6c7a10")

# When things happened, so that the demo reads like two weeks of work: days ago, and times of those days.
BEGUN_DAYS_AGO = 16
PUBLISHED_DAYS_AGO = {1: 15, 2: 3}
PAPER_DAYS_AGO = 9
PUBLISHED_AT = timedelta(hours=10)
READING_OPENED_AFTER = timedelta(minutes=20)
NOTES_A_DAY = 7
FIRST_NOTE_AT = timedelta(hours=9, minutes=10)
BETWEEN_NOTES = timedelta(hours=1, minutes=25)
BETWEEN_REPLIES = timedelta(minutes=35)
FIRST_DECISION_AT = timedelta(hours=20, minutes=5)
BETWEEN_DECISIONS = timedelta(minutes=9)


class NotEmpty(Exception):
    """The database has people in it; the demo goes into an empty one only."""


class NoSuchPlace(Exception):
    """A note of the demo names words that its draft does not have."""


@dataclass(frozen=True, slots=True)
class DemoPeople:
    """The demo's members by their key in notes.toml."""

    production: Production
    members: dict[str, Member]

    @property
    def writer(self) -> Member:
        return next(member for member in self.members.values() if member.is_writer)


@transaction.atomic
def load_demo() -> DemoPeople:
    """Put the demo into an empty database, or nothing of it. Raises NotEmpty when there is anybody in it."""
    if Person.objects.exists():
        raise NotEmpty
    script = read_demo()
    with log.happened_at(_days_ago(BEGUN_DAYS_AGO) + PUBLISHED_AT):
        people = _gather(script)
    for number, told in enumerate(script["drafts"], 1):
        published_at = _days_ago(PUBLISHED_DAYS_AGO[number]) + PUBLISHED_AT
        with log.happened_at(published_at):
            draft = _publish(people.writer, told)
        _date(draft, published_at)
        open_demo_reading(people.writer, people.members, draft, published_at + READING_OPENED_AFTER)
        for ordinal, note in enumerate(note for note in script["notes"] if note["draft"] == draft.number):
            _say(people, draft, note, ordinal)
        go_through_demo_reading(people.writer, people.members, draft, published_at + READING_OPENED_AFTER)
        hold_demo_talk(people.writer, people.members, draft, _days_ago(0))
    put_up_demo_paper(people.writer, people.members, _days_ago(PAPER_DAYS_AGO) + PUBLISHED_AT)
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
    plays = told.get("character", "")
    _, token = invite(writer, told["name"], told["role"], told["department"], _form_id(told["key"]), plays)
    return accept_invitation(token or "", told["name"], told["email"])


def _publish(writer: Member, told: dict[str, Any]) -> Draft:
    upload = intake.read_bytes((FOLDER / told["file"]).read_bytes(), told["file"])
    answers = preset_answers(writer, NextText.of(writer.production, upload.text))
    draft, _ = publish_draft(writer, upload, told["label"], told["colour"], told["file"], answers)
    return draft


def _say(people: DemoPeople, draft: Draft, told: dict[str, Any], ordinal: int) -> None:
    """A note with its replies and, that evening, its decision."""
    name = f"draft {draft.number} note {ordinal}"
    day = _days_ago(PUBLISHED_DAYS_AGO[draft.number] - 1 - ordinal // NOTES_A_DAY)
    said_at = day + FIRST_NOTE_AT + ordinal % NOTES_A_DAY * BETWEEN_NOTES
    with log.happened_at(said_at):
        note = leave_note(
            people.members[told["author"]],
            draft,
            span_of(told, source_lines(draft.text)),
            told["kind"],
            told["body"].strip(),
            told.get("wording"),
            told.get("audience", Audience.EVERYONE),
            subject=told.get("about", Subject.LINES),
            character=told["from"] if told.get("about") == Subject.CHARACTER else "",
            form_id=_form_id(name),
        )
    _date(note, said_at)
    for nth, answer in enumerate(told.get("replies", []), 1):
        author, answered_at = people.members[answer["author"]], said_at + nth * BETWEEN_REPLIES
        with log.happened_at(answered_at):
            made = reply(author, note, answer["body"].strip(), _form_id(f"{name} reply {nth}"))
        _date(made, answered_at)
    if outcome := told.get("decision"):
        reason, decided_at = told.get("reason", "").strip(), day + FIRST_DECISION_AT
        decided_at += ordinal % NOTES_A_DAY * BETWEEN_DECISIONS
        with log.happened_at(decided_at):
            decision = decide(people.writer, note, outcome, reason, 0, _form_id(f"{name} decision"))
        _date(decision, decided_at)


def span_of(told: dict[str, Any], lines: Sequence[str]) -> Span:
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
    """Set back the moment a record was made."""
    record.created_at = at
    record.save(update_fields=["created_at"])


def _days_ago(days: int) -> datetime:
    """The beginning of a day, in the server's own time."""
    today = timezone.localtime().replace(hour=0, minute=0, second=0, microsecond=0)
    return today - timedelta(days=days)


def _form_id(name: str) -> uuid.UUID:
    return uuid.uuid5(FORMS, name)
