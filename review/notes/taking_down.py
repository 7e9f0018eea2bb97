"""Writing down, in a member's name, what they say of a draft when it is talked over."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from review.access import Deed, OfProduction, refuse_elsewhere, refuse_unless
from review.notes.acts import standing_on, store_note
from review.notes.carrying import compare_with_later
from review.notes.lines import check
from review.notes.models import Subject
from review.notes.subjects import whole_subject

if TYPE_CHECKING:
    import uuid

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member
    from screenplay import Span


class Held(OfProduction, Protocol):
    """What is asked of a talk, which is a layer above."""

    @property
    def pk(self) -> int: ...


def take_down(
    by: Member,
    author: Member,
    draft: Draft,
    span: Span,
    kind: str,
    body: str,
    *,
    subject: str = Subject.SCENE,
    form_id: uuid.UUID,
    talk: Held | None = None,
) -> Note:
    """Write down, as a note on a scene of a draft or on lines of it, what a member says of them; the same form sent
    again finds the note.

    It is that member's note, known to be taken down, and in which `talk`, and they are told of it. Raises NoSuchLines
    where the draft does not have the span, or it begins in no scene, and PermissionDenied for whoever may not take
    down, or in the name of somebody who is not here.
    """
    refuse_unless(by, Deed.TALK)
    refuse_elsewhere(by, author, draft, *([talk] if talk else []))
    refuse_unless(author, Deed.NOTE)
    check(draft.text, span)
    span, _ = whole_subject(draft, subject, span)
    said = standing_on(draft, span) | {
        "kind": kind,
        "subject": subject,
        "body": body.strip(),
        "taken_down_by": by,
        "taken_down_in_id": talk.pk if talk else None,
    }
    compare_with_later(draft)
    return store_note(author, form_id, said, by)
