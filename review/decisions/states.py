"""The states a note can be in: undecided, decided one way or another, written in, withdrawn."""

from __future__ import annotations

from review.decisions.models import Outcome

UNDECIDED = "undecided"
WRITTEN_IN = "written"
WITHDRAWN = "withdrawn"
# As addresses name them, with the words for each.
STATES = {
    UNDECIDED: "Undecided",
    Outcome.ACCEPTED.value: "Accepted",
    WRITTEN_IN: "Written in",
    Outcome.DECLINED.value: "Declined",
    Outcome.PARKED.value: "Parked",
    WITHDRAWN: "Withdrawn by you",
}
