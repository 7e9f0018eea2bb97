"""The answers that missed what was meant, in readings of a draft and of those before it, where their scenes stand."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.models import Draft
from review.readings.followed_scenes import scenes_followed
from review.readings.question_models import BlindAnswer, BlindQuestion
from screenplay.reception import Verdict

if TYPE_CHECKING:
    from collections.abc import Collection

    from review.people.models import Member


@dataclass(frozen=True, slots=True)
class MissedAnswer:
    """An answer that missed what was meant, or took it partly, and on which draft it was given."""

    answer: BlindAnswer

    @property
    def question(self) -> BlindQuestion:
        return self.answer.question

    @property
    def given_on(self) -> int:
        """The number of that draft."""
        return self.question.reading.draft.number


def missed_answers(member: Member, draft: Draft, departments: Collection[str]) -> dict[int | None, list[MissedAnswer]]:
    """Those of these departments, by the ordinal of the scene of this draft that they were asked about, None where it
    was no scene; nothing for whoever is no writer, since what was meant is theirs. Of a question that was carried from
    reading to reading a reader's last answer counts; one about a scene that is gone is left out. Two queries; one more
    for drafts before this one, and what compares each with it, where an answer there missed a scene."""
    missed = [each for each in _last_answers(member, draft) if _is_missed(each)] if member.is_writer else []
    theirs = [each for each in missed if each.reader.member.department in departments]
    about_scenes = {each.question.reading.draft_id for each in theirs if each.question.scene is not None}
    asked_on = Draft.objects.select_related("production").in_bulk(about_scenes - {draft.pk}) | {draft.pk: draft}
    followed = {key: scenes_followed(asked_on[key], draft) for key in about_scenes}
    found: dict[int | None, list[MissedAnswer]] = defaultdict(list)
    for each in theirs:
        question = each.question
        scene = question.scene and followed[question.reading.draft_id].get(question.scene)
        if question.scene is None or scene is not None:
            found[scene].append(MissedAnswer(each))
    return found


def _is_missed(answer: BlindAnswer) -> bool:
    return answer.outcome not in {None, Verdict.CAME_ACROSS}


def _last_answers(member: Member, draft: Draft) -> list[BlindAnswer]:
    """What each reader answered last to each question up to a draft, in the order in which they were asked."""
    seen = BlindAnswer.objects.visible_to(member).standing()
    answers = (
        seen.filter(question__reading__draft__number__lte=draft.number)
        .select_related("question__reading__draft", "reader__member__person")
        .defer("question__reading__draft__text")
        .order_by("question", "reader__member__person__name")
    )
    first = _first_asked(draft)
    last = {(first[each.question_id], each.reader.member_id): each for each in answers}
    kept = {each.pk for each in last.values()}
    return [each for each in answers if each.pk in kept]


def _first_asked(draft: Draft) -> dict[int, int]:
    """Of each question of a draft's production, the one that it was first carried from, itself if it was not."""
    first: dict[int, int] = {}
    asked = BlindQuestion.objects.filter(reading__production_id=draft.production_id).order_by("pk")
    for question, carried_from in asked.values_list("pk", "carried_from"):
        first[question] = first[carried_from] if carried_from else question
    return first
