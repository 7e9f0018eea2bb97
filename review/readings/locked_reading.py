"""What acts on readings begin with: the reading as it stands, locked, and the scene that something is said of."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.access import Deed, refuse_elsewhere
from review.productions.models import lock_for
from review.readers.models import Reading
from review.readings.progress import scene_count

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member


class NoSuchScene(LookupError):
    """The draft has no scene of this ordinal."""


def lock_reading(by: Member, reading: Reading) -> Reading:
    """The reading as it stands now, for a writer. Raises PermissionDenied for one of another production."""
    lock_for(by, Deed.ASK_FOR_READING)
    refuse_elsewhere(by, reading)
    return Reading.objects.select_related("draft__production").get(pk=reading.pk)


def refuse_no_scene(draft: Draft, ordinal: int) -> None:
    """Raise NoSuchScene unless the draft has a scene of this ordinal."""
    if not 1 <= ordinal <= scene_count(draft):
        raise NoSuchScene(f"The draft has no scene {ordinal}.")
