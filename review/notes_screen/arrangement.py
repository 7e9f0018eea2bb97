"""The notes in groups and in an order, as their reader asks for them; what is undecided about safety comes first."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

from django.db.models import Count

from review.decisions.states import UNDECIDED, URGENCY
from review.notes.models import NoteKind, Reply, Subject
from review.people.models import Department

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from review.cards.note_rows import NoteRow
    from review.people.models import Member
    from screenplay import LaidOut
    from screenplay.script import Scene


class Grouping(StrEnum):
    LINES = "lines"
    SCENE = "scene"
    DEPARTMENT = "department"
    KIND = "kind"
    READER = "reader"


class NoteOrder(StrEnum):
    SCRIPT = "script"
    NEWEST = "newest"
    REPLIES = "replies"


GROUPINGS = {
    Grouping.LINES: "Lines they share",
    Grouping.SCENE: "Scene",
    Grouping.DEPARTMENT: "Department",
    Grouping.KIND: "Kind",
    Grouping.READER: "Reader",
}
ORDERS = {
    NoteOrder.SCRIPT: "In script order",
    NoteOrder.NEWEST: "Newest first",
    NoteOrder.REPLIES: "Most replies first",
}
NO_DEPARTMENT = "No department"
CHARACTERS, BEFORE, GONE, SAFETY = "Characters", "Before the first scene", "What is gone", "Safety first"
KIND_TITLES = dict(NoteKind.choices)
DEPARTMENT_TITLES = dict(Department.choices)
_DEPARTMENTS = list(Department.values)


@dataclass(frozen=True, slots=True)
class GroupName:
    """What a group is of: its `title`, and where it is of a scene, a character or a reader, that; `place` is where it
    comes where the notes are in script order."""

    title: str
    place: tuple[int | str, ...] = field(default=(), compare=False)
    scene: Scene | None = None
    character: str = ""
    reader: str = ""

    @property
    def is_gone(self) -> bool:
        return self.title == GONE

    @property
    def is_safety(self) -> bool:
        return self.title == SAFETY

    @property
    def label(self) -> str:
        """The number that its scene goes by, empty where it is not of one."""
        return (self.scene.number or str(self.scene.ordinal)) if self.scene else ""


SAFETY_FIRST = GroupName(SAFETY)


@dataclass(slots=True)
class GroupedRows:
    """Notes that are shown under one name, in order."""

    name: GroupName
    rows: list[NoteRow] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Arrangement:
    """How the notes are grouped, and in which order they come."""

    grouping: Grouping
    order: NoteOrder

    @property
    def meets_lines(self) -> bool:
        """Whether those on the same lines are to be shown at them together."""
        return self.grouping is Grouping.LINES and self.order is NoteOrder.SCRIPT


def arrangement(asked: Mapping[str, str]) -> Arrangement:
    """What an address asks for; by their lines, in script order, where it does not say, or says what nobody knows."""
    group, order = asked.get("group", ""), asked.get("sort", "")
    return Arrangement(
        Grouping(group) if group in GROUPINGS else Grouping.LINES,
        NoteOrder(order) if order in ORDERS else NoteOrder.SCRIPT,
    )


def count_replies(member: Member) -> dict[int, int]:
    """How many replies the member may read under each note that has any, by the note's key; one query."""
    standing = Reply.objects.visible_to(member).filter(withdrawn_at=None)
    return dict(standing.order_by().values("note").annotate(count=Count("pk")).values_list("note", "count"))


def arrange(
    script: LaidOut,
    rows: Sequence[NoteRow],
    how: Arrangement,
    replies: Mapping[int, int],
    *,
    safety_first: bool,
) -> list[GroupedRows]:
    """These notes, which come in script order, in groups: each group has its notes in the order asked for.

    In script order the groups come as the script has them, kinds by how they wait to be decided, departments as they
    are listed, readers by name; in any other order, a group comes where its first note does. `safety_first` sets what
    is undecided and about safety above all groups.
    """
    ordered = _in_order(rows, how.order, replies)
    name_of = _NAMES[how.grouping]
    groups: dict[GroupName, GroupedRows] = {}
    for row in ordered:
        is_first = safety_first and row.kind == NoteKind.SAFETY and row.state == UNDECIDED
        name = SAFETY_FIRST if is_first else name_of(script, row)
        groups.setdefault(name, GroupedRows(name)).rows.append(row)
    if how.order is NoteOrder.SCRIPT:
        return sorted(groups.values(), key=lambda group: (not group.name.is_safety, group.name.place))
    return sorted(groups.values(), key=lambda group: not group.name.is_safety)


def _in_order(rows: Sequence[NoteRow], order: NoteOrder, replies: Mapping[int, int]) -> list[NoteRow]:
    if order is NoteOrder.NEWEST:
        return sorted(rows, key=lambda row: -row.pk)
    if order is NoteOrder.REPLIES:
        return sorted(rows, key=lambda row: -replies.get(row.pk, 0))
    return list(rows)


def _by_place(script: LaidOut, row: NoteRow) -> GroupName:
    """A character, a scene, what stands before the first one, or what is gone."""
    if row.first_line is None:
        return GroupName(GONE, (2,))
    if row.subject == Subject.CHARACTER:
        return GroupName(row.character, (0, row.first_line), character=row.character)
    ordinal = script.script.scene_of[row.first_line - 1]
    scene = script.scenes[ordinal - 1] if ordinal else None
    return GroupName(scene.heading if scene else BEFORE, (1, ordinal), scene)


def _by_department(script: LaidOut, row: NoteRow) -> GroupName:
    """Words taken down of somebody who is no member are of no department, and come last."""
    if row.department not in DEPARTMENT_TITLES:
        return GroupName(NO_DEPARTMENT, (len(_DEPARTMENTS),))
    return GroupName(DEPARTMENT_TITLES[row.department], (_DEPARTMENTS.index(row.department),))


def _by_kind(script: LaidOut, row: NoteRow) -> GroupName:
    return GroupName(KIND_TITLES[row.kind], (URGENCY.index(NoteKind(row.kind)),))


def _by_reader(script: LaidOut, row: NoteRow) -> GroupName:
    return GroupName(row.author_name, (row.author_name.casefold(), row.author), reader=row.author)


_NAMES: dict[Grouping, Callable[[LaidOut, NoteRow], GroupName]] = {
    Grouping.LINES: _by_place,
    Grouping.SCENE: _by_place,
    Grouping.DEPARTMENT: _by_department,
    Grouping.KIND: _by_kind,
    Grouping.READER: _by_reader,
}
