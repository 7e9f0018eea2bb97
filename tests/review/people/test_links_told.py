"""The one whom others signed in by a link is told who, from where, and can shut what it opened."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from django.test import Client
from django.urls import reverse

from review.people import acts
from review.people.models import SignInLink

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


@pytest.fixture
def by_link(writer: Member, crew: Member) -> Client:
    """A session as the head of department, which the writer began by a link that they made."""
    client = Client(REMOTE_ADDR="192.0.2.44")
    client.post(reverse("sign-in-link", args=[acts.make_sign_in_link(writer, crew)]))
    return client


def home(of: Member) -> str:
    return reverse("home", args=[of.production.public_id])


def test_its_person_is_told_who_made_it_and_where_it_was_used(
    by_link: Client, signed_in: SignIn, crew: Member, draft: Draft
) -> None:
    client = signed_in(crew)
    for address in (reverse("productions"), home(crew)):
        page = client.get(address).text
        assert "Ada Wren made one for Slack Water" in page
        assert "from 192.0.2.44" in page
    client.post(reverse("links-told"))
    assert "Ada Wren made one" not in client.get(home(crew)).text
    assert by_link.get(home(crew)).status_code == 200


def test_its_person_shuts_it(by_link: Client, signed_in: SignIn, crew: Member) -> None:
    client = signed_in(crew)
    answer = client.post(reverse("links-told"), {"shut": "1"}, follow=True)
    assert "Nobody is signed in as you by a link any more" in answer.text
    assert by_link.get(home(crew)).headers["Location"].startswith(reverse("account_login"))


def test_whoever_came_by_it_is_not_told_in_the_other_s_stead(by_link: Client, crew: Member) -> None:
    assert "made one for" not in by_link.get(reverse("productions")).text
    assert by_link.post(reverse("links-told")).status_code == 403
    assert SignInLink.objects.get().told_at is None
