"""Which notes an address asks for, and how many there are of each sort."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING
from urllib.parse import urlencode

from review.cards.note_rows import HERE, ME, NO_DEPARTMENT
from review.decisions.states import STATES, UNDECIDED, WITHDRAWN
from review.notes.models import Fate, NoteKind, Subject
from review.people.models import Department

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from review.cards.note_rows import NoteRow
    from review.people.models import Member

ANY = "all"


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
    def as_address(self) -> str:
        """What an address says to ask for these notes again, whoever opens it; empty where nothing is chosen."""
        return urlencode({name: each.chosen for name, each in self.filters.items() if not each.is_open})

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


def narrow(member: Member, rows: Sequence[NoteRow], asked: Mapping[str, str], meeting: frozenset[int]) -> FilteredNotes:
    """The notes narrowed to what an address asks for, and by nothing that it does not say."""
    return filter_notes(member, rows, dict.fromkeys(LABELS, ANY) | dict(asked.items()), meeting)


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
        "department": dict(Department.choices) | {NO_DEPARTMENT: "No department"},
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
