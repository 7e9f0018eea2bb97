"""Everybody at every address of a house, once: what they got, and what that told of what is kept from most."""

from __future__ import annotations

import uuid
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import timedelta
from itertools import chain
from typing import TYPE_CHECKING, Any, cast
from urllib.parse import urlencode

import pytest
from django.db import transaction
from django.http import QueryDict
from django.urls import reverse
from django.utils import timezone

from review.decisions.acts import decide
from review.drafts.acts import withdraw_draft
from review.notes.acts import reply
from review.notes.models import Audience
from review.talks.acts import When, call_talk
from tests.factories import SCRIPT, make_draft, make_note
from tests.review.house import is_taken_away, outcome_of
from tests.review.who_gets_what import EXPECTED, PARTS, READERS, WRONG_METHOD

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from django.http import HttpResponse

    from tests.review.house import House
    from tests.review.who_gets_what import Outcome

WITHDRAWN = 3  # the number of the draft that was put up and withdrawn
# What stands in nothing but a note for the writer alone, its replies, its decision and its reason; in the draft that
# was withdrawn, and in why it was; and in the working draft.
OF_THE_NOTE, OF_THE_DRAFT, OF_THE_WORKING_DRAFT = {b"frigh"}, {b"Haar.", b"Illegible"}, {b"Sleet."}
WORDS = OF_THE_NOTE | OF_THE_DRAFT | OF_THE_WORKING_DRAFT
QUERIES = (
    {"state": "all", "author": "all", "page": "1", "word": "lamp"},  # what shows the most of notes and lines
    {"since": "1", "character": "NELL", "page": "1"},
)


@dataclass(frozen=True)
class Answer:
    """What somebody got at an address, and which of the words that are kept from most it told."""

    name: str
    address: str
    outcome: Outcome
    is_file: bool
    told: frozenset[bytes]


@dataclass(frozen=True)
class Kept:
    """A note for the writer alone, by the head of department; and a talk with them about the draft withdrawn since."""

    note: str
    talk: str

    def named_by(self, who: str, name: str) -> Iterator[dict[str, Any]]:
        """What else may stand in the parts of an address, and names what is kept."""
        parts = PARTS[name]
        if parts >= {"production", "public_id"} and not name.startswith(("member", "inv")):
            yield {"public_id": self.talk if name.startswith("talk") else self.note}
        if who in READERS and (numbers := parts & {"number", "new"}):
            yield dict.fromkeys(numbers, WITHDRAWN)


@dataclass(frozen=True)
class Walk:
    """What somebody gets: by GET and by an empty POST of each address as it stands in the table; and, if anything is
    kept from them, below the draft that was withdrawn, and where an address names what is kept, or asks for something
    that its page looks for."""

    house: House
    who: str
    kept: Kept
    looked_for: set[str]
    doors: dict[str, tuple[Answer, Answer]] = field(default_factory=dict)
    withdrawn: list[Answer] = field(default_factory=list)
    others: list[Answer] = field(default_factory=list)

    def that_tell(self, words: set[bytes]) -> list[str]:
        """At which addresses one of these words was told."""
        answers = chain(*self.doors.values(), self.withdrawn, self.others)
        return [answer.address for answer in answers if not answer.told.isdisjoint(words)]

    def try_all(self) -> None:
        for name, outcomes in EXPECTED.items():
            sample = self.house.sample(name)
            door = reverse(name, kwargs=sample)
            posted, got = self._get(name, door, "POST"), self._get(name, door)
            self.doors[name] = got, posted
            if self.who == "writer" or outcomes[self.who][0] == WRONG_METHOD:
                continue  # from writers nothing is kept, and at such a door nobody gets as far as a view
            self.others.extend(self._ask(name, door))
            for parts in self.kept.named_by(self.who, name):
                there = reverse(name, kwargs=sample | parts)
                answers = [self._get(name, there), *self._ask(name, there)]
                (self.withdrawn if WITHDRAWN in parts.values() else self.others).extend(answers)

    def _ask(self, name: str, address: str) -> list[Answer]:
        """What they get there for what the page has just looked for."""
        queries = [query for query in QUERIES if not self.looked_for.isdisjoint(query)]
        return [self._get(name, f"{address}?{urlencode(query)}") for query in queries]

    def _get(self, name: str, address: str, method: str = "GET") -> Answer:
        self.looked_for.clear()
        answer = cast("HttpResponse", self.house.tries(self.who, method, address))
        words = WORDS | {self.kept.note.encode()}
        told = frozenset(word for word in words if word in answer.getvalue())
        return Answer(name, address, outcome_of(answer), is_taken_away(answer), told)


def walk_as(who: str, house: House) -> Walk:
    """What somebody gets at every address; whatever they do there is undone, and nothing is left in the house."""
    with transaction.atomic(), looking() as looked_for:
        kept = keep(house)
        walk = Walk(house, who, kept, looked_for)
        walk.try_all()
        transaction.set_rollback(True)
    return walk


def keep(house: House) -> Kept:
    """Put into a house what most may not see."""
    members = house.production.members
    writer, crew = (members.get(person=house.people[who]) for who in ("writer", "crew"))
    note = make_note(crew, house.note.draft, 9, body="The lamp frightens me.", audience=Audience.WRITER)
    reply(crew, note, "Truly frightens.", uuid.uuid4())
    decide(writer, note, "accepted", "Then no lamp, frightful thing.", 0, uuid.uuid4())
    third = make_draft(writer, SCRIPT.replace("Mist.", "Haar."), WITHDRAWN)
    place = {name: getattr(house.note, name) for name in ("first_line", "first_char", "last_line", "last_char")}
    house.note.placements.create(draft=third, fate="kept", **place)
    talk = call_talk(writer, third, [crew], When(timezone.now() + timedelta(days=2), 60, ""), uuid.uuid4())
    withdraw_draft(writer, third, "Illegible typing.")
    scene = house.working.scenes.get(position=1)
    scene.text += "\nSleet.\n"
    scene.save()
    return Kept(note.public_id, talk.public_id)


@contextmanager
def looking() -> Iterator[set[str]]:
    """By which names pages look for something in their addresses and forms meanwhile, until somebody forgets them."""
    names: set[str] = set()

    def noting(look: Callable[..., Any]) -> Callable[..., Any]:
        def noted(query: QueryDict, name: str, *default: Any) -> Any:
            names.add(name)
            return look(query, name, *default)

        return noted

    with pytest.MonkeyPatch.context() as patch:
        for way in ("get", "getlist", "__contains__"):
            patch.setattr(QueryDict, way, noting(getattr(QueryDict, way)))
        yield names
