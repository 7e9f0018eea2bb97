"""What a member takes away of a breakdown, each time kept in the log."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review import log
from review.access import Deed, refuse_elsewhere, refuse_unless
from review.scenes.tables import as_csv, as_spreadsheet

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.scenes.breakdown import SceneRow


def take_breakdown(member: Member, draft: Draft, rows: Sequence[SceneRow], ending: str) -> bytes:
    """Rows of the draft's breakdown as a file: "csv" or "xlsx"."""
    refuse_unless(member, Deed.READ)
    refuse_elsewhere(member, draft)
    data = as_csv(rows) if ending == "csv" else as_spreadsheet(rows, f"{draft.production.name}: {draft}")
    told = {"number": draft.number, "as": ending, "scenes": len(rows)}
    log.record(member.person, log.Act.Verb.TOOK_BREAKDOWN, draft.production, draft.public_id, **told)
    return data
