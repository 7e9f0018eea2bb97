"""What changed in a world paper between two versions."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.papers.acts import PaperAsked, put_up_version

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.papers.models import WorldPaper
    from review.people.models import Member

    SignIn = Callable[[Member], Client]


def test_words_are_struck_and_marked_between_two_versions(
    writer: Member, crew: Member, paper: WorldPaper, signed_in: SignIn
) -> None:
    text = "# The ferry song\n\nRing once and stay.\n\nNobody rings twice.\n\nThe end."
    asked = PaperAsked("The ferry song", for_everyone=True)
    put_up_version(writer, paper, asked, text, 1, asked.seen)
    response = signed_in(crew).get(reverse("paper-changes", args=[crew.production.public_id, paper.public_id]))
    page = BeautifulSoup(response.content, "html.parser")
    assert "3 paragraphs from version 1 to version 2" in page.get_text()
    told = [" ".join(each.get_text().split()) for each in page.select(".paper-changed")]
    assert told == [
        "Reworded Ring once and cut: wait (end of cut) added: stay (end of added) .",
        "Gone The water carries what it may.",
        "New The end.",
    ]
    assert [mark.name for mark in page.select(".paper-changed ins, .paper-changed del")] == ["del", "ins", "del", "ins"]


@pytest.mark.parametrize("asked", [{"old": "9"}, {"new": "x"}, {"old": "0"}])
def test_no_other_version_is_compared(
    asked: dict[str, str], crew: Member, paper: WorldPaper, signed_in: SignIn
) -> None:
    address = reverse("paper-changes", args=[crew.production.public_id, paper.public_id])
    assert signed_in(crew).get(address, asked).status_code == 404
    assert "Nothing changed" in signed_in(crew).get(address).text
