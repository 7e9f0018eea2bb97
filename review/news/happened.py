"""What others did since a moment, as an open page is told of it: in words enough to fetch what is new."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from django.db.models import OuterRef, Subquery
from django.utils.crypto import salted_hmac

from review.kept import MIB, Store
from review.log import Act
from review.news.known_acts import FOR_WRITERS, OF_NOTES, OF_REPLIES, acts_known_to
from review.notes.models import Note, Reply
from review.readings.models import SceneRead

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime

    from django.db.models import QuerySet

    from review.people.models import Member

Verb = Act.Verb
# An act has the moment at which it was recorded, and is seen when its transaction ends: none lasts so long.
OVERLAP = timedelta(minutes=3)
MOST = 100
KEY_LENGTH = 12

NOTE, REPLY, DECISION, CHANGE, WITHDRAWAL, DRAFT, DRAFT_WITHDRAWN, READING = (
    "note",
    "reply",
    "decision",
    "change",
    "withdrawal",
    "draft",
    "draft withdrawn",
    "reading",
)
SORT_OF: dict[str, str] = {
    Verb.LEFT_NOTE: NOTE,
    Verb.PUT_NOTE_BACK: NOTE,
    Verb.REPLIED: REPLY,
    Verb.DECIDED: DECISION,
    Verb.WROTE_IN: DECISION,
    Verb.CHANGED_NOTE: CHANGE,
    Verb.CORRECTED_NOTE: CHANGE,
    Verb.PLACED_NOTE: CHANGE,
    Verb.TOOK_WORDING: CHANGE,
    Verb.TOOK_OUT_WORDING: CHANGE,
    Verb.WITHDREW_NOTE: WITHDRAWAL,
    Verb.WITHDREW_REPLY: CHANGE,
    Verb.PUBLISHED_DRAFT: DRAFT,
    Verb.PUT_DRAFT_UP_AGAIN: DRAFT,
    Verb.WITHDREW_DRAFT: DRAFT_WITHDRAWN,
    Verb.OPENED_READING: READING,
    Verb.CLOSED_READING: READING,
    Verb.REOPENED_READING: READING,
    **dict.fromkeys(FOR_WRITERS, READING),
}


LATEST = Store(8 * MIB)
WEIGHT = 300  # bytes of an act that is kept, and of the key, as measured


@dataclass(frozen=True, slots=True)
class Happened:
    """One act: a `key` that no other has, its sort, and the key of the person who did it. `note` is the public id of
    the note that it is about, `draft` the number of the draft; of others there is none."""

    key: str
    sort: str
    person: int
    note: str | None = None
    draft: int | None = None

    def told_to(self, person: int) -> dict[str, object]:
        """The act for the script of the page: of whose it is, whether it is one's own alone."""
        is_own = self.person == person
        return {"key": self.key, "sort": self.sort, "is_own": is_own, "note": self.note, "draft": self.draft}


@dataclass(frozen=True, slots=True)
class News:
    """What happened since a moment, the latest first, and who is at the same page; `is_more` says that the oldest of it
    are left out. `scenes_read` is how many scenes the readers read, which a writer alone may know."""

    happened: tuple[Happened, ...]
    is_more: bool
    scenes_read: int
    here: tuple[str, ...]

    def told_to(self, person: int, since: int) -> dict[str, object]:
        """All of it for the script of a person's page, with the moment to ask from the next time, in milliseconds."""
        return {
            "happened": [act.told_to(person) for act in self.happened],
            "is_more": self.is_more,
            "scenes_read": self.scenes_read,
            "here": self.here,
            "since": since,
        }

    def notes_of_others(self, person: int, after: str) -> list[str]:
        """The notes that acts of others than a person were about, each once, of what happened after an act; of all of
        it where that act is not among it. Acts are in the order in which they came to be seen: each locks its
        production before it is recorded."""
        keys = [act.key for act in self.happened]
        later = self.happened[: keys.index(after)] if after in keys else self.happened
        return list(dict.fromkeys(act.note for act in later if act.note is not None and act.person != person))

    @property
    def etag(self) -> str:
        """Of what is told of an act, its key says all."""
        said = repr(([act.key for act in self.happened], self.is_more, self.scenes_read, self.here))
        return f'"{hashlib.blake2b(said.encode(), digest_size=12).hexdigest()}"'


def news_for(member: Member, since: datetime, acts: int | None, here: Iterable[str] = (), *, reads_alone: bool) -> News:
    """What a member may know of what happened since then; three queries, or four for a writer, however much it is.

    `acts` is how many acts of anybody there were since then, as looked up just before; None where that is not known.
    """
    latest = _latest(member, since, acts, reads_alone=reads_alone)
    return News(
        happened=latest[:MOST],
        is_more=len(latest) > MOST,
        scenes_read=scenes_read(member.production_id, since).count() if member.is_writer else 0,
        here=tuple(here),
    )


def scenes_read(production_id: int, since: datetime) -> QuerySet[SceneRead]:
    """The scenes that readers of the production read since then: reading on is no act, and in no log."""
    return SceneRead.objects.filter(read_at__gt=since, reader__reading__production_id=production_id).order_by()


def _latest(member: Member, since: datetime, acts: int | None, *, reads_alone: bool) -> tuple[Happened, ...]:
    """The latest acts that a member may know of, one more than is told.

    What others may know of is asked for once for all of them, by whoever comes first. It is kept by how many acts there
    were: whatever opens a note to somebody, or shuts it, is an act itself. What whoever came first leaves for the
    writer's eyes only in this very moment is not among it.
    """
    if acts == 0:
        return ()
    if acts is None or reads_alone or not Note.objects.seen_as_by_all(member):
        return _looked_up(member, since)
    key = (member.production.public_id, member.is_writer, since, acts)
    kept = LATEST.find(key)
    if not isinstance(kept, tuple):
        kept = _looked_up(member, since, with_own=False)
        LATEST.keep(key, kept, WEIGHT * (1 + len(kept)))
    return kept


def _looked_up(member: Member, since: datetime, *, with_own: bool = True) -> tuple[Happened, ...]:
    about_reply = Reply.objects.filter(public_id=OuterRef("about")).order_by().values("note__public_id")
    acts = acts_known_to(member, SORT_OF, with_own=with_own).filter(at__gt=since)
    told = acts.annotate(reply_to=Subquery(about_reply))
    return tuple(_happened(act) for act in told.order_by("-id")[: MOST + 1])


def _happened(act: Act) -> Happened:
    note = act.about if act.verb in OF_NOTES else vars(act)["reply_to"] if act.verb in OF_REPLIES else None
    sort = SORT_OF[act.verb]
    number = act.details.get("number") if sort in {DRAFT, DRAFT_WITHDRAWN} else None
    return Happened(_key_of(act), sort, act.person_id, note, number)


def _key_of(act: Act) -> str:
    """A name for an act that says nothing of how many there were before it: its number would."""
    return salted_hmac("review.news", str(act.pk)).hexdigest()[:KEY_LENGTH]
