"""From which lines of one draft those of another are known to come, through the drafts that each was written from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.drafts.models import Draft
from screenplay.comparing import LineOrigins

if TYPE_CHECKING:
    from collections.abc import Mapping


def known_origins(new: Draft, old: Draft) -> LineOrigins | None:
    """From which lines of `old` those of `new`, stored or not, are known to come; None where nothing is known.

    It is of one that was written from `old`, in however many steps, and of two that were written from one draft, as
    where one was withdrawn and another written in its place. At most one query, and none where `new` was written
    straight from `old`, or from no draft.
    """
    if new.line_origins is None or old.pk is None:
        return None
    if new.written_from_id == old.pk:
        return LineOrigins.unpacked(new.line_origins)
    known = Draft.objects.filter(production_id=new.production_id).exclude(line_origins=None)
    drafts = {draft.pk: draft for draft in known.only("written_from", "line_origins")}
    mine, theirs = _by_forebear(new, drafts), _by_forebear(old, drafts)
    if old.pk in mine:
        return mine[old.pk]
    shared = next((forebear for forebear in mine if forebear in theirs), None)
    return None if shared is None else mine[shared].told_of_kin(theirs[shared])


def _by_forebear(draft: Draft, drafts: Mapping[int, Draft]) -> dict[int, LineOrigins]:
    """The origins of a draft's lines in each draft that it was written from, the one before it first."""
    found: dict[int, LineOrigins] = {}
    known: LineOrigins | None = None
    step: Draft | None = draft
    while step is not None and step.line_origins is not None and step.written_from_id is not None:
        before = LineOrigins.unpacked(step.line_origins)
        known = before if known is None else before.then(known)
        found[step.written_from_id] = known
        step = drafts.get(step.written_from_id)
    return found
