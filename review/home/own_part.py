"""Which part of a draft is a member's own, and who can set right a name under which nobody speaks there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.access import Role
from review.drafts.scripts import read_script
from review.people.models import Member
from screenplay.fountain import same_name
from screenplay.script import characters_of

if TYPE_CHECKING:
    from review.drafts.models import Draft


@dataclass(frozen=True, slots=True)
class OwnPart:
    """The character whom somebody plays, by the name that they have in the draft, "" where nobody speaks there under
    it; then who can say whom they play, and whether their change sheet is that of the whole cast meanwhile."""

    name: str
    menders: str = ""
    has_sheet_of_all: bool = False


def own_part(member: Member, draft: Draft, before: Draft | None) -> OwnPart | None:
    """The part of whoever plays somebody, in a draft that followed the one before; None of anybody else."""
    if not member.plays:
        return None
    if name := _spoken_in(draft, member.plays):
        return OwnPart(name)
    writers = Member.objects.filter(production=member.production, role=Role.WRITER, removed_at=None)
    names = [each.name for each in writers.select_related("person")]
    return OwnPart("", " or ".join(names), before is not None and not _spoken_in(before, member.plays))


def _spoken_in(draft: Draft, name: str) -> str:
    """The name as a draft's cues have it; "" where nobody speaks there under it."""
    names = (one.name for one in characters_of(read_script(draft)))
    return next((each for each in names if same_name(each) == same_name(name)), "")
