"""Which accepted notes a draft answers: what is asked when it is published, and what is then written down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review import log
from review.cards.note_cards import note_cards
from review.decisions.in_force import accepted_and_not_written_in, standing_decisions
from review.decisions.models import Outcome
from review.notes.models import Note
from review.notes.then_and_now import follow
from review.rewriting.models import WrittenIn
from review.rewriting.wording_fit import State
from screenplay.comparing.compare import word_changes

if TYPE_CHECKING:
    from collections.abc import Mapping

    from review.cards.note_cards import NoteCard
    from review.decisions.models import Decision
    from review.drafts.models import Draft
    from review.notes.then_and_now import Followed
    from review.people.models import Member
    from screenplay.comparing.compare import WordChange

YES, NO = "yes", "no"
FIELD = "answers-{}"
MOST_SHOWN_LINES = 12


@dataclass(frozen=True, slots=True)
class Question:
    """Whether a text answers an accepted note, with the note's lines in the current draft and in the text."""

    card: NoteCard
    decision: Decision
    followed: Followed
    answer: bool

    @property
    def field(self) -> str:
        """The name of its answer in a form."""
        return field_of(self.decision)

    @property
    def is_overtaken(self) -> bool:
        return _is_overtaken(self.card, self.followed)

    @property
    def then(self) -> str:
        return _first_lines(self.followed.then.lines) if self.followed.then else ""

    @property
    def now(self) -> str:
        return _first_lines(self.followed.now.lines) if self.followed.now else ""

    @property
    def changes(self) -> tuple[WordChange, ...]:
        return word_changes(self.then, self.now)


def _first_lines(lines: str) -> str:
    """As many lines as show what it is about, of a long stretch."""
    shown = lines.split("\n")
    return "\n".join(shown[:MOST_SHOWN_LINES]) + "\n…" * (len(shown) > MOST_SHOWN_LINES)


def field_of(decision: Decision) -> str:
    return FIELD.format(decision.public_id)


def open_decisions(by: Member) -> list[Decision]:
    """The decisions that accepted a note which no draft answers yet; one query."""
    notes = accepted_and_not_written_in(Note.objects.visible_to(by).standing())
    return list(standing_decisions(note__in=notes).select_related("note").order_by("pk"))


def questions(by: Member, text: str, said: Mapping[str, str] | None = None) -> list[Question]:
    """What is asked before a text is published, in script order: one question for each accepted note that no draft
    answers yet. An answer that was not `said` in a form is yes where the note's lines changed, no where they did not
    and where another's wording overtook its own.
    """
    draft = by.production.drafts.current()
    decisions = {decision.note_id: decision for decision in open_decisions(by)} if draft else {}
    if draft is None or not decisions:
        return []
    cards = note_cards(by, Note.objects.filter(pk__in=decisions), draft)
    followed = follow([card.note for card in cards], draft, text)
    asked = [
        Question(card, decision, found, _answer(said or {}, decision, card, found))
        for card in cards
        for decision, found in [(decisions[card.note.pk], followed[card.note.pk])]
    ]
    return sorted(asked, key=_script_order)


def _answer(said: Mapping[str, str], decision: Decision, card: NoteCard, followed: Followed) -> bool:
    answer = said.get(field_of(decision))
    if answer in {YES, NO}:
        return answer == YES
    return followed.has_changed and not _is_overtaken(card, followed)


def _is_overtaken(card: NoteCard, followed: Followed) -> bool:
    """Whether another's wording stands on the words that the note's own would change, and the text does not read as
    the note offered, which a file written elsewhere may."""
    if card.fit is None or card.fit.state is not State.OVERTAKEN:
        return False
    now = followed.now.lines if followed.now else ""
    return now.split() != (card.wording or "").split()


def _script_order(question: Question) -> tuple[bool, int, int, int]:
    span = question.card.span
    where = (span.first_line, span.first_char) if span else (question.card.note.first_line, 0)
    return (span is None, *where, question.card.note.pk)


def answers_in(by: Member, said: Mapping[str, str]) -> dict[int, bool]:
    """The answers of a form, by the decision's key; of decisions that stand no longer, or were not asked, none."""
    told = {decision.pk: said.get(field_of(decision)) for decision in open_decisions(by)}
    return {pk: answer == YES for pk, answer in told.items() if answer in {YES, NO}}


def preset_answers(by: Member, text: str) -> dict[int, bool]:
    """What the answers are where nobody changes them."""
    return {question.decision.pk: question.answer for question in questions(by, text)}


def write_in(by: Member, draft: Draft, answers: Mapping[int, bool]) -> None:
    """Say of the notes answered with yes that they are written in, in the transaction that publishes the draft.

    A decision that stands no longer, or that a draft answers already, is passed over.
    """
    answered = [pk for pk, is_answered in answers.items() if is_answered]
    if not answered:
        return
    standing = standing_decisions(pk__in=answered, outcome=Outcome.ACCEPTED, written_in=None)
    decisions = list(standing.filter(note__production_id=draft.production_id).select_related("note"))
    WrittenIn.objects.bulk_create(WrittenIn(decision=decision, draft=draft, said_by=by) for decision in decisions)
    about = [decision.note.public_id for decision in decisions]
    log.record_each(by.person, log.Act.Verb.WROTE_IN, draft.production, about, draft=draft.number)
