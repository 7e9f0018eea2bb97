"""What notes on a script and notes on a paper have in common: which can be replied to, whom a reply is for, what is
one's own to take back and to put back, and the sentences for whoever may not."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Protocol, TypeVar

from django.core.exceptions import PermissionDenied
from django.db.models import Q
from django.utils import timezone

from review import log
from review.access import Deed, Written, may_join_thread, may_withdraw
from review.productions.models import lock_for

if TYPE_CHECKING:
    from django.db.models import QuerySet

    from review.notes.open_words import OfReaderAlone, OpenNotes
    from review.people.models import Member

AnyNote = TypeVar("AnyNote", bound="OfReaderAlone")

NOT_YOURS = "Only the person who wrote this can change it."
NOT_YOURS_TO_WITHDRAW = "Only the person who wrote this can withdraw it."
NOT_YOURS_TO_PUT_BACK = "Only the person who wrote this can put it back."
READS_ALONE = "Whoever wrote this is reading on their own. It can be replied to once they have finished."
NOT_TO_ANSWER = "Only a note that one can read, and that stands, can be replied to."


class WrittenRecord(Written, Protocol):
    """What is asked of a note or a reply that is taken back or put back."""

    pk: Any
    public_id: Any

    def refresh_from_db(self, *, fields: list[str]) -> None: ...


def note_to_answer(author: Member, note: AnyNote, standing: OpenNotes[AnyNote]) -> AnyNote:
    """A note as it stands, for somebody to reply to; `standing` are those of its sort that stand and that they may
    read. Raises PermissionDenied where it is none of these, or whoever wrote it reads alone."""
    found = standing.telling_who_reads_alone().filter(pk=note.pk).first()
    if found is None:
        raise PermissionDenied(NOT_TO_ANSWER)
    if not may_join_thread(author, found):
        raise PermissionDenied(READS_ALONE)
    return found


def others_in_thread(author: Member, begun_by: int, replies: QuerySet[Any]) -> QuerySet[Member]:
    """Whom somebody replies to: who began the thread, and who has replied in it; `replies` are all that are in it."""
    is_in_it = Q(pk=begun_by) | Q(pk__in=replies.filter(withdrawn_at=None).values("author"))
    return author.production.members.filter(is_in_it, removed_at=None).exclude(pk=author.pk)


def take_back(by: Member, written: WrittenRecord, among: QuerySet[Any], verb: log.Act.Verb) -> None:
    """Take back a note or a reply of one's own, within a transaction of the caller's; again, it changes nothing.

    `among` are the records of its sort. Raises PermissionDenied for whoever did not write it.
    """
    lock_for(by, Deed.NOTE)
    if not may_withdraw(by, written):
        raise PermissionDenied(NOT_YOURS_TO_WITHDRAW)
    if among.filter(pk=written.pk, withdrawn_at=None).update(withdrawn_at=timezone.now()):
        log.record(by.person, verb, by.production, written.public_id)
    written.refresh_from_db(fields=["withdrawn_at"])


def put_back(by: Member, written: WrittenRecord, among: QuerySet[Any], verb: log.Act.Verb) -> None:
    """Put what one took back in its place again, within a transaction of the caller's; again, it changes nothing.

    `among` are the records of its sort that can be put back. Raises PermissionDenied where it is none of these, and for
    whoever did not write it.
    """
    lock_for(by, Deed.NOTE)
    found = among.filter(pk=written.pk)
    if not (may_withdraw(by, written) and found.exists()):
        raise PermissionDenied(NOT_YOURS_TO_PUT_BACK)
    if found.filter(withdrawn_at__isnull=False).update(withdrawn_at=None):
        log.record(by.person, verb, by.production, written.public_id)
    written.refresh_from_db(fields=["withdrawn_at"])
