"""What members do with notes as files: take them away, each time kept in the log."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review import log
from review.access import Deed, may, refuse_elsewhere, refuse_unless
from review.exchange.annotations import as_json_ld
from review.exchange.note_table import as_csv
from review.exchange.noted_source import as_fountain
from review.exchange.taken_notes import taken_notes

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.exchange.taken_notes import WhichNotes
    from review.people.models import Member

CSV, FOUNTAIN, JSON = "csv", "fountain", "json"


def take_notes(member: Member, draft: Draft, form: str, choice: WhichNotes) -> bytes:
    """The notes on a draft that the member may read, as "csv", as "json" or as "fountain"; the last has the draft's own
    source in it, and so is for those who put drafts up."""
    refuse_unless(member, Deed.PUBLISH if form == FOUNTAIN else Deed.READ)
    refuse_elsewhere(member, draft)
    taken = taken_notes(member, draft, choice)
    if form == CSV:
        file = as_csv(taken)
    elif form == FOUNTAIN:
        file = as_fountain(taken)
    else:
        file = as_json_ld(taken, shows_all=may(member, Deed.PUBLISH))
    told = {"number": draft.number, "as": form, "notes": len(taken.cards), "for_writers": choice.for_writers_too}
    log.record(member.person, log.Act.Verb.TOOK_NOTES, draft.production, draft.public_id, **told)
    return file
