"""When news becomes a letter: at once, but all of what happens in a row in one; or once a day."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from itertools import groupby
from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from review.mail.models import Letter, MailWish, Pace, PieceOfNews, SendersTurn

if TYPE_CHECKING:
    from collections.abc import Sequence

    from django.db.models import QuerySet

SETTLES = timedelta(minutes=1)  # without another piece of news, before a letter is made of those there are
SETTLES_AT_MOST = timedelta(minutes=10)  # from the first of them on, whatever comes after it
STALE = timedelta(days=7)  # news that waited longer, as while the server sent no mail, is told no more
DAILY_AT = time(7)  # of the server's own time zone


def gather(now: datetime) -> None:
    """Make letters of the news that waits, one for each member whose news is due."""
    if not _waiting().exists():
        return
    with transaction.atomic():
        _take_turn()
        waiting = list(_waiting().order_by("member", "at").only("pk", "at", "member", "production"))
        paces = dict(MailWish.objects.values_list("member", "pace"))
        for member, news in groupby(waiting, key=_of_whom):
            _gather_of(member, list(news), Pace(paces.get(member, Pace.AT_ONCE)), now)


def _waiting() -> QuerySet[PieceOfNews]:
    return PieceOfNews.objects.filter(letter=None, let_go_at=None).exclude(member=None)


def _of_whom(piece: PieceOfNews) -> int:
    assert piece.member_id is not None
    return piece.member_id


def _take_turn() -> None:
    """Wait until nobody else gathers, and keep others from it to the end of the transaction: two who gathered at once
    would part one member's news into two letters."""
    turn, _ = SendersTurn.objects.get_or_create(pk=1)
    SendersTurn.objects.select_for_update().get(pk=turn.pk)


def _gather_of(member: int, news: Sequence[PieceOfNews], pace: Pace, now: datetime) -> None:
    told = PieceOfNews.objects.filter(pk__in=[piece.pk for piece in news])
    if pace == Pace.NONE:
        told.update(let_go_at=now)
        return
    told.filter(at__lt=now - STALE).update(let_go_at=now)
    fresh = [piece for piece in news if piece.at >= now - STALE]
    if fresh and (_has_settled(fresh, now) if pace == Pace.AT_ONCE else _is_the_days(member, fresh, now)):
        letter = Letter.objects.create(production_id=fresh[0].production_id, member_id=member, due_at=now)
        told.filter(let_go_at=None).update(letter=letter)


def _has_settled(news: Sequence[PieceOfNews], now: datetime) -> bool:
    return news[-1].at <= now - SETTLES or news[0].at <= now - SETTLES_AT_MOST


def _is_the_days(member: int, news: Sequence[PieceOfNews], now: datetime) -> bool:
    """Whether any of it is from before this day's letter, which has not been made yet."""
    hour = day_ended(now)
    return news[0].at < hour and not Letter.objects.filter(member_id=member, created_at__gte=hour).exists()


def day_ended(now: datetime) -> datetime:
    """When the latest day ended for those who have their mail once a day."""
    local = timezone.localtime(now)
    hour = timezone.make_aware(datetime.combine(local.date(), DAILY_AT))
    return hour if hour <= now else timezone.make_aware(datetime.combine(local.date() - timedelta(days=1), DAILY_AT))
