"""The end of a reading."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from django.urls import reverse

from review.readings import question_acts
from review.readings.question_acts import Asking, answer_and_finish, ask
from review.readings.reader_acts import finish_reading
from tests.factories import make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.readers.models import Reading

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


@pytest.fixture
def reading(writer: Member, crew: Member, draft: Draft) -> Reading:
    return make_reading(writer, draft, crew)


def at(reading: Reading, name: str, *more: Any) -> str:
    return reverse(name, args=[reading.production.public_id, reading.public_id, *more])


def test_answers_that_are_not_kept_finish_nothing(
    crew: Member, writer: Member, reading: Reading, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And an end that is not kept keeps no answers: it is one act."""
    question = ask(writer, reading, Asking("Whose lamp is it?"), uuid.uuid4())
    with monkeypatch.context() as broken:
        broken.setattr(question_acts, "finish_reading", lambda *told: 1 / 0)
        with pytest.raises(ZeroDivisionError):
            answer_and_finish(crew, reading, {question.public_id: "Nell’s"})
    assert not question.answers.exists()
    assert answer_and_finish(crew, reading, {question.public_id: "Nell’s"}) is True
    assert answer_and_finish(crew, reading, {question.public_id: "Tobias’s"}) is False
    assert [answer.text for answer in question.answers.all()] == ["Nell’s"]


def test_finishing_says_thank_you_and_home_asks_no_more(signed_in: SignIn, crew: Member, reading: Reading) -> None:
    client = signed_in(crew)
    assert "You have not read all 2 scenes." in client.get(at(reading, "reading-finish")).text
    assert "Thank you: you have finished." in client.post(at(reading, "reading-finish"), follow=True).text
    assert "asks you to read" not in client.get(reverse("home", args=[crew.production.public_id])).text
    assert finish_reading(crew, reading) is False
    assert "What you said" not in client.get(at(reading, "reading-scene", 1)).text
