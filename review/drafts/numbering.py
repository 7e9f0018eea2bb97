"""Locking a production's scene numbers, unlocking them, and the numbers that each draft published meanwhile gets.

A published draft keeps the numbers it was published with, whether or not they are locked since: they stand on pages
that people hold. So locking gives the current draft its numbers, once; each draft published under the lock has them
carried on to it; and unlocking changes no draft that is out, but the next one is numbered afresh. Locked again before
there is a next one, the numbers are as they were.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed
from review.drafts.scripts import compare_drafts, read_script
from review.productions.models import Production, lock_for
from screenplay.next_draft import NumberedScene, carry_numbers, first_numbers
from screenplay.script import headings_of

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member

Verb = log.Act.Verb


class NewDraftMeanwhile(Exception):
    """Raised when another draft is current than the one whose numbers somebody saw."""


class PagesAreLocked(Exception):
    """Raised for what would change pages that are locked: they have to be unlocked first."""


@dataclass(frozen=True, slots=True)
class Renumbered:
    """A scene of a locked draft, and the number it would have without the lock; "" for one that would vanish."""

    scene: NumberedScene
    number: str


def numbered_scenes(draft: Draft) -> tuple[NumberedScene, ...]:
    """The scenes by number: those stored with the draft, else those it would have if it were locked now."""
    if draft.scene_numbers is None:
        return first_numbers(read_script(draft))
    return tuple(NumberedScene(**scene) for scene in draft.scene_numbers)


def unlocked_numbers(draft: Draft) -> list[Renumbered]:
    """What unlocking changes for these scenes in a next draft that has them all: those that get another number, and
    those OMITTED now. A scene then has the number in its heading, else its place in the order."""
    headings = headings_of(read_script(draft))
    fresh = [heading.number or str(ordinal) for ordinal, heading in enumerate(headings, 1)]
    told = (Renumbered(each, fresh[each.ordinal - 1] if each.ordinal else "") for each in numbered_scenes(draft))
    return [each for each in told if each.number != each.scene.number]


def numbers_to_come(draft: Draft, latest: Draft | None, production: Production) -> tuple[NumberedScene, ...]:
    """The numbers that a text gets when it is put up after the latest draft: those of that draft carried on, where the
    production's are locked; none where they are not."""
    if production.scene_numbers_locked_at is None:
        return ()
    if latest is None:
        return first_numbers(read_script(draft))
    return carry_numbers(numbered_scenes(latest), compare_drafts(latest, draft))


def number_scenes(draft: Draft, latest: Draft | None, production: Production) -> None:
    """Give a draft that is about to be stored its numbers, carried on from the latest one, where they are locked."""
    if production.scene_numbers_locked_at is not None:
        draft.scene_numbers = _as_json(numbers_to_come(draft, latest, production))


@transaction.atomic
def lock_numbers(by: Member, seen: int) -> bool:
    """Lock the scene numbers as they stand in the current draft; whether they were not locked yet.

    `seen` is the number of the draft whose scene numbers the locker saw. Raises `NewDraftMeanwhile` where another is
    current by now.
    """
    production, draft = current_as_seen(by, seen)
    if production.scene_numbers_locked_at is not None:
        return False
    if draft.scene_numbers is None:
        draft.scene_numbers = _as_json(numbered_scenes(draft))
        draft.save(update_fields=["scene_numbers"])
    production.scene_numbers_locked_at = timezone.now()
    production.save(update_fields=["scene_numbers_locked_at"])
    _record(by, Verb.LOCKED_NUMBERS, production, draft)
    return True


@transaction.atomic
def unlock_numbers(by: Member, seen: int) -> bool:
    """Let the scenes of the next draft be numbered afresh; whether their numbers were locked. `seen` is as above.

    Raises `PagesAreLocked` where the pages are too, which have the numbers on them.
    """
    production, draft = current_as_seen(by, seen)
    if production.scene_numbers_locked_at is None:
        return False
    if production.pages_locked_at is not None:
        raise PagesAreLocked
    production.scene_numbers_locked_at = None
    production.save(update_fields=["scene_numbers_locked_at"])
    _record(by, Verb.UNLOCKED_NUMBERS, production, draft)
    return True


def current_as_seen(by: Member, seen: int) -> tuple[Production, Draft]:
    """The production, locked for the while as it is when a draft is published, and its current draft, the one whose
    number somebody saw: `NewDraftMeanwhile` is raised where it is another by now."""
    production = lock_for(by, Deed.SET_UP)
    draft = production.drafts.current()
    if draft is None or draft.number != seen:
        raise NewDraftMeanwhile
    return production, draft


def _record(by: Member, verb: log.Act.Verb, production: Production, draft: Draft) -> None:
    numbers = [scene["number"] for scene in draft.scene_numbers or []]
    log.record(by.person, verb, production, draft.public_id, number=draft.number, scene_numbers=numbers)


def _as_json(scenes: tuple[NumberedScene, ...]) -> list[dict[str, Any]]:
    return [asdict(scene) for scene in scenes]
