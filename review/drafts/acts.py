"""Withdrawing a draft that was put up by mistake, and putting it up again. Each act is one transaction, and logged."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, refuse_elsewhere
from review.drafts.paging import keep_locks
from review.productions.models import lock_for

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member

Verb = log.Act.Verb


@transaction.atomic
def withdraw_draft(by: Member, draft: Draft, reason: str) -> bool:
    """Take a draft off every screen, so that the one before it is current again; whether it stood until now.

    Its number is not given again. Notes left on it go and come back with it; where notes stand in it is kept, and no
    longer counts; what it answers waits again to be written in.
    """
    return _turn(by, draft, Verb.WITHDREW_DRAFT, reason.strip())


@transaction.atomic
def put_up_again(by: Member, draft: Draft) -> bool:
    """Let a withdrawn draft stand again under its number; whether it was withdrawn until now. It is current again where
    no later one is."""
    return _turn(by, draft, Verb.PUT_DRAFT_UP_AGAIN, "")


def _turn(by: Member, draft: Draft, verb: log.Act.Verb, reason: str) -> bool:
    production = lock_for(by, Deed.PUBLISH)
    refuse_elsewhere(by, draft)
    withdraws = verb == Verb.WITHDREW_DRAFT
    draft.refresh_from_db(fields=["withdrawn_at", "withdrawn_by", "withdrawn_because"])
    if withdraws == (draft.withdrawn_at is not None):
        return False
    draft.withdrawn_at = timezone.now() if withdraws else None
    draft.withdrawn_by = by if withdraws else None
    draft.withdrawn_because = reason
    draft.save(update_fields=["withdrawn_at", "withdrawn_by", "withdrawn_because"])
    keep_locks(production)
    log.record(by.person, verb, production, draft.public_id, number=draft.number, reason=reason)
    return True
