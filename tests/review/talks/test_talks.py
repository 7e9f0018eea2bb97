"""The list of talks: all for writers, for others those they are asked to."""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import TYPE_CHECKING

import pytest
from django.urls import reverse
from django.utils import timezone

from review.drafts.acts import withdraw_draft
from review.talks.acts import When, call_off, call_talk

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


def test_each_sees_the_talks_they_are_asked_to(
    writer: Member, crew: Member, cast: Member, draft: Draft, signed_in: SignIn
) -> None:
    address = reverse("talks", args=[writer.production.public_id])
    assert "Call one: choose who comes" in signed_in(writer).get(address).text
    call_talk(writer, draft, [crew], When(timezone.now() + timedelta(days=1), 60, "The net loft"), uuid.uuid4())
    for member, sees in ((writer, True), (crew, True), (cast, False)):
        assert ("The net loft" in signed_in(member).get(address).text) is sees
    assert "To come" in signed_in(crew).get(address).text
    withdraw_draft(writer, draft, "Too early.")
    assert "The net loft" not in signed_in(writer).get(address).text


def test_a_talk_to_come_stands_on_the_home_of_who_is_asked(
    writer: Member, crew: Member, cast: Member, draft: Draft, signed_in: SignIn
) -> None:
    when = When(timezone.now() + timedelta(days=1), 60, "The net loft")
    talk = call_talk(writer, draft, [crew], when, uuid.uuid4())
    address = reverse("home", args=[writer.production.public_id])
    for member, sees in ((writer, True), (crew, True), (cast, False)):
        assert ("The net loft" in signed_in(member).get(address).text) is sees
    call_off(writer, talk)
    assert "The net loft" not in signed_in(crew).get(address).text


def test_without_a_draft_there_is_nothing_to_talk_over(writer: Member, crew: Member, signed_in: SignIn) -> None:
    address = reverse("talks", args=[writer.production.public_id])
    assert "There has to be a draft first." in signed_in(writer).get(address).text
    assert "it will be here" in signed_in(crew).get(address).text
