"""Who else is in the production, for the tests of people."""

from __future__ import annotations

import pytest

from review.access import Role
from review.people.models import Department, Member
from tests.factories import make_member


@pytest.fixture
def second_writer(writer: Member) -> Member:
    return make_member(writer.production, Role.WRITER, Department.DIRECTION, "Edda Holm")


@pytest.fixture
def founder(writer: Member) -> Member:
    """Whoever started the production."""
    return make_member(writer.production, Role.WRITER, Department.WRITING, person=writer.production.started_by)
