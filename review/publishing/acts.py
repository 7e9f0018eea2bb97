"""Publishing a draft: the one act that adds a text to a production."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction

from review import log
from review.access import Deed, refuse_unless
from review.drafts.colours import next_colour
from review.drafts.models import Draft
from review.drafts.numbering import number_scenes
from review.drafts.texts import hash_text
from review.notes.carrying import carry_notes, compared_beforehand
from review.productions.models import lock_production
from review.publishing.answers import write_in

if TYPE_CHECKING:
    from collections.abc import Mapping

    from review.people.models import Member
    from screenplay.comparing import Comparison
    from screenplay.intake import Intake

MOST_FILENAME = 200  # characters, as the record holds


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
    draft = Draft(
        production=by.production,
        label=label.strip(),
        colour=colour,
        text=intake.text,
        sha256=hash_text(intake.text),
        encoding=intake.encoding,
        bom=bool(intake.bom),
        filename=filename[-MOST_FILENAME:],
        uploaded_by=by,
    )
    return _publish(draft, compared_beforehand(draft), answers or {}, again=again)


@transaction.atomic
def _publish(
    draft: Draft, compared: Mapping[int, Comparison], answers: Mapping[int, bool], *, again: bool
) -> tuple[Draft, bool]:
    """The production is locked for the while, so that two texts put up at once get numbers of their own."""
    production = lock_production(draft.production_id)
    latest = production.drafts.current()
    earlier = production.drafts.with_text(draft.text)
    if earlier is not None and (earlier == latest or not again):
        return earlier, False
    draft.number = latest.number + 1 if latest else 1
    draft.colour = draft.colour or next_colour(production)
    number_scenes(draft, latest, production)
    draft.save()
    carry_notes(draft, compared)
    person, published = draft.uploaded_by.person, log.Act.Verb.PUBLISHED_DRAFT
    log.record(person, published, production, draft.public_id, number=draft.number, label=draft.label)
    write_in(draft.uploaded_by, draft, answers)
    return draft, True
