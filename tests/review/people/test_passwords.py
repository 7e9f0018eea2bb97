"""Passwords that others would try first."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.core.exceptions import ValidationError
from django.test import Client
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from review.people import acts
from review.people.models import Person
from review.people.passwords import refuse_known_words

if TYPE_CHECKING:
    from review.people.models import Member

KNOWN = ("Ada Wren", "ada.wren@example.org", "Slack Water")


@pytest.mark.parametrize(
    "password",
    [
        "Ada Wren",
        "adawren1984",
        "ADA.WREN@EXAMPLE.ORG",
        "slackwater",
        "Slack Water 2026!",
        "wren-slack-water-ada",
        "12",
    ],
)
def test_what_others_know_is_refused(password: str) -> None:
    with pytest.raises(ValidationError, match="which others know"):
        refuse_known_words(password, KNOWN)


@pytest.mark.parametrize("password", ["mended nets by lamp", "Ada mends nets by lamp", "wasserwaage", "пароль дня"])
def test_what_has_enough_of_its_own_is_taken(password: str) -> None:
    refuse_known_words(password, KNOWN)


@given(
    st.lists(st.sampled_from(["Ada", "Wren", "slack", "WATER", "ada.wren@example.org"]), min_size=1, max_size=8),
    st.sampled_from(["", " ", "-", "_", ".", "1", "!"]),
)
def test_known_words_are_refused_in_any_order_and_however_they_are_joined(words: list[str], joint: str) -> None:
    with pytest.raises(ValidationError):
        refuse_known_words(joint.join(words), KNOWN)


@pytest.mark.django_db
def test_whoever_joins_chooses_no_such_password(writer: Member) -> None:
    _, token = acts.invite(writer, "Ida", "crew", "art", uuid.uuid4())
    for password in ("Ida Roe Ida Roe", "ida@example.org", "slack water 1"):
        form = {"name": "Ida Roe", "email": "ida@example.org", "password": password}
        answer = Client().post(reverse("join", args=[token]), form)
        assert answer.status_code == 422
        assert "which others know" in answer.text
    assert not Person.objects.filter(email="ida@example.org").exists()


@pytest.mark.django_db
def test_whoever_sets_up_chooses_no_such_password(client: Client) -> None:
    form = {"code": acts.new_setup_code(), "name": "Ida Roe", "email": "ida@example.org", "title": "Slack Water"}
    answer = client.post(reverse("setup"), form | {"password": "slack water"})
    assert "which others know" in answer.text
    assert not Person.objects.exists()


@pytest.mark.django_db
def test_whoever_changes_it_chooses_no_such_password(crew: Member) -> None:
    client = Client()
    client.force_login(crew.person, backend="allauth.account.auth_backends.AuthenticationBackend")
    answer = client.post(reverse("account_set_password"), {"password1": "slack water", "password2": "slack water"})
    assert "which others know" in answer.text
    crew.person.refresh_from_db()
    assert not crew.person.has_usable_password()
