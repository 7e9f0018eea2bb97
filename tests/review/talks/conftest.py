"""A talk over a draft that two departments have read."""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import TYPE_CHECKING

import pytest
from django.utils import timezone

from review.access import Role
from review.people.models import Department, Member
from review.readings.models import ClarityWord
from review.readings.question_models import BlindQuestion
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
    question = BlindQuestion.objects.create(
        reading=reading, asked_by=writer, text="Whose lamp is it?", intended="Nell’s"
    )
    for reader, said in zip(reading.readers.all(), ("camera", "costume"), strict=True):
        make_note(reader.member, draft, 17, body=f"Why is it gone, {said}?")
        make_note(reader.member, draft, 6, body=f"Which net, {said}?")
        reader.marks.create(scene=2, mark=ClarityWord.LOST, why=f"Too quick, {said}")
        question.answers.create(reader=reader, text=f"The ferry’s, {said}", verdict="missed", judged_by=writer)
    return call_talk(writer, draft, [crew], When(timezone.now() + timedelta(days=1), 60, "Net loft"), uuid.uuid4())
