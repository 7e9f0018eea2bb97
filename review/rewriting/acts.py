"""What a writer does with a working draft as a whole: begin one, put it away, take it up again, take its text away.

Each act is one transaction, with the production locked first.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, refuse_elsewhere
from review.drafts.scripts import read_script
from review.drafts.texts import hash_text
from review.productions.models import lock_for
from review.rewriting.known_lines import origins_at_first, parted_origins
from review.rewriting.models import DownloadedText, WorkingDraft, WorkingIsClosed, WorkingScene
from screenplay.next_draft import texts_by_scene

if TYPE_CHECKING:
    import uuid

    from review.drafts.models import Draft
    from review.people.models import Member


class AnotherIsOpen(Exception):
    """Another working draft is open, and has to be set aside first."""

    def __init__(self, working: WorkingDraft) -> None:
        super().__init__("Another working draft is open.")
        self.working = working


@transaction.atomic
def begin_working(
    by: Member, base: Draft, form_id: uuid.UUID, restored: Draft | None = None, *, set_aside: WorkingDraft | None = None
) -> WorkingDraft:
    """Begin the next draft on `base`, with its text or that of an older draft that is restored.

    Where one is open, that is the one, unless something is to be restored: then the open one is set aside if it is the
    one that `set_aside` names, and AnotherIsOpen is raised if not.
    """
    lock_for(by, Deed.REWRITE)
    refuse_elsewhere(by, base, *([restored] if restored else []))
    if same_form := WorkingDraft.objects.filter(form_id=form_id, production=by.production).first():
        return same_form
    if (found := by.production.working_drafts.open_now()) is not None:
        if restored is None:
            return found
        if found != set_aside:
            raise AnotherIsOpen(found)
        set_aside_working(by, found)
    working = WorkingDraft.objects.create(
        form_id=WorkingDraft.unused(form_id), production=by.production, base=base, restored=restored, begun_by=by
    )
    begun_from = restored or base
    texts = texts_by_scene(read_script(begun_from))
    known = parted_origins(origins_at_first(base, begun_from), texts)
    scenes = zip(texts, known, strict=True)
    working.make_scenes(
        by,
        (
            WorkingScene(working=working, position=position, ordinal=position, text=text, origins=origins.packed())
            for position, (text, origins) in enumerate(scenes)
        ),
    )
    log.record(by.person, log.Act.Verb.BEGAN_WORKING, by.production, working.public_id, draft=begun_from.number)
    return working


@transaction.atomic
def set_aside_working(by: Member, working: WorkingDraft) -> None:
    """Put the working draft away, with all its words, to be taken up again or not. One that is away stays so.

    Raises WorkingIsClosed for one that was published.
    """
    lock_for(by, Deed.REWRITE)
    refuse_elsewhere(by, working)
    working = WorkingDraft.objects.select_related("base").get(pk=working.pk)
    if working.set_aside_at is not None:
        return
    working = working.lock()
    working.set_aside_at = timezone.now()
    working.save(update_fields=["set_aside_at"])
    log.record(by.person, log.Act.Verb.SET_ASIDE_WORKING, by.production, working.public_id, draft=working.base.number)


@transaction.atomic
def take_up_working(by: Member, working: WorkingDraft, *, set_aside: WorkingDraft | None = None) -> WorkingDraft:
    """Go on with a working draft that was set aside; another that is open is set aside for it if it is the one that
    `set_aside` names, and AnotherIsOpen is raised if not. Raises WorkingIsClosed for one that was published."""
    lock_for(by, Deed.REWRITE)
    refuse_elsewhere(by, working)
    found = by.production.working_drafts.open_now()
    if found is not None and found.pk == working.pk:
        return found
    working.refresh_from_db()
    if working.published_as_id is not None:
        raise WorkingIsClosed
    if found is not None:
        if found != set_aside:
            raise AnotherIsOpen(found)
        set_aside_working(by, found)
    working.set_aside_at = None
    working.save(update_fields=["set_aside_at"])
    log.record(by.person, log.Act.Verb.TOOK_UP_WORKING, by.production, working.public_id, draft=working.base.number)
    return working


@transaction.atomic
def take_working_text(by: Member, working: WorkingDraft) -> str:
    """The working text, for a writer to take away; it is kept as what their edited text is merged by later."""
    text = working.lock_for(by).joined_text()
    DownloadedText.objects.update_or_create(
        working=working, sha256=hash_text(text), taken_by=by, defaults={"text": text}
    )
    log.record(by.person, log.Act.Verb.TOOK_WORKING_TEXT, by.production, working.public_id)
    return text
