"""Who is at a page of the script now, as far as somebody else may know: whoever reads alone neither sees the others
there nor is seen. It tells who is there, and never since when."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from django.db.models import Exists, F, OuterRef, Subquery, Sum
from django.db.models.functions import Now

from review.drafts.visits import Visit
from review.readers.models import Reader

if TYPE_CHECKING:
    from django.db.models import QuerySet

    from review.people.models import Member

PRESENT_FOR = timedelta(minutes=3)  # since a page last said where its reader is, which it does every two


@dataclass(frozen=True, slots=True)
class PageInView:
    """A page of the script on somebody's screen: the number of its draft, and its first and last source line."""

    draft: int
    first_line: int
    last_line: int


def visits_at(page: PageInView, production_id: int, but_of: int) -> QuerySet[Visit]:
    """The visits of those who are at the page now, but for one member's, by their key."""
    return Visit.objects.filter(
        draft__production_id=production_id,
        draft__number=page.draft,
        line__range=(page.first_line, page.last_line),
        last_at__gt=Now() - PRESENT_FOR,
    ).exclude(member_id=but_of)


def stirred(visits: QuerySet[Visit]) -> Subquery:
    """A figure that is another as soon as somebody comes to a page or leaves it; NULL where nobody is."""
    by_page = visits.order_by().values("draft__production_id")
    return Subquery(by_page.annotate(stirred=Sum(F("member_id") * F("member_id"))).values("stirred"))


def names_at(page: PageInView, member: Member) -> list[str]:
    """The names of those who are at the page now, beside the member, who does not read alone; one query."""
    alone = Reader.objects.reading_alone().filter(member=OuterRef("member"))
    there = visits_at(page, member.production_id, member.pk).filter(~Exists(alone), member__removed_at=None)
    return list(there.order_by("member__person__name").values_list("member__person__name", flat=True))
