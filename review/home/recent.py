"""What happened lately in a production, in words, as far as a member may know of it."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby, islice
from typing import TYPE_CHECKING

from review.decisions.models import Outcome
from review.home.where import LinksKnown, where_it_happened
from review.log import Act
from review.news.known_acts import acts_known_to
from review.people.models import Member

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from datetime import datetime

Verb = Act.Verb
OnceOrOften = tuple[str, str]  # of an act done once, and of one done several times
MOST_READ = 120  # entries of the log that are looked at
MOST_SHOWN = 8

IN_WORDS: dict[str, tuple[str, str]] = {
    Verb.STARTED_PRODUCTION: ("started the production", "started the production"),
    Verb.RENAMED_PRODUCTION: ("renamed the production", "renamed the production"),
    Verb.LOCKED_NUMBERS: ("locked the scene numbers", "locked the scene numbers"),
    Verb.UNLOCKED_NUMBERS: ("unlocked the scene numbers", "unlocked the scene numbers"),
    Verb.LOCKED_PAGES: ("locked the pages", "locked the pages"),
    Verb.UNLOCKED_PAGES: ("unlocked the pages", "unlocked the pages"),
    Verb.CHANGED_SETTINGS: ("changed the settings", "changed the settings {n} times"),
    Verb.JOINED: ("joined", "joined"),
    Verb.PUBLISHED_DRAFT: ("put up a draft", "put up {n} drafts"),
    Verb.WITHDREW_DRAFT: ("withdrew a draft", "withdrew {n} drafts"),
    Verb.PUT_DRAFT_UP_AGAIN: ("put a draft up again", "put {n} drafts up again"),
    Verb.OPENED_READING: ("opened a reading", "opened {n} readings"),
    Verb.CLOSED_READING: ("closed a reading", "closed {n} readings"),
    Verb.REOPENED_READING: ("opened a reading again", "opened {n} readings again"),
    Verb.LEFT_NOTE: ("left a note", "left {n} notes"),
    Verb.REPLIED: ("replied to a note", "wrote {n} replies"),
    Verb.DECIDED: ("decided a note", "decided {n} notes"),
    Verb.WROTE_IN: ("wrote in an accepted note", "wrote in {n} accepted notes"),
    Verb.PLACED_NOTE: ("set a note’s place", "set {n} notes’ places"),
    Verb.PUT_UP_PAPER: ("put up a world paper", "put up {n} world papers"),
    Verb.LEFT_PAPER_NOTE: ("left a note on a world paper", "left {n} notes on world papers"),
    Verb.REPLIED_ON_PAPER: ("replied on a world paper", "wrote {n} replies on world papers"),
    Verb.DECIDED_ON_PAPER: ("decided a note on a world paper", "decided {n} notes on world papers"),
}

WITH_NUMBER: dict[str, str] = {
    Verb.PUBLISHED_DRAFT: "put up draft {number}",
    Verb.WITHDREW_DRAFT: "withdrew draft {number}",
    Verb.PUT_DRAFT_UP_AGAIN: "put draft {number} up again",
}
OPENED_AGAIN = ("opened a note again", "opened {n} notes again")
NEXT_VERSION = ("put up a world paper’s next version", "put up {n} next versions of world papers")
# Of these the notes are counted, each once, however often something was done about it.
OF_NOTES = {
    OPENED_AGAIN,
    *(IN_WORDS[verb] for verb in (Verb.DECIDED, Verb.WROTE_IN, Verb.PLACED_NOTE, Verb.DECIDED_ON_PAPER)),
}
UNDONE = ("took a decision back", "took {n} decisions back")


@dataclass(frozen=True, slots=True)
class Happening:
    """What one person did, once or several times in a row; `at` is the last time, and `address` where it can be seen,
    empty where it cannot."""

    who: str
    what: str
    at: datetime
    address: str


def recent_happenings(member: Member) -> list[Happening]:
    """The latest first. A note that the member may not read, its replies and decisions are not betrayed to them."""
    latest = list(acts_known_to(member, IN_WORDS).select_related("person").order_by("-at", "-id")[:MOST_READ])
    known, whose = LinksKnown(member), _whose_notes(member, latest)
    told = [(act, _in_words(act, whose)) for act in latest]
    rows = (_together(known, list(group)) for _, group in groupby(told, key=_sort))
    return list(islice(rows, MOST_SHOWN))


def _whose_notes(member: Member, acts: Sequence[Act]) -> dict[str, str]:
    """In whose name notes were taken down, by the public ids that the log has; one query where any was."""
    named = {act.details["in_name_of"] for act in acts if "in_name_of" in act.details}
    authors = Member.objects.filter(public_id__in=named).select_related("person") if named else ()
    return {each.public_id: "yours" if each == member else f"{each.name}’s" for each in authors}


def _sort(told: tuple[Act, OnceOrOften]) -> tuple[int, OnceOrOften]:
    """Acts of one person and one sort in a row are told as one."""
    act, words = told
    return act.person_id, words


def _in_words(act: Act, whose: Mapping[str, str]) -> OnceOrOften:
    if act.verb == Verb.LEFT_NOTE and (author := whose.get(act.details.get("in_name_of", ""))):
        return f"took down a note of {author}", f"took down {{n}} notes of {author}"
    if act.verb == Verb.DECIDED and "undoes" in act.details:
        return UNDONE
    if act.verb == Verb.DECIDED and act.details.get("outcome") == Outcome.REOPENED:
        return OPENED_AGAIN
    if act.verb == Verb.PUT_UP_PAPER and act.details.get("version", 1) > 1:
        return NEXT_VERSION
    return IN_WORDS[act.verb]


def _together(known: LinksKnown, told: Sequence[tuple[Act, OnceOrOften]]) -> Happening:
    latest, (once, often) = told[0]
    times = len({act.about for act, _ in told}) if (once, often) in OF_NOTES else len(told)
    what = often.replace("{n}", str(times), 1) if times > 1 else once
    if latest.verb in WITH_NUMBER and times == 1:
        what = WITH_NUMBER[latest.verb].format(number=latest.details.get("number", ""))
    address = where_it_happened(known, latest, times)
    return Happening(who=latest.person.name, what=what, at=latest.at, address=address)
