"""What a note, or a reply, that was brought in from a file keeps of where it came from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models

from review.records import PostedRecord

if TYPE_CHECKING:
    from review.people.models import Member

MOST_IRI = 500  # characters
MOST_SAID_BY = 80


class SaidRecord(PostedRecord):
    """Something that somebody said: here, or where the file came from that it was brought in with.

    Of what was brought in, `iri` is what it is known by outside, `brought_by` who brought it and `said_at` when it was
    said there. `said_by` is the name of whoever said it, where they are no member: then its `author` is who brought it,
    and its words are nobody's to change.
    """

    author: models.ForeignKey[Member, Member]  # each of the two has its own, by which their author finds it
    author_id: int
    iri = models.CharField(max_length=MOST_IRI, blank=True)
    said_by = models.CharField(max_length=MOST_SAID_BY, blank=True)
    said_at = models.DateTimeField(null=True, blank=True)
    brought_by = models.ForeignKey(
        "review.Member", on_delete=models.PROTECT, null=True, blank=True, related_name="%(class)ss_brought_in"
    )

    class Meta(PostedRecord.Meta):
        abstract = True

    def is_of(self, member: Member) -> bool:
        """Whether the member said it, and did not only bring it in for somebody who is none."""
        return self.author_id == member.pk and not self.said_by

    @property
    def author_name(self) -> str:
        """Who said it."""
        return self.said_by or self.author.name

    @property
    def author_department(self) -> str:
        """The department of whoever said it; empty where they are no member."""
        return "" if self.said_by else str(self.author.get_department_display())
