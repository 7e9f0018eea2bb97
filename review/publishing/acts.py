"""Publishing a draft, from a text that comes in or from the working draft, and saying which notes it answers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction

from review import log
from review.access import Deed, refuse_elsewhere, refuse_unless
from review.drafts.found_lines import index_draft
from review.drafts.numbering import NewDraftMeanwhile
from review.drafts.paging import carry_locks
from review.drafts.scripts import read_script
from review.drafts.texts import hash_text
from review.mail.acts import tell_by_mail
from review.mail.models import Occasion
from review.making.progress import tell
from review.notes.carrying import carry_notes, compared_beforehand
from review.notes.then_and_now import NextText
from review.productions.models import lock_for
from review.publishing.answers import write_in
from review.publishing.models import HeldDraft
from review.rewriting.current_text import CurrentText
from review.rewriting.models import WorkingIsClosed
from screenplay.intake import read_text, refuse_more_than_a_script

if TYPE_CHECKING:
    from collections.abc import Mapping

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.rewriting.models import WorkingDraft
    from screenplay.comparing import Comparison
    from screenplay.intake import Intake

CARRIED = "It is put up, and the notes are carried to it"
MOST_FILENAME = 200  # characters, as the record holds


class TextChangedMeanwhile(Exception):
    """The working text is not the one that the writer was asked about."""


class LetGoMeanwhile(Exception):
    """The text that was to be put up is held no longer."""


class NothingNew(Exception):
    """The current draft, `draft`, has this very text."""

    def __init__(self, draft: Draft) -> None:
        super().__init__(f"This is the very text of draft {draft.number}.")
        self.draft = draft


def publish_draft(
    by: Member,
    intake: Intake,
    label: str = "",
    colour: str = "",
    filename: str = "",
    answers: Mapping[int, bool] | None = None,
    *,
    again: bool = False,
) -> tuple[Draft, bool]:
    """Publish a text as the production's next draft, and carry every note to it.

    `answers` say by the key of a decision whether the draft answers the note that it accepted.

    The text of the current draft, whatever its line ends, is stored no second time: that draft comes back, with False.
    So does an earlier draft with the text, unless `again` says that the production goes back to it.
    """
    refuse_unless(by, Deed.PUBLISH)
    draft = NextText.of(by.production, intake.text).draft
    _label(draft, by, intake, label, colour, filename)
    return _publish(NextText(draft), compared_beforehand(draft), answers or {}, again=again)


def _label(draft: Draft, by: Member, intake: Intake, label: str, colour: str, filename: str = "") -> None:
    """Say of a draft what its text does not: how that came, who puts it up, and what it is called."""
    draft.text, draft.sha256 = intake.text, hash_text(intake.text)
    draft.encoding, draft.bom = intake.encoding, bool(intake.bom)
    draft.filename = filename[-MOST_FILENAME:]
    draft.uploaded_by = by
    draft.label, draft.colour = label.strip(), colour


@transaction.atomic
def _publish(
    following: NextText, compared: Mapping[int, Comparison], answers: Mapping[int, bool], *, again: bool
) -> tuple[Draft, bool]:
    """The production is locked for the while, so that two texts put up at once get numbers of their own."""
    draft = following.draft
    production = lock_for(draft.uploaded_by, Deed.PUBLISH)
    latest = production.drafts.current()
    earlier = production.drafts.standing().with_text(draft.text)
    if earlier is not None and (earlier == latest or not again):
        return earlier, False
    draft.number = production.drafts.next_number()
    draft.colour = draft.colour or production.drafts.next_colour(production.revision_colours)
    carry_locks(draft, latest, production)
    draft.save()
    index_draft(draft)
    carry_notes(draft, compared, following.wordings)
    person, published = draft.uploaded_by.person, log.Act.Verb.PUBLISHED_DRAFT
    log.record(person, published, production, draft.public_id, number=draft.number, label=draft.label)
    write_in(draft.uploaded_by, draft, answers)
    others = production.members.filter(removed_at=None).exclude(pk=draft.uploaded_by_id)
    tell_by_mail(others, Occasion.DRAFT_PUBLISHED, draft.public_id)
    return draft, True


@transaction.atomic
def hold_draft(by: Member, intake: Intake, filename: str = "") -> HeldDraft:
    """Hold a text that was read until its writer puts it up or lets it go; one that they held before is let go."""
    lock_for(by, Deed.PUBLISH)
    HeldDraft.objects.let_go(by)
    held = HeldDraft.of_intake(by, intake, filename=filename[-MOST_FILENAME:])
    held.save()
    return held


@transaction.atomic
def let_go(by: Member, held: HeldDraft) -> bool:
    """Hold a text of one's own no longer; whether it was held until now. One that is up stays as it is."""
    lock_for(by, Deed.PUBLISH)
    refuse_elsewhere(by, held.held_by)
    _, dropped = HeldDraft.objects.of(by).filter(pk=held.pk, published_as=None).delete()
    return bool(dropped)


