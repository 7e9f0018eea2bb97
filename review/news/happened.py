"""What others did since a moment, as an open page is told of it: in words enough to fetch what is new."""

from __future__ import annotations

import hashlib
import json
from dataclasses import asdict, dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from django.db.models import OuterRef, Subquery
from django.utils.crypto import salted_hmac

from review.log import Act
from review.news.known_acts import FOR_WRITERS, OF_NOTES, OF_REPLIES, acts_known_to
from review.notes.models import Reply
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


@dataclass(frozen=True, slots=True)
class Happened:
    """One act: a `key` that no other has, its sort, and whether it is the member's own. `note` is the public id of the
    note that it is about, `draft` the number of the draft; of others there is none."""

    key: str
    sort: str
    is_own: bool
    note: str | None = None
    draft: int | None = None


@dataclass(frozen=True, slots=True)
class News:
    """What happened since a moment, the latest first, and who is at the same page; `is_more` says that the oldest of it
    are left out. `scenes_read` is how many scenes the readers read, which a writer alone may know."""

    happened: tuple[Happened, ...]
    is_more: bool
    scenes_read: int
    here: tuple[str, ...]

    def told(self, since: int) -> dict[str, object]:
        """All of it for the script of the page, with the moment that it is told from, in milliseconds."""
        return asdict(self) | {"since": since}

    @property
    def etag(self) -> str:
        said = json.dumps(asdict(self), sort_keys=True)
        return f'"{hashlib.blake2b(said.encode(), digest_size=12).hexdigest()}"'


def news_for(member: Member, since: datetime, here: Iterable[str] = ()) -> News:
    """What a member may know of what happened since then; one query, or two for a writer, however much it is."""
    about_reply = Reply.objects.filter(public_id=OuterRef("about")).order_by().values("note__public_id")
    acts = acts_known_to(member, SORT_OF).filter(at__gt=since).annotate(reply_to=Subquery(about_reply))
    latest = list(acts.order_by("-id")[: MOST + 1])
    return News(
        happened=tuple(_told(act, member) for act in latest[:MOST]),
        is_more=len(latest) > MOST,
        scenes_read=scenes_read(member.production_id, since).count() if member.is_writer else 0,
        here=tuple(here),
    )


def scenes_read(production_id: int, since: datetime) -> QuerySet[SceneRead]:
    """The scenes that readers of the production read since then: reading on is no act, and in no log."""
    return SceneRead.objects.filter(read_at__gt=since, reader__reading__production_id=production_id).order_by()


def _told(act: Act, member: Member) -> Happened:
    note = act.about if act.verb in OF_NOTES else vars(act)["reply_to"] if act.verb in OF_REPLIES else None
    sort = SORT_OF[act.verb]
    return Happened(
        key=_key_of(act),
        sort=sort,
        is_own=act.person_id == member.person_id,
        note=note,
        draft=act.details.get("number") if sort in {DRAFT, DRAFT_WITHDRAWN} else None,
    )


def _key_of(act: Act) -> str:
    """A name for an act that says nothing of how many there were before it: its number would."""
    return salted_hmac("review.news", str(act.pk)).hexdigest()[:12]
