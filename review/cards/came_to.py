"""What notes came to, in a word or a few: what was decided, and of an accepted wording whether another overtook it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.access import Deed, may
from review.decisions.models import Outcome
from review.notes.models import Note
from review.rewriting.current_text import current_text
from review.rewriting.wording_fit import FitState, wording_fits

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from review.decisions.models import Decision
    from review.people.models import Member
    from review.rewriting.wording_fit import WordingFit


@dataclass(frozen=True, slots=True)
class WordingLeftOut:
    """That the wording of an accepted note stays out of the next draft, where another's changes the same words; `by` is
    the note of that one, None where whoever looks may not read it."""

    by: Note | None

    @property
    def word(self) -> str:
        """What the decision is called then."""
        return "Accepted without its wording"

    @property
    def whose(self) -> str:
        return f"{self.by.author_name}’s note" if self.by else "another note"


@dataclass(frozen=True, slots=True)
class CameTo:
    """What a note came to by a decision on it."""

    decision: Decision
    overtaken: WordingLeftOut | None = None

    @property
    def word(self) -> str:
        if draft := self.decision.answered_in:
            return f"Written in, draft {draft.number}"
        return self.overtaken.word if self.overtaken else self.decision.word

    @property
    def words(self) -> str:
        """The same, with what overtook its wording."""
        return f"{self.word}, overtaken by {self.overtaken.whose}" if self.overtaken else self.word


def what_they_came_to(member: Member, decisions: Iterable[Decision]) -> dict[int, CameTo]:
    """What notes came to by decisions that stand, one a note, by the note's key; a few queries where wordings are to be
    written in, none otherwise for decisions that have their notes and their `written_in__draft`."""
    standing = {each.note_id: each for each in decisions}
    waiting = [each.note for each in standing.values() if each.outcome == Outcome.ACCEPTED and not each.answered_in]
    left_out = wordings_left_out(member, fits_told(member, waiting))
    return {key: CameTo(decision, left_out.get(key)) for key, decision in standing.items()}


def fits_told(member: Member, notes: Iterable[Note]) -> dict[int, WordingFit]:
    """How the wordings among these notes stand to the pages as they are now; a few queries where there are some. The
    working draft is nobody's business but the writers': for others they are those of their own notes."""
    writes = may(member, Deed.REWRITE)
    offering = [note for note in notes if note.wording is not None and (writes or note.is_of(member))]
    current = current_text(member.production) if offering else None
    return wording_fits(offering, current) if current else {}


def wordings_left_out(member: Member, fits: Mapping[int, WordingFit]) -> dict[int, WordingLeftOut]:
    """Of wordings that are to be written in, those that were overtaken, and by what; one query where some were."""
    found = {key: fit.by for key, fit in fits.items() if fit.state is FitState.OVERTAKEN and fit.by}
    if not found:
        return {}
    visible = Note.objects.visible_to(member).not_withdrawn().filter(pk__in=[by.pk for by in found.values()])
    read = set(visible.values_list("pk", flat=True))
    return {key: WordingLeftOut(by if by.pk in read else None) for key, by in found.items()}
