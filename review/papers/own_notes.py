"""What a member said on world papers, and what became of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.notes.markdown import render_markdown
from review.papers.note_models import PaperDecision, PaperNote

if TYPE_CHECKING:
    from django.utils.safestring import SafeString

    from review.papers.models import WorldPaper
    from review.people.models import Member


@dataclass(frozen=True, slots=True)
class OwnPaperNote:
    """A note of the member's, in their words, with the decision that stands, None while it waits."""

    note: PaperNote
    html: SafeString
    decision: PaperDecision | None

    @property
    def paper(self) -> WorldPaper:
        return self.note.version.paper


def own_paper_notes(member: Member) -> list[OwnPaperNote]:
    """The notes that a member left on papers that they may read, and did not take back, paper by paper; two queries
    however many there are."""
    mine = PaperNote.objects.visible_to(member).standing().on_standing_papers().filter(author=member)
    notes = list(mine.select_related("version__paper").order_by("version__paper__title", "version__paper", "pk"))
    made = PaperDecision.objects.filter(note__in=notes).select_related("decided_by__person").order_by("ordinal")
    latest = {decision.note_id: decision for decision in made}
    return [OwnPaperNote(note, render_markdown(note.body), latest.get(note.pk)) for note in notes]
