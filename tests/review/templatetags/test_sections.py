"""The bar at the top: where it leads whom, and which of its screens a page belongs to."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from django.urls import reverse

from review.templatetags.sections import section_of, sections

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member


def labels(member: Member) -> list[str]:
    return [section.label for section in sections(member, "home")]


def test_only_writers_are_led_to_the_next_draft(writer: Member, crew: Member) -> None:
    assert "Next draft" in labels(writer)
    assert "Next draft" not in labels(crew)


def test_a_name_that_the_bar_may_cut_stands_whole_in_its_menu(
    writer: Member, signed_in: Callable[[Member], Client]
) -> None:
    page = signed_in(writer).get(reverse("home", args=[writer.production.public_id])).text
    assert f"Signed in as {writer.person.name}<" in page


@pytest.mark.parametrize(
    ("name", "label"),
    [
        ("script", "Script"),
        ("note-new", "Script"),
        ("note", "Notes"),
        ("place", "Notes"),
        ("change-sheet", "Changes"),
        ("working-scene", "Next draft"),
        ("to-do", "Next draft"),
        ("draft-restore", "Next draft"),
        ("draft-upload", "Drafts"),
        ("settings", "People"),
        ("locked-pages", "People"),
        ("productions", ""),
    ],
)
def test_a_page_belongs_to_one_section(name: str, label: str) -> None:
    assert section_of(name) == label


def test_the_page_says_which_section_is_current(
    writer: Member, draft: Draft, signed_in: Callable[[Member], Client]
) -> None:
    page = signed_in(writer).get(reverse("draft-report", args=[draft.production.public_id, draft.number]))
    assert 'aria-current="page">Drafts</a>' in page.content.decode()
