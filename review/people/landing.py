"""Where somebody is led once they are signed in: to their production where they have one, else to the list."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.urls import reverse

if TYPE_CHECKING:
    from review.people.models import Person, SignInLink


def landing(person: Person) -> str:
    """The page to begin with, of a person in a session of their own."""
    productions = [member.production.public_id for member in person.open_memberships.select_related("production")[:2]]
    return reverse("home", args=productions) if len(productions) == 1 else reverse("productions")


def landing_of_link(link: SignInLink) -> str:
    """The page to begin with for whoever signs in by this link: where it was made, if a writer made it."""
    made_by = link.made_by
    return reverse("home", args=[made_by.production.public_id]) if made_by else landing(link.person)
