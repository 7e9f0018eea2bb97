"""The addresses of the People screen, and what is filled in and found there, for the tests that try it."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

from bs4 import BeautifulSoup
from django.urls import reverse

if TYPE_CHECKING:
    from review.people.models import Member


def people_of(member: Member) -> str:
    return reverse("people", args=[member.production.public_id])


def invite_from(member: Member) -> str:
    return reverse("invite", args=[member.production.public_id])


def remove(by: Member, other: Member) -> str:
    return reverse("member-remove", args=[by.production.public_id, other.public_id])


def link_for(by: Member, other: Member) -> str:
    return reverse("member-sign-in-link", args=[by.production.public_id, other.public_id])


def filled_in(**fields: Any) -> dict[str, Any]:
    return {"form_id": str(uuid.uuid4()), "name": "Sunniva Grey", "role": "crew", "department": "lighting"} | fields


def fresh_link(page: str) -> str:
    field = BeautifulSoup(page, "html.parser").select_one("#fresh-link")
    return str(field["value"]) if field else ""


def role_of(by: Member, other: Member) -> str:
    return reverse("member-role", args=[by.production.public_id, other.public_id])
