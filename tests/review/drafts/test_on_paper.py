"""Whose name stands across what is printed."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from review.access import Role
from review.drafts.on_paper import name_across
from review.people.models import Department, Member, Person
from screenplay.printing import unprintable
from tests.screenplay.scripts import encodable


def member(name: str) -> Member:
    person = Person(name=name, email="bo.finch@example.org")
    return Member(person=person, role=Role.CREW, department=Department.CAMERA)


@given(st.text(encodable, max_size=80))
def test_whatever_somebody_is_called_something_stands_there_that_can_be_drawn_and_no_address(name: str) -> None:
    across = name_across(member(name))
    assert across.strip()
    assert unprintable(across) == ()
    assert "@" not in across
    assert "bo.finch" not in across or "bo.finch" in name


@given(st.text("abcdefghijklmnopqrstuvwxyzäöüéñç", min_size=1, max_size=40))
def test_a_name_in_letters_that_the_faces_have_stands_as_it_is(name: str) -> None:
    assert name_across(member(name)) == name
