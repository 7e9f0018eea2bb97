"""A talk over a draft that two departments have read."""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import TYPE_CHECKING

import pytest
from django.utils import timezone

from review.access import Role
from review.people.models import Department, Member
from review.readings.question_acts import Asking, answer_questions, ask, judge
from review.readings.question_models import BlindAnswer
from review.readings.reader_acts import mark_scene
from review.talks.acts import When, call_talk
from tests.factories import make_member, make_note, make_reading

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.talks.models import Talk


@pytest.fixture
def talk(writer: Member, crew: Member, draft: Draft) -> Talk:
    """With the camera department, which left two notes, lost the thread once and missed an answer; costume, which is
    not asked, did the same."""
    other = make_member(writer.production, Role.CREW, Department.COSTUME, "Cos Tume")
    reading = make_reading(writer, draft, crew, other)
    asking = Asking("Whose lamp is it?", intended="Nell’s")
    question = ask(writer, reading, asking, uuid.uuid4())
    for member, said in ((crew, "camera"), (other, "costume")):
        make_note(member, draft, 17, body=f"Why is it gone, {said}?")
        make_note(member, draft, 6, body=f"Which net, {said}?")
        mark_scene(member, reading, 2, "lost", f"Too quick, {said}")
        answer_questions(member, reading, {question.public_id: f"The ferry’s, {said}"})
    for answer in BlindAnswer.objects.all():
        judge(writer, answer, "missed")
    return call_talk(writer, draft, [crew], When(timezone.now() + timedelta(days=1), 60, "Net loft"), uuid.uuid4())
