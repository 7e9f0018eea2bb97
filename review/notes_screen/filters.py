"""Which notes the notes screen shows, and how many there are of each sort."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.db.models import F, FilteredRelation, OuterRef, Q, Subquery

from review.decisions.in_force import IS_WRITTEN_IN, decisions_in_force
from review.decisions.states import STATES, TAKEN_BACK, UNDECIDED, WITHDRAWN, state_of
from review.notes.models import Fate, Note, NoteKind, Subject
from review.people.models import Department

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from review.drafts.models import Draft
    from review.people.models import Member

ANY = "all"
ME = "me"
HERE = "here"


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


@dataclass(frozen=True, slots=True)
class FilterOption:
    """One value that a sort can be narrowed to, with how many notes it would leave."""

    value: str
    label: str
    count: int
    chosen: bool


@dataclass(frozen=True, slots=True)
class Filter:
    """One way of narrowing the notes down: its name in the address, its label, and its options."""

    name: str
    label: str
    any_label: str
    options: tuple[FilterOption, ...]

    @property
    def total(self) -> int:
        return sum(option.count for option in self.options if option.value != WITHDRAWN)

    def count_of(self, value: str) -> int:
        """How many notes a value would leave."""
        return next((option.count for option in self.options if option.value == value), 0)

    @property
    def chosen(self) -> str:
        return next((option.value for option in self.options if option.chosen), ANY)

    @property
    def is_open(self) -> bool:
        """No value is chosen."""
        return self.chosen == ANY


@dataclass(frozen=True, slots=True)
class FilteredNotes:
    """The notes left, in script order with those that have no lines last, and the filters that led there."""

    rows: tuple[NoteRow, ...]
    filters: dict[str, Filter]
    has_own: bool

    @property
    def state(self) -> Filter:
        return self.filters["state"]

    @property
    def author(self) -> Filter:
        return self.filters["author"]

    @property
    def meeting(self) -> Filter:
        return self.filters["meet"]

    @property
    def narrowing(self) -> list[Filter]:
        """The filters offered as lists to choose from."""
        return [self.filters[name] for name in ("kind", "about", "department", "author", "draft", "fate")]

    @property
    def is_narrowed(self) -> bool:
        """By anything but the decision on a note, or by its being the reader's own."""
        narrowing = [each for each in (*self.narrowing, self.meeting) if not each.is_open]
        return any((each.name, each.chosen) != ("author", ME) for each in narrowing)


ABOUT = {Subject.LINES: "Lines", Subject.SCENE: "A scene", Subject.CHARACTER: "A character"}
FATES = {HERE: "Left on this draft"} | dict(Fate.choices)
LABELS = {
    "state": ("State", "All"),
    "kind": ("Kind", "Every kind"),
    "about": ("About", "Anything"),
    "department": ("Department", "Every department"),
    "author": ("From", "Everyone"),
    "draft": ("Left on", "Any draft"),
    "fate": ("Its lines", "Any fate"),
    "meet": ("Where several notes meet", "Anywhere"),
}


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
        department="" if found["said"] else found["department"],
        author=ME if is_mine else f"said:{found['said']}" if found["said"] else found["author_public_id"],
        author_name=found["said"] or found["author_name"],
        draft=found["draft_number"],
        fate=HERE if is_here else found["fate"] or Fate.GONE,
        first_line=first_line,
        last_line=first_line if found["subject"] == Subject.SCENE else last_line,
        is_withdrawn=is_withdrawn,
        subject=found["subject"],
        character=found["character"] if is_here else found["here_character"] or "",
    )


def _state(found: Mapping[str, Any]) -> str:
    has_wording, is_written_in = found["wording"] is not None, bool(found["answered"])
    return state_of(found["kind"], found["outcome"], has_wording=has_wording, is_written_in=is_written_in)


def filter_notes(
    member: Member, rows: Sequence[NoteRow], asked: Mapping[str, str], meeting: frozenset[int]
) -> FilteredNotes:
    """Narrow the notes to what an address asks for; without a word from it, to what concerns this member first.

    A writer begins with what is undecided, a reader with their own notes. `meeting` holds the keys of the notes that
    share lines with another. An option counts the notes that choosing it, all else unchanged, would leave.
    """
    values = [_values(row, meeting) for row in rows]
    labels = _labels(rows)
    chosen = {name: _chosen(member, name, asked, labels[name]) for name in LABELS}
    left: list[NoteRow] = []
    counts: dict[str, Counter[str]] = {name: Counter() for name in LABELS}
    for row, has in zip(rows, values, strict=True):
        failing = [name for name in LABELS if not _passes(name, has[name], chosen[name])]
        if not failing:
            left.append(row)
        for name in failing if len(failing) == 1 else () if failing else LABELS:
            counts[name][has[name]] += 1
    filters = {name: _filter(name, labels[name], counts[name], chosen[name]) for name in LABELS}
    return FilteredNotes(tuple(left), filters, has_own=any(row.author == ME for row in rows))


def _values(row: NoteRow, meeting: frozenset[int]) -> dict[str, str]:
    return {
        "state": row.state,
        "kind": row.kind,
        "about": row.subject,
        "department": row.department,
        "author": row.author,
        "draft": str(row.draft),
        "fate": row.fate,
        "meet": "yes" if row.pk in meeting else "no",
    }


def _labels(rows: Iterable[NoteRow]) -> dict[str, dict[str, str]]:
    """The values each each can take, in the order they are offered, with their labels."""
    rows = list(rows)
    authors = {row.author: row.author_name for row in sorted(rows, key=lambda row: row.author_name.casefold())}
    return {
        "state": STATES,
        "kind": dict(NoteKind.choices),
        "about": {subject.value: label for subject, label in ABOUT.items()},
        "department": dict(Department.choices),
        "author": {ME: "You"} | {author: name for author, name in authors.items() if author != ME},
        "draft": {str(number): f"Draft {number}" for number in sorted({row.draft for row in rows})},
        "fate": FATES,
        "meet": {"yes": "Where several notes meet"},
    }


def _chosen(member: Member, name: str, asked: Mapping[str, str], labels: Mapping[str, str]) -> str:
    value = asked.get(name, "")
    if name == "author" and value == member.public_id:
        return ME
    if value == ANY or value in labels:
        return value
    if name == "state" and member.is_writer:
        return UNDECIDED
    if name == "author" and not member.is_writer:
        return ME
    return ANY


def _passes(name: str, value: str, chosen: str) -> bool:
    if chosen == ANY:
        return not (name == "state" and value == WITHDRAWN)
    return value == chosen


def _filter(name: str, labels: Mapping[str, str], counts: Counter[str], chosen: str) -> Filter:
    label, any_label = LABELS[name]
    options = tuple(FilterOption(value, text, counts[value], value == chosen) for value, text in labels.items())
    return Filter(name, label, any_label, tuple(option for option in options if option.count or option.chosen))
