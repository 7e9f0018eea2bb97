"""Which of what members said, on a draft or on a paper, stands open to whom: one rule for both."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Self, TypeVar

from django.db import models
from django.db.models import Exists, OuterRef, Q

from review.access import Role
from review.readers.models import Reader

if TYPE_CHECKING:
    from review.people.models import Member

R = TypeVar("R", bound=models.Model)


class OpenNotes(models.QuerySet[R]):
    """Notes, each with an `author`. `for_all` are those that were left for everyone; `said_here` those that their
    author said, and did not only bring in."""

    for_all: ClassVar[Q]
    said_here: ClassVar[Q] = Q()

    def open_to(self, member: Member) -> Self:
        """Of notes that there are for a member, those that they may read: a writer all; one for the writer, else only
        who wrote it; and of others' none, for whoever reads alone."""
        if member.is_writer:
            return self
        own = Q(self.said_here, author=member)
        return self.filter(own | Q(self.for_all, ~Exists(Reader.objects.alone_as(member))))

    def telling_who_reads_alone(self) -> Self:
        """The same notes, each with `author_reads_alone`."""
        alone = Reader.objects.reading_alone().filter(member=OuterRef("author"))
        return self.annotate(is_authors_reading_blind=Exists(alone))


class OpenReplies(models.QuerySet[R]):
    """Replies, each with an `author`; `said_here` as above."""

    said_here: ClassVar[Q] = Q()

    def open_to(self, member: Member) -> Self:
        """Of replies under notes that a member may read, those that they may read: whoever reads alone finds their own
        there, and a writer's."""
        if member.is_writer:
            return self
        own = Q(author=member) | Q(author__role=Role.WRITER)
        return self.filter(Q(own, self.said_here) | ~Exists(Reader.objects.alone_as(member)))

    def last_word_of(self, member: Member, body: str) -> Self:
        """Of the replies under one note that a member may read: the last that stands, where they said it, in these
        words. Once somebody else has said something, the same words say something new."""
        last = self.filter(withdrawn_at=None).order_by("-pk")[:1]
        return self.filter(self.said_here, pk__in=last.values("pk"), author=member, body=body)


class OfReaderAlone(models.Model):
    """A note that can tell whether its author reads alone."""

    author_id: int

    class Meta:
        abstract = True

    @property
    def author_reads_alone(self) -> bool:
        """Whether its author reads alone for now: told of notes that `telling_who_reads_alone` asked for."""
        told: bool = vars(self)["is_authors_reading_blind"]
        return told
