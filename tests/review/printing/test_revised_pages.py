"""Revised pages as PDF: asterisks, header, tint, changed pages only, the reader's name, the log.

Read back with pdfplumber, from outside. That changed lines have an asterisk in the right margin is common practice.
"""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING, Any

import pdfplumber
import pytest
from django.urls import reverse

from review.drafts.numbering import lock_numbers
from review.log import Act
from review.publishing.acts import publish_draft
from screenplay.intake import Intake
from screenplay.tints import TINTS
from tests.screenplay.next_draft.test_numbering import scene, script, words

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

pytestmark = pytest.mark.django_db

RIGHT_MARGIN = 7.5 * 72  # points from the left edge of US Letter, where the text ends
LONG = "ANVIL BARGE CELLAR DOCK EAVES FORGE GABLE HEARTH IVORY JETTY"


@pytest.fixture
def two_drafts(writer: Member) -> Member:
    """A draft of several pages, and the next with a line of its last scene reworded."""
    text = script(LONG)
    publish_draft(writer, Intake(text, "utf-8", b""))
    line = words("JETTY", 1).splitlines()[-1]
    publish_draft(writer, Intake(text.replace(line, "The tide is out."), "utf-8", b""))
    return writer


def pdf(client: Client, member: Member, **asked: str) -> Any:
    address = reverse("revised-pages-pdf", args=[member.production.public_id, 2])
    answer = client.get(address, asked)
    assert answer["Content-Type"] == "application/pdf", answer.content.decode()
    return pdfplumber.open(BytesIO(answer.content))


def asterisks(page: Any) -> list[dict[str, Any]]:
    return [char for char in page.chars if char["text"] == "*"]


def test_a_changed_line_has_an_asterisk_in_the_right_margin_and_no_other_has(
    two_drafts: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    with pdf(signed_in(crew), crew) as read:
        assert len(read.pages) > 3
        marks = [(page, char) for page in read.pages for char in asterisks(page)]
        ((page, mark),) = marks
        assert mark["x0"] > RIGHT_MARGIN
        assert mark["x1"] < float(page.width)
        line = page.crop((0, mark["top"] - 1, RIGHT_MARGIN, mark["bottom"] + 1)).extract_text()
        assert "The tide is out." in line


def test_changed_pages_alone_keep_their_numbers(
    two_drafts: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    client = signed_in(crew)
    with pdf(client, crew) as whole, pdf(client, crew, changed_only="on") as changed:
        (only,) = changed.pages
        assert f"{len(whole.pages)}." in only.extract_text().splitlines()[0]


def test_the_head_has_the_draft_its_colour_and_its_date(
    two_drafts: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    draft = two_drafts.production.drafts.current()
    assert draft is not None
    with pdf(signed_in(crew), crew) as read:
        head = read.pages[1].extract_text().splitlines()[0]
    assert head.startswith("Draft 2, rev. since draft 1 · Blue · ")
    assert str(draft.created_at.year) in head


def test_a_long_label_is_shortened_before_what_the_pages_are_revised_since(
    two_drafts: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    draft = two_drafts.production.drafts.current()
    assert draft is not None
    draft.label = "After the reading in the old ferry house by the sea"
    draft.save()
    with pdf(signed_in(crew), crew) as read:
        head = read.pages[1].extract_text().splitlines()[0]
    assert head.startswith("Draft 2, rev. since draft 1")
    assert " · Blue · " in head
    assert str(draft.created_at.year) in head


def test_the_paper_of_changed_pages_is_tinted_only_when_wanted(
    two_drafts: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    client = signed_in(crew)
    with pdf(client, crew) as plain, pdf(client, crew, tinted="on") as tinted:
        assert not any(page.rects for page in plain.pages)
        changed = [page for page in tinted.pages if any(char["text"] == "*" for char in page.chars)]
        assert 0 < len(changed) < len(tinted.pages)
        assert [page.page_number for page in tinted.pages if page.rects] == [page.page_number for page in changed]
        for page in changed:
            sheet = page.rects[0]
            assert (sheet["width"], sheet["height"]) == (page.width, page.height)
            assert sheet["non_stroking_color"] == pytest.approx([light / 255 for light in TINTS["blue"]], abs=0.01)
            type_colours = {char["non_stroking_color"] for char in page.chars if char["matrix"][1] == 0}
            assert type_colours <= {(0,), (0.0,), (0, 0, 0)}


def test_the_readers_name_stands_across_it_and_the_log_keeps_that_they_took_it(
    two_drafts: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    with pdf(signed_in(crew), crew, tinted="on") as read:
        slanted = "".join(char["text"] for char in read.pages[0].chars if char["matrix"][1] != 0)
    assert slanted == "Bo Finch"
    act = Act.objects.get(verb=Act.Verb.PRINTED_REVISION)
    assert act.person == crew.person
    assert (act.details["number"], act.details["since"]) == (2, 1)


def test_a_scene_that_is_cut_shows_as_omitted_with_its_number_and_an_asterisk(
    writer: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    publish_draft(writer, Intake(script("ANVIL BARGE CELLAR"), "utf-8", b""))
    lock_numbers(writer, seen=1)
    publish_draft(writer, Intake(scene("ANVIL") + scene("CELLAR"), "utf-8", b""))
    with pdf(signed_in(crew), crew, scene_numbers="on") as read:
        lines = [line for page in read.pages for line in page.extract_text().splitlines()]
        marks = [char for page in read.pages for char in asterisks(page)]
    (omitted,) = [line for line in lines if "OMITTED" in line]
    assert omitted.split() == ["2", "OMITTED", "2", "*"]
    assert len(marks) == 1


def test_where_nothing_that_prints_changed_there_are_no_changed_pages(
    writer: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    publish_draft(writer, Intake(script("ANVIL"), "utf-8", b""))
    publish_draft(writer, Intake("# Act\n\n" + script("ANVIL"), "utf-8", b""))
    address = reverse("revised-pages-pdf", args=[writer.production.public_id, 2])
    answer = signed_in(crew).get(address, {"changed_only": "on"})
    assert answer.status_code == 422
    assert "Nothing that prints changed since draft 1" in answer.content.decode()


def test_a_draft_that_is_not_earlier_is_refused(
    two_drafts: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    address = reverse("revised-pages-pdf", args=[crew.production.public_id, 2])
    assert signed_in(crew).get(address, {"since": "2"}).status_code == 422


def test_the_screen_says_how_much_changed_and_of_a_first_draft_that_nothing_came_before(
    two_drafts: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    client = signed_in(crew)
    shown = client.get(reverse("revised-pages", args=[crew.production.public_id, 2])).content.decode()
    assert "1 line changed" in " ".join(shown.split())
    first = client.get(reverse("revised-pages", args=[crew.production.public_id, 1])).content.decode()
    assert "Nothing came before it" in first
