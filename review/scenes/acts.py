"""What members do with the scenes of a draft: take the breakdown away, mark words, set story days, put scenes in
order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, refuse_elsewhere, refuse_unless
from review.productions.models import lock_for
from review.scenes.models import DepartmentMark, HandOrder, StoryDay
from review.scenes.said_of_scenes import set_days
from review.scenes.tables import as_csv, as_spreadsheet

if TYPE_CHECKING:
    import uuid
    from collections.abc import Mapping, Sequence

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.scenes.breakdown import BreakdownRow

Verb = log.Act.Verb


def take_breakdown(member: Member, draft: Draft, rows: Sequence[BreakdownRow], ending: str) -> bytes:
    """Rows of the draft's breakdown as a file: "csv" or "xlsx"."""
    refuse_unless(member, Deed.READ)
    refuse_elsewhere(member, draft)
    data = as_csv(rows) if ending == "csv" else as_spreadsheet(rows, f"{draft.production.name}: {draft}")
    told = {"number": draft.number, "as": ending, "scenes": len(rows)}
    log.record(member.person, Verb.TOOK_BREAKDOWN, draft.production, draft.public_id, **told)
    return data


@transaction.atomic
def mark_word(by: Member, words: str, department: str, form_id: uuid.UUID) -> DepartmentMark:
    """Mark words for a department. The same form sent again, and words that it has marked, find the mark that
    stands."""
    production = lock_for(by, Deed.MARK)
    words = " ".join(words.split())
    before = DepartmentMark.objects.filter(form_id=form_id, made_by=by).first()
    same = production.marks.filter(words__iexact=words, department=department, withdrawn_at=None).first()
    if standing := before or same:
        return standing
    mark = DepartmentMark.objects.create(
        form_id=form_id, production=production, made_by=by, words=words, department=department
    )
    log.record(by.person, Verb.MARKED_WORD, production, mark.public_id, words=words, department=department)
    return mark


@transaction.atomic
def withdraw_mark(by: Member, mark: DepartmentMark) -> None:
    """Take a mark back; it is kept."""
    production = lock_for(by, Deed.MARK)
    refuse_elsewhere(by, mark)
    mark.refresh_from_db(fields=["withdrawn_at"])
    if mark.withdrawn_at is None:
        mark.withdrawn_at = timezone.now()
        mark.save(update_fields=["withdrawn_at"])
        log.record(by.person, Verb.WITHDREW_MARK, production, mark.public_id, words=mark.words)


@transaction.atomic
def set_story_days(by: Member, draft: Draft, days: Mapping[int, int | None]) -> int:
    """Set the story days of scenes of a draft, by ordinal, None for as proposed; how many that changed."""
    production = lock_for(by, Deed.REWRITE)
    refuse_elsewhere(by, draft)
    standing = set_days(draft)
    changed = {scene: day for scene, day in days.items() if standing.get(scene) != day}
    StoryDay.objects.bulk_create(
        StoryDay(production=production, draft=draft, set_by=by, scene=scene, day=day) for scene, day in changed.items()
    )
    if changed:
        told = {"number": draft.number, "days": {str(scene): day for scene, day in changed.items()}}
        log.record(by.person, Verb.SET_STORY_DAYS, production, draft.public_id, **told)
    return len(changed)


@transaction.atomic
def put_in_order(by: Member, draft: Draft, scenes: Sequence[int]) -> None:
    """Put the scenes of a draft in an order, by ordinal; none for the one that is proposed."""
    production = lock_for(by, Deed.MARK)
    refuse_elsewhere(by, draft)
    HandOrder.objects.create(production=production, draft=draft, made_by=by, scenes=list(scenes))
    log.record(by.person, Verb.ORDERED_SCENES, production, draft.public_id, number=draft.number)
