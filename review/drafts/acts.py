"""Publishing a draft: the one act that adds a text to a production."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING

from django.db import transaction

from review import log
from review.drafts.models import Colour, Draft
from review.productions.models import Production

if TYPE_CHECKING:
    from review.people.models import Member
    from screenplay.intake import Intake

MOST_FILENAME = 200  # characters, as the record holds


def hash_text(text: str) -> str:
    """The SHA-256 of a text in UTF-8, in hexadecimal: two drafts with the same hash are the same draft."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def next_colour(latest: Draft | None) -> Colour:
    """The revision colour after the latest draft's; the round begins again after the last."""
    if latest is None:
        return Colour.WHITE
    colours = list(Colour)
    return colours[(colours.index(Colour(latest.colour)) + 1) % len(colours)]


@transaction.atomic
def publish_draft(
    by: Member, intake: Intake, label: str = "", colour: str = "", filename: str = ""
) -> tuple[Draft, bool]:
    """Publish a text as the production's next draft, and carry every note to it.

    The production is locked for the while, so that two texts put up at once get numbers of their own. A text the
    production already has is stored no second time: the earlier draft comes back, with False.
    """
    from review.notes.carrying import carry_notes  # it reads drafts in its turn

    production = Production.objects.select_for_update().get(pk=by.production_id)
    sha256 = hash_text(intake.text)
    if earlier := production.drafts.filter(sha256=sha256).first():
        return earlier, False
    latest = production.current_draft
    draft = Draft.objects.create(
        production=production,
        number=latest.number + 1 if latest else 1,
        label=label.strip(),
        colour=colour or next_colour(latest),
        text=intake.text,
        sha256=sha256,
        encoding=intake.encoding,
        bom=bool(intake.bom),
        filename=filename[-MOST_FILENAME:],
        uploaded_by=by,
    )
    carry_notes(draft)
    log.record(
        by.person, log.Act.Verb.PUBLISHED_DRAFT, production, draft.public_id, number=draft.number, label=draft.label
    )
    return draft, True
