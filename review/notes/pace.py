"""How fast one member may write notes and replies: far faster than anybody does, and no faster."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from django.utils import timezone

from review.log import Act

if TYPE_CHECKING:
    from review.people.models import Member

# Generous beside what a hand does, and what a device sends at once that was offline for a while.
MOST = 30
SAID = (Act.Verb.LEFT_NOTE, Act.Verb.REPLIED, Act.Verb.LEFT_PAPER_NOTE, Act.Verb.REPLIED_ON_PAPER)
WITHIN = timedelta(minutes=1)
TOO_FAST = (
    f"That is more than {MOST} notes and replies within a minute, so this one has not gone out. Nothing you typed is "
    "lost: wait a minute, and send it again."
)


class TooFast(Exception):
    """Too many notes and replies came from one member in a short time; the message is for them."""

    def __init__(self) -> None:
        super().__init__(TOO_FAST)


def refuse_haste(author: Member) -> None:
    """Raise TooFast where the member has written as much as anybody may within the last minute."""
    written = Act.objects.filter(
        person=author.person_id,
        verb__in=SAID,
        production=author.production_id,
        at__gt=timezone.now() - WITHIN,
    )
    if written.count() >= MOST:
        raise TooFast
