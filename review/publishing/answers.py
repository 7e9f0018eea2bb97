"""Which accepted notes a draft answers: what is asked when it is published, and what is then written down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.utils import timezone

from review import log
from review.cards.accepted import accepted_notes, decisions_to_write_in
from review.decisions.in_force import accepted_and_not_written_in, decisions_in_force
from review.notes.models import Subject
from review.rewriting.wording_models import WrittenIn

if TYPE_CHECKING:
    from collections.abc import Mapping

    from review.cards.accepted import AcceptedNote
    from review.decisions.models import Decision
    from review.drafts.models import Draft
    from review.notes.then_and_now import NextText
    from review.people.models import Member

YES, NO = "yes", "no"
FIELD = "answers-{}"


@dataclass(frozen=True, slots=True)
class Question:
    """Whether a text answers an accepted note; `answer` is what the form shows as chosen, None for neither."""

    accepted: AcceptedNote
    answer: bool | None

    @property
    def field(self) -> str:
        """The name of its answer in a form."""
        return field_of(self.accepted.decision)


def field_of(decision: Decision) -> str:
    return FIELD.format(decision.public_id)


def questions(by: Member, following: NextText, said: Mapping[str, str] | None = None) -> list[Question]:
    """What is asked before a text is published, in script order: one question for each accepted note that no draft
    answers yet. An answer that was not `said` in a form is yes where the note's own wording is in, or its lines
    changed, no where they did not and where another's wording overtook its own. Nothing is preset of a note on a scene
    or a character, where there is always something that changed, and of one whose lines changed in names alone that
    changed throughout: only the writer knows whether it is this.
    """
    return [Question(accepted, _answer(said or {}, accepted)) for accepted in accepted_notes(by, following)]


def _answer(said: Mapping[str, str], accepted: AcceptedNote) -> bool | None:
    answer = said.get(field_of(accepted.decision))
    if answer in {YES, NO}:
        return answer == YES
    if accepted.card.subject != Subject.LINES:
        return None
    if accepted.then_and_now.reads_as_proposed:
        return True
    if accepted.is_renamed_alone and not accepted.is_overtaken:
        return None
    return accepted.has_changed and not accepted.is_overtaken


def answers_in(by: Member, said: Mapping[str, str]) -> dict[int, bool]:
    """The answers of a form, by the decision's key; of decisions that stand no longer, or were not asked, none."""
    told = {decision.pk: said.get(field_of(decision)) for decision in decisions_to_write_in(by)}
    return {pk: answer == YES for pk, answer in told.items() if answer in {YES, NO}}


def preset_answers(by: Member, following: NextText) -> dict[int, bool]:
    """What the answers are where nobody changes them; none of what is asked without a preset."""
    asked = questions(by, following)
    return {each.accepted.decision.pk: each.answer for each in asked if each.answer is not None}


def write_in(by: Member, draft: Draft, answers: Mapping[int, bool]) -> None:
    """Say of the notes answered with yes that they are written in, in the transaction that publishes the draft.

    A decision that stands no longer, or that a draft answers already, is passed over.
    """
    answered = [pk for pk, is_answered in answers.items() if is_answered]
    if not answered:
        return
    waiting = accepted_and_not_written_in(draft.production.notes.all())
    standing = decisions_in_force(pk__in=answered, note__in=waiting)
    decisions = list(standing.select_related("note", "written_in"))
    said_of_withdrawn = WrittenIn.objects.filter(decision__in=decisions)  # the log keeps which draft that was
    said_of_withdrawn.update(draft=draft, said_by=by, created_at=timezone.now())
    new = [decision for decision in decisions if getattr(decision, "written_in", None) is None]
    WrittenIn.objects.bulk_create(WrittenIn(decision=decision, draft=draft, said_by=by) for decision in new)
    about = [decision.note.public_id for decision in decisions]
    log.record_each(by.person, log.Act.Verb.WROTE_IN, draft.production, about, draft=draft.number)
