"""Publishing the working draft: its text becomes the production's next draft, and the working draft is closed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction

from review.access import Deed, refuse_unless
from review.drafts.texts import hash_text
from review.notes.carrying import compared_beforehand
from review.notes.then_and_now import unpublished
from review.productions.models import lock_production
from review.publishing.acts import publish_draft
from review.rewriting.acts import WorkingIsClosed, lock_working, working_text
from screenplay.intake import read_text

if TYPE_CHECKING:
    from collections.abc import Mapping

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.rewriting.models import WorkingDraft


class TextChangedMeanwhile(Exception):  # noqa: N818 - it states what happened
    """The working text is not the one that the writer was asked about."""


class NothingNew(Exception):  # noqa: N818 - it states what was found
    """The current draft, `draft`, has this very text."""

    def __init__(self, draft: Draft) -> None:
        super().__init__(f"This is the very text of draft {draft.number}.")
        self.draft = draft


def publish_working(
    by: Member, working: WorkingDraft, label: str, colour: str, answers: Mapping[int, bool], seen: str
) -> Draft:
    """Publish the working text, and write in the notes that it answers. Doing it again finds the draft it became.

    `seen` is the SHA-256 of the text that the writer was asked about: TextChangedMeanwhile is raised when it reads
    otherwise by now. Raises NothingNew, WorkingIsClosed for one that was set aside, and screenplay.intake's Unreadable;
    nothing is stored then.
    """
    refuse_unless(by, Deed.PUBLISH)
    compared_beforehand(unpublished(by.production, working_text(working)))  # kept, so that the lock is held briefly
    return _publish(by, working, label, colour, answers, seen)


@transaction.atomic
def _publish(
    by: Member, working: WorkingDraft, label: str, colour: str, answers: Mapping[int, bool], seen: str
) -> Draft:
    # Whoever begins or restores a draft locks the production first and its working draft then.
    lock_production(by.production_id)
    try:
        working = lock_working(working)
    except WorkingIsClosed:
        working.refresh_from_db()
        if working.published_as is None:
            raise
        return working.published_as
    text = working_text(working)
    if hash_text(text) != seen:
        raise TextChangedMeanwhile
    draft, is_new = publish_draft(by, read_text(text), label, colour, answers=answers, again=True)
    if not is_new:
        raise NothingNew(draft)
    working.published_as = draft
    working.save(update_fields=["published_as"])
    return draft
