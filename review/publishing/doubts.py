"""What a writer is asked about before a text becomes the current draft for everybody: is it really the next one?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.drafts.models import Draft
from review.drafts.scripts import compare_drafts, read_script
from review.drafts.texts import hash_text
from review.notes.models import Note, Placement
from screenplay import carry
from screenplay.next_draft import SpanFateKind
from screenplay.script import headings_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from review.productions.models import Production
    from screenplay import Span

FEWEST_NOTES = 3  # of fewer, losing most says nothing about the draft


def doubts_about(text: str, production: Production) -> list[str]:
    """Sentences for the writer, none where the text reads as a script and most notes find their lines in it.

    The text of the current draft changes nothing for anybody, so nothing is asked of it; that of an earlier one is
    asked about, for it may have been chosen by mistake.
    """
    latest, same = production.drafts.current(), production.drafts.standing().with_text(text)
    if same is not None and same == latest:
        return []
    draft = Draft(production=production, text=text, sha256=hash_text(text))
    doubts = [f"This is the very text of {same}, which is not the current draft."] if same else []
    if withdrawn := not same and production.drafts.with_text(text):
        doubts = [f"This is the very text of {withdrawn}, which was withdrawn: under Drafts it can be put up again."]
    if not headings_of(read_script(draft)):
        return [*doubts, _nothing_read(draft)]
    return [*doubts, *_lost_notes(draft, latest)]


def _nothing_read(draft: Draft) -> str:
    script = read_script(draft)
    if script.title_page and not script.elements:
        return "This is a title page with nothing after it: readers would find no script."
    return (
        "No scene was found in this text. A scene begins with a heading on a line of its own, such as"
        " “INT. KITCHEN - DAY”, or with a dot in front."
    )


def _lost_notes(draft: Draft, latest: Draft | None) -> Iterator[str]:
    spans = list(_spans_in(latest)) if latest else []
    if latest is None or len(spans) < FEWEST_NOTES:
        return
    comparison = compare_drafts(latest, draft)
    lost = sum(carry(span, comparison).fate == SpanFateKind.GONE for span in spans)
    if lost * 2 > len(spans):
        yield (
            f"{lost} of the {len(spans)} notes on {latest} would lose their lines: this text has little in common"
            " with it."
        )


def _spans_in(draft: Draft) -> Iterator[Span]:
    """Where the standing notes are in a draft, those whose lines it has."""
    for note in Note.objects.not_withdrawn().filter(draft=draft):
        yield note.span
    for placement in Placement.objects.filter(draft=draft, note__in=Note.objects.not_withdrawn()):
        if placement.span is not None:
            yield placement.span