def publish_held(
    by: Member,
    held: HeldDraft,
    label: str,
    colour: str,
    answers: Mapping[int, bool],
    seen: int,
    *,
    again: bool = False,
) -> tuple[Draft, bool]:
    """Publish a held text, and hold it no longer. Doing it again finds the draft it became.

    `seen` is the number of the draft that was current when its writer was shown what this one changes, 0 for none:
    NewDraftMeanwhile is raised when it is another by now, LetGoMeanwhile when the text is held no longer, and nothing
    is stored.
    """
    refuse_unless(by, Deed.PUBLISH)
    refuse_elsewhere(by, held.held_by)
    compared_beforehand(NextText.of(by.production, held.text).draft)  # kept, so that the lock is held briefly
    tell(CARRIED)
    return _publish_held(by, held, label, colour, answers, seen, again=again)


@transaction.atomic
def _publish_held(
    by: Member, held: HeldDraft, label: str, colour: str, answers: Mapping[int, bool], seen: int, *, again: bool
) -> tuple[Draft, bool]:
    production = lock_for(by, Deed.PUBLISH)
    found = HeldDraft.objects.of(by).filter(pk=held.pk).first()
    if found is None:
        raise LetGoMeanwhile
    held = found
    if held.published_as is not None:
        return held.published_as, True
    current = production.drafts.current()
    if (current.number if current else 0) != seen:
        raise NewDraftMeanwhile
    draft, is_new = publish_draft(by, held.intake, label, colour, held.filename, answers, again=again)
    if is_new:
        held.text, held.published_as = "", draft
        held.save(update_fields=["text", "published_as"])
    else:
        held.delete()
    return draft, is_new


def publish_working(
    by: Member, working: WorkingDraft, label: str, colour: str, answers: Mapping[int, bool], seen: str
) -> Draft:
    """Publish the working text, and write in the notes that it answers. Doing it again finds the draft it became.

    `seen` is the SHA-256 of the text that the writer was asked about: TextChangedMeanwhile is raised when it reads
    otherwise by now. Raises NothingNew, WorkingIsClosed for one that was set aside, and screenplay.intake's Unreadable;
    nothing is stored then.
    """
    refuse_unless(by, Deed.PUBLISH)
    refuse_elsewhere(by, working)
    following = following_text(by, working).draft
    refuse_more_than_a_script(read_script(following), "The working draft")
    compared_beforehand(following)  # kept, so that the lock is held briefly
    tell(CARRIED)
    return _publish_working(by, working, label, colour, answers, seen)


@transaction.atomic
def _publish_working(
    by: Member, working: WorkingDraft, label: str, colour: str, answers: Mapping[int, bool], seen: str
) -> Draft:
    # Whoever begins or restores a draft locks the production first and its working draft then.
    lock_for(by, Deed.PUBLISH)
    refuse_elsewhere(by, working)
    try:
        working = working.lock()
    except WorkingIsClosed:
        working.refresh_from_db()
        if working.published_as is None:
            raise
        return working.published_as
    text = working.joined_text()
    if hash_text(text) != seen:
        raise TextChangedMeanwhile
    following = following_text(by, working)
    _label(following.draft, by, read_text(text), label, colour)
    draft, is_new = _publish(following, compared_beforehand(following.draft), answers, again=True)
    if not is_new:
        raise NothingNew(draft)
    working.published_as = draft
    working.save(update_fields=["published_as"])
    return draft


def following_text(by: Member, working: WorkingDraft) -> NextText:
    """The working text as the draft that it is to become."""
    draft = by.production.drafts.current()
    if draft is None:
        raise LookupError("A working draft goes on from a draft.")
    return CurrentText(draft, working, tuple(working.standing_scenes())).following
