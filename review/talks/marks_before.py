"""What was said of scenes in readings of earlier drafts, by those who said nothing newer of them, where they stand."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from review.readings.followed_scenes import scenes_followed
from review.readings.learned import MarkCell
from review.readings.models import ClarityMark
from screenplay.reception import Clarity, SceneMark, SceneMarks

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from review.drafts.models import Draft
    from review.people.models import Member


def marks_before(member: Member, draft: Draft, departments: Collection[str]) -> dict[int, list[MarkCell]]:
    """By the ordinal of a scene of this draft: which of these departments it lost in the last reading of an earlier
    draft in which they marked it, and for whom it was slow where it lost readers there. One query, and what compares
    each such draft with this one."""
    by_draft: dict[int, list[ClarityMark]] = defaultdict(list)
    for mark in _standing(member, draft):
        by_draft[mark.reader.reading.draft.number].append(mark)
    newest: dict[tuple[int, int], MarkCell | None] = {}
    for number in sorted(by_draft, reverse=True):
        marks = by_draft[number]
        followed = scenes_followed(marks[0].reader.reading.draft, draft)
        losing = _losing(marks)
        for mark in marks:
            scene, whose = followed.get(mark.scene), mark.reader.member
            if scene is None or whose.department not in departments:
                continue
            counts = number < draft.number and _counts(mark, losing)
            newest.setdefault((scene, whose.pk), MarkCell(mark.reader, mark, is_read=True) if counts else None)
    found: dict[int, list[MarkCell]] = defaultdict(list)
    for (scene, _), cell in newest.items():
        if cell:
            found[scene].append(cell)
    return found


def _standing(member: Member, draft: Draft) -> Sequence[ClarityMark]:
    """The marks on this draft and earlier ones, as far as a member may see them, the newest first."""
    marks = ClarityMark.objects.visible_to(member).standing().filter(reader__reading__draft__number__lte=draft.number)
    whole = marks.select_related("reader__member__person", "reader__reading__draft__production")
    return list(whole.order_by("-created_at", "-pk"))


def _losing(marks: Sequence[ClarityMark]) -> set[tuple[int, int]]:
    """The scenes that lost readers, each by its reading's key and its ordinal."""
    given: Mapping[tuple[int, int], list[SceneMark]] = defaultdict(list)
    for mark in marks:
        said = SceneMark(mark.reader.name, Clarity(mark.mark), mark.why)
        given[mark.reader.reading_id, mark.scene].append(said)
    return {scene for scene, said in given.items() if SceneMarks("", tuple(said)).loses}


def _counts(mark: ClarityMark, losing: Collection[tuple[int, int]]) -> bool:
    if mark.mark == Clarity.SLOW:
        return (mark.reader.reading_id, mark.scene) in losing
    return bool(mark.mark == Clarity.LOST)
