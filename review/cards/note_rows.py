"""The notes that a member may read, as rows: as much of each as it takes to narrow them down and to order them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.db.models import F, FilteredRelation, OuterRef, Q, Subquery

from review.decisions.in_force import IS_WRITTEN_IN, decisions_in_force
from review.decisions.states import TAKEN_BACK, WITHDRAWN, state_of
from review.notes.models import Audience, Fate, Note, Subject

if TYPE_CHECKING:
    from collections.abc import Mapping

    from review.drafts.models import Draft
    from review.people.models import Member

ME = "me"
HERE = "here"
NO_DEPARTMENT = "none"  # of a note under the name of somebody who is no member


@dataclass(frozen=True, slots=True)
class NoteRow:
    """As much of a note as it takes to filter it. Its first and last lines are those it stands on in the draft shown, a
    scene's note on its heading; None where they are gone. `character` is whom it is about, by their name there."""

    pk: int
    public_id: str
    state: str
    kind: str
    department: str
    author: str
    author_name: str
    draft: int
    fate: str
    first_line: int | None
    last_line: int | None
    is_withdrawn: bool = False
    subject: str = Subject.LINES
    character: str = ""
    audience: str = Audience.EVERYONE


def note_rows(member: Member, draft: Draft) -> list[NoteRow]:
    """Every note the member may read, as it stands in the draft, in one query, and their own withdrawn ones.

    For a writer also those that were withdrawn after a decision, so that the decision is not lost with them.
    """
    standing = decisions_in_force(note=OuterRef("pk"))
    kept = Q(withdrawn_at=None) | Q(author=member)
    if member.is_writer:
        kept |= Q(outcome__isnull=False)
    notes = (
        Note.objects.visible_to(member)
        .annotate(
            outcome=Subquery(standing.values("outcome")),
            answered=Subquery(standing.filter(IS_WRITTEN_IN).values("written_in")),
        )
        .filter(kept)
        .annotate(here=FilteredRelation("placements", condition=Q(placements__draft=draft)))
        .values(
            "pk",
            "public_id",
            "kind",
            "subject",
            "character",
            "outcome",
            "answered",
            "wording",
            "audience",
            "withdrawn_at",
            "draft_id",
            "first_line",
            "first_char",
            "last_line",
            author_pk=F("author_id"),
            author_public_id=F("author__public_id"),
            author_name=F("author__person__name"),
            said=F("said_by"),
            department=F("author__department"),
            draft_number=F("draft__number"),
            fate=F("here__fate"),
            here_character=F("here__character"),
            here_first=F("here__first_line"),
            here_first_char=F("here__first_char"),
            here_last=F("here__last_line"),
        )
    )
    return [_row(member, draft, found) for found in sorted(notes, key=lambda found: _script_order(draft, found))]


def _script_order(draft: Draft, found: Mapping[str, Any]) -> tuple[int, int, int, int, int]:
    """Notes on characters, by their first cue; then the rest, by line, then character, in the draft shown; notes
    without lines come last, by where they once stood."""
    rank = 0 if found["subject"] == Subject.CHARACTER else 1
    if found["draft_id"] == draft.pk:
        return (rank, 0, found["first_line"], found["first_char"], found["pk"])
    if found["here_first"] is None:
        return (2, found["draft_number"], found["first_line"], found["first_char"], found["pk"])
    return (rank, 0, found["here_first"], found["here_first_char"], found["pk"])


def _row(member: Member, draft: Draft, found: Mapping[str, Any]) -> NoteRow:
    is_here = found["draft_id"] == draft.pk
    is_mine = found["author_pk"] == member.pk and not found["said"]
    is_withdrawn = found["withdrawn_at"] is not None
    first_line, last_line = (
        (found["first_line"], found["last_line"]) if is_here else (found["here_first"], found["here_last"])
    )
    return NoteRow(
        pk=found["pk"],
        public_id=found["public_id"],
        state=(WITHDRAWN if found["author_pk"] == member.pk else TAKEN_BACK) if is_withdrawn else _state(found),
        kind=found["kind"],
        department=NO_DEPARTMENT if found["said"] else found["department"],
        author=ME if is_mine else f"said:{found['said']}" if found["said"] else found["author_public_id"],
        author_name=found["said"] or found["author_name"],
        draft=found["draft_number"],
        fate=HERE if is_here else found["fate"] or Fate.GONE,
        first_line=first_line,
        last_line=first_line if found["subject"] == Subject.SCENE else last_line,
        is_withdrawn=is_withdrawn,
        subject=found["subject"],
        character=found["character"] if is_here else found["here_character"] or "",
        audience=found["audience"],
    )


def _state(found: Mapping[str, Any]) -> str:
    has_wording, is_written_in = found["wording"] is not None, bool(found["answered"])
    return state_of(found["kind"], found["outcome"], has_wording=has_wording, is_written_in=is_written_in)
