"""Blind questions: what a writer asks of readers, what they mean the answer to be, and what each reader answered."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models
from django.db.models import Q

from review.notes.models import MOST_NAME
from review.readings.models import seen_by
from review.records import PostedRecord, Record
from screenplay.reception import Verdict, verdict_of_choice, verdict_on_scale

if TYPE_CHECKING:
    from review.people.models import Member

MOST_QUESTION = 500  # characters
MOST_ANSWER = 4_000
MOST_PURPOSE = 1_000
STEPS = (1, 2, 3, 4, 5)  # of a scale


class AskedAbout(models.TextChoices):
    DRAFT = "draft", "The draft"
    SCENE = "scene", "A scene"
    CHARACTER = "character", "A character"


class AnsweredBy(models.TextChoices):
    WORDS = "words", "In their own words"
    CHOICE = "choice", "One of several"
    SCALE = "scale", "On a scale from 1 to 5"


class QuestionQuerySet(models.QuerySet["BlindQuestion"]):
    def standing(self) -> QuestionQuerySet:
        """Those that were not withdrawn."""
        return self.filter(withdrawn_at=None)

    def withdrawn(self) -> QuestionQuerySet:
        """Those that are asked no longer."""
        return self.exclude(withdrawn_at=None)


class BlindQuestion(PostedRecord):
    """A question to the readers of a reading, about its draft, one of its scenes by ordinal, or a character.

    `options` are the answers to choose from, or the words for a scale's two ends. `intended` is what the writer means
    the answer to be: their words, one of the options, or a step; writers alone see it until `intended_shown_at`. A
    question never changes once it is asked, so that nobody fits what they meant to what they hear: it is withdrawn, and
    another asked.
    """

    reading = models.ForeignKey("review.Reading", on_delete=models.PROTECT, related_name="questions")
    asked_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="questions_asked")
    about = models.CharField(max_length=10, choices=AskedAbout, default=AskedAbout.DRAFT)
    scene = models.PositiveIntegerField(null=True, blank=True)
    character = models.CharField(max_length=MOST_NAME, blank=True)
    answered_by = models.CharField(max_length=10, choices=AnsweredBy, default=AnsweredBy.WORDS)
    text = models.CharField(max_length=MOST_QUESTION)
    options = models.JSONField(default=list)
    intended = models.CharField(max_length=MOST_PURPOSE, blank=True)
    intended_shown_at = models.DateTimeField(null=True, blank=True)
    carried_from = models.ForeignKey(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="carried_into"
    )
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    objects = QuestionQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(about=AskedAbout.SCENE, scene__isnull=False) | (~Q(about=AskedAbout.SCENE) & Q(scene=None)),
                name="a_scene_question_names_its_scene",
            )
        ]

    def __str__(self) -> str:
        return self.text

    @property
    def choices(self) -> list[tuple[str, str]]:
        """What can be chosen, by what is stored: the options themselves, or the steps, the ends with their words."""
        if self.answered_by == AnsweredBy.CHOICE:
            return [(option, option) for option in self.options]
        if self.answered_by != AnsweredBy.SCALE:
            return []
        low, high = (*self.options, "", "")[:2]
        ends = {STEPS[0]: low, STEPS[-1]: high}
        return [(str(step), f"{step}, {ends[step]}" if ends.get(step) else str(step)) for step in STEPS]


class AnswerQuerySet(models.QuerySet["BlindAnswer"]):
    def given_last(self) -> AnswerQuerySet:
        """Those that no other answer replaced."""
        return self.filter(replaced_at=None)

    def standing(self) -> AnswerQuerySet:
        """Those of them to questions that stand."""
        return self.given_last().filter(question__withdrawn_at=None)

    def visible_to(self, member: Member) -> AnswerQuerySet:
        """Those a member may see, as clarity marks are."""
        return self.filter(seen_by(member))


class BlindAnswer(Record):
    """A reader's answer: their words, the option they chose, or the step. One that was replaced is kept. `verdict` is
    the writer's on an answer in words."""

    question = models.ForeignKey(BlindQuestion, on_delete=models.PROTECT, related_name="answers")
    reader = models.ForeignKey("review.Reader", on_delete=models.PROTECT, related_name="answers")
    text = models.TextField()
    verdict = models.CharField(max_length=12, choices=[(each.value, each.capitalize()) for each in Verdict], blank=True)
    judged_by = models.ForeignKey(
        "review.Member", on_delete=models.PROTECT, null=True, blank=True, related_name="answers_judged"
    )
    replaced_at = models.DateTimeField(null=True, blank=True)

    objects = AnswerQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["question", "reader"], condition=Q(replaced_at=None), name="one_answer_stands_on_a_question"
            )
        ]

    def __str__(self) -> str:
        return f"Answer of {self.reader}"

    @property
    def outcome(self) -> Verdict | None:
        """Whether what was meant came across: of a choice or a step by itself, of words as the writer judged it; None
        where nothing was meant, or nothing is judged yet."""
        question = self.question
        if question.answered_by == AnsweredBy.WORDS:
            return Verdict(self.verdict) if self.verdict else None
        if not question.intended:
            return None
        if question.answered_by == AnsweredBy.SCALE:
            return verdict_on_scale(int(self.text), int(question.intended))
        return verdict_of_choice(self.text, question.intended)


class ScenePurpose(Record):
    """Why a scene is in the film, in the writer's words, for writers alone: of a scene by its ordinal in the draft that
    it was written on. In later drafts it follows the scene. Words that were replaced are kept; empty ones take it
    back."""

    draft = models.ForeignKey("review.Draft", on_delete=models.PROTECT, related_name="purposes")
    scene = models.PositiveIntegerField()
    text = models.CharField(max_length=MOST_PURPOSE, blank=True)
    written_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="purposes_written")
    replaced_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["scene", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["draft", "scene"], condition=Q(replaced_at=None), name="one_purpose_stands_on_a_scene"
            )
        ]

    def __str__(self) -> str:
        return f"Purpose of scene {self.scene}"
