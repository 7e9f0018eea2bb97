"""The states a note can be in, each with its word: undecided, decided in one of several ways, written in, withdrawn."""

from __future__ import annotations

from review.decisions.accepting import OF_KIND, PLAIN, accepting
from review.decisions.models import Outcome
from review.notes.models import NoteKind

UNDECIDED = "undecided"
WRITTEN_IN = "written"
WITHDRAWN = "withdrawn"
TAKEN_BACK = "taken-back"  # by its author, after it was decided: nothing of it is to be written in
ANSWERED = OF_KIND[NoteKind.QUESTION].state
# The order in which kinds wait to be decided: what can hurt someone first, what asks for nothing last.
URGENCY = (
    NoteKind.SAFETY,
    NoteKind.PROBLEM,
    NoteKind.CONFUSION,
    NoteKind.QUESTION,
    NoteKind.PRACTICAL,
    NoteKind.IDEA,
    NoteKind.PRAISE,
)
ACCEPTED = tuple(each.state for each in (PLAIN, *OF_KIND.values()))  # in whichever sense
# The order in which a reader is told what became of their notes.
ENDS = (WRITTEN_IN, *ACCEPTED, Outcome.PARKED.value, Outcome.DECLINED.value, UNDECIDED)
# As addresses name them, with the words for each.
STATES = {
    UNDECIDED: "Undecided",
    **{each.state: each.word for each in (PLAIN, *OF_KIND.values())},
    WRITTEN_IN: "Written in",
    Outcome.DECLINED.value: "Declined",
    Outcome.PARKED.value: "Parked",
    TAKEN_BACK: "Taken back since",
    WITHDRAWN: "Withdrawn by you",
}


def state_of(kind: str, outcome: str | None, *, has_wording: bool, is_written_in: bool) -> str:
    """The state of a note by the decision that stands on it, None where none does."""
    if is_written_in:
        return WRITTEN_IN
    if outcome == Outcome.ACCEPTED:
        return accepting(kind, has_wording=has_wording).state
    return outcome or UNDECIDED
