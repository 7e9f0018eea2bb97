"""The writer at work on the next draft."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest

from review.rewriting.acts import begin_working
from tests.factories import make_draft
from tests.review.next_draft.taken_elsewhere import TEXT

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member
    from review.rewriting.models import WorkingDraft


@pytest.fixture
def working(writer: Member) -> WorkingDraft:
    return begin_working(writer, make_draft(writer, TEXT), uuid.uuid4())


@pytest.fixture
def client(writer: Member, signed_in: Callable[[Member], Client]) -> Client:
    return signed_in(writer)
