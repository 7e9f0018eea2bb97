"""What came of a reading's questions: each with its answers, beside what was meant where it may be seen."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.scripts import laid_out
from review.readings.progress import scene_name
from review.readings.question_models import AnsweredBy, AskedAbout, BlindAnswer, BlindQuestion
from screenplay.reception import Verdict, agreement

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from review.people.models import Member
    from review.readers.models import Reading
    from screenplay.reception import Agreement


@dataclass(frozen=True, slots=True)
class HeardAnswer:
    """An answer, and what became in it of what was meant, None where that is open, nothing was meant, or not shown."""

    answer: BlindAnswer
    outcome: Verdict | None

    @property
    def was_alone(self) -> bool:
        """Whether it was given before the words of others stood open to its reader."""
        opened = self.answer.reader.others_open_at
        return opened is None or self.answer.created_at <= opened


@dataclass(frozen=True, slots=True)
class OptionCount:
    """An option or a step, and who chose it; `is_meant` where that is what was meant, and may be seen."""

    label: str
    readers: tuple[str, ...]
    is_meant: bool


@dataclass(frozen=True, slots=True)
class HeardQuestion:
    """A question with its answers; `meant` is empty where nothing was, or where it is kept from who asks."""

    question: BlindQuestion
    about: str
    meant: str
    answers: tuple[HeardAnswer, ...]
    options: tuple[OptionCount, ...]

    @property
    def is_in_words(self) -> bool:
        return self.question.answered_by == AnsweredBy.WORDS

    @property
    def verdict_counts(self) -> list[tuple[Verdict, int]]:
        """How often it came across, partly, or missed; empty while nothing is known."""
        counts = Counter(each.outcome for each in self.answers if each.outcome is not None)
        return [(verdict, counts[verdict]) for verdict in Verdict] if counts else []

    @property
    def missed(self) -> tuple[HeardAnswer, ...]:
        """The answers that missed what was meant, or took it partly."""
        return tuple(each for each in self.answers if each.outcome not in {None, Verdict.CAME_ACROSS})


def heard_questions(member: Member, reading: Reading) -> list[HeardQuestion]:
    """A reading's questions with the answers that a member may see; two queries. What was meant is the writers' until
    it is shown."""
    return _with_answers(member, reading, reading.questions.standing())


def questions_dropped(member: Member, reading: Reading) -> list[HeardQuestion]:
    """What is asked no longer in a reading, with the answers that are kept, as far as a member may see them; two
    queries."""
    return _with_answers(member, reading, reading.questions.withdrawn())


def _with_answers(member: Member, reading: Reading, asked: Iterable[BlindQuestion]) -> list[HeardQuestion]:
    questions = list(asked)
    answers: dict[int, list[BlindAnswer]] = defaultdict(list)
    seen = BlindAnswer.objects.visible_to(member).given_last().filter(question__in=questions)
    for answer in seen.select_related("question", "reader__member__person").order_by("reader__member__person__name"):
        answers[answer.question_id].append(answer)
    return [_heard(member, reading, question, answers[question.pk]) for question in questions]


def _heard(member: Member, reading: Reading, question: BlindQuestion, answers: Sequence[BlindAnswer]) -> HeardQuestion:
    shows = member.is_writer or question.intended_shown_at is not None
    meant = question.intended if shows else ""
    heard = tuple(HeardAnswer(answer, answer.outcome if member.is_writer else None) for answer in answers)
    options = tuple(
        OptionCount(label, tuple(each.reader.name for each in answers if each.text == value), value == meant)
        for value, label in question.choices
    )
    return HeardQuestion(question, about_in_words(reading, question), meant, heard, options)


def about_in_words(reading: Reading, question: BlindQuestion) -> str:
    """What a question is about, as one says it."""
    if question.about == AskedAbout.CHARACTER:
        return question.character
    scenes = laid_out(reading.draft).scenes
    if question.about == AskedAbout.SCENE and question.scene and question.scene <= len(scenes):
        return f"Scene {scene_name(scenes[question.scene - 1])}"
    return "The draft"


def swayed_readers(reading: Reading, heard: Sequence[HeardQuestion]) -> dict[str, str]:
    """The names of those who gave an answer after the words of others stood open to them, by their public ids; nobody's
    where they stood open to all from the start."""
    if not reading.is_blind:
        return {}
    swayed = (answer.answer.reader for each in heard for answer in each.answers if not answer.was_alone)
    return {reader.public_id: reader.name for reader in swayed}


def agreement_on_meaning(reading: Reading, heard: Sequence[HeardQuestion]) -> Agreement:
    """How far readers take the same from the pages of what was meant: the questions count that every reader who
    answered any of them answered, by what became of what was meant. Those are left out who heard others first."""
    swayed = swayed_readers(reading, heard)
    ratings: dict[str, dict[int, str]] = defaultdict(dict)
    for each in heard:
        for answer in each.answers:
            if answer.outcome is not None and answer.answer.reader.public_id not in swayed:
                ratings[answer.answer.reader.public_id][each.question.pk] = answer.outcome
    return agreement(ratings)
