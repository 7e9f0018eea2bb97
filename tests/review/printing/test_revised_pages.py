"""Revised pages as PDF: asterisks, header, tint, changed pages only, the reader's name, the log.

Read back with pdfplumber, from outside. That changed lines have an asterisk in the right margin is common practice.
"""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace
from io import BytesIO
from typing import TYPE_CHECKING, Any

import pdfplumber
import pytest
from bs4 import BeautifulSoup
from django.conf import settings
from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.test import Client
from django.urls import reverse

from review.access import Role
from review.drafts.numbering import lock_numbers
from review.log import Act
from review.people.models import Department
from review.printing.acts import PagesNotLocked, print_revision
from review.printing.revised_pages import revised_since
from review.publishing.acts import publish_draft
from screenplay.intake import Intake
from screenplay.page.page_labels import first_of
from screenplay.page.scene_numbers import reading_order
from screenplay.tints import TINTS
from tests.factories import make_draft, make_member, make_production
from tests.pdf import page_labels, sheets
from tests.review.locked_film import GROWN, WHOLE, lock_all, put_up
from tests.review.sessions import begin_session
from tests.screenplay.next_draft.test_numbering import scene, script, words
from tests.screenplay.next_draft.test_page_carrying_laws import Writer

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from pytest_django import DjangoDbBlocker

    from review.people.models import Member

pytestmark = pytest.mark.django_db

TEXT_WIDTH = 62  # columns, from the text's left edge: asterisks stand behind them
RIGHT_MARGIN = 7.5 * 72  # points from the left edge of US Letter, where the text ends
LONG = "ANVIL BARGE CELLAR DOCK EAVES FORGE GABLE HEARTH IVORY JETTY"


@pytest.fixture(scope="module")
def reader_of_two(once_a_module: DjangoDbBlocker) -> Member:
    with once_a_module.unblock():
        production, text = make_production(), script(LONG)
        writer = make_member(production, Role.WRITER, Department.WRITING, "Ada Wren")
        line = words("JETTY", 1).splitlines()[-1]
        for number, each in enumerate((text, text.replace(line, "The tide is out.")), 1):
            make_draft(writer, each, number)
        return make_member(production, name="Bo Finch")


@pytest.fixture
def two_drafts(reader_of_two: Member, db: None) -> Member:
    """A reader of a draft of several pages, and of the next with a line of its last scene reworded."""
    return deepcopy(reader_of_two)


@pytest.fixture(scope="module")
def printed(reader_of_two: Member, once_a_module: DjangoDbBlocker) -> Iterator[tuple[Any, Any]]:
    """Their revised pages, plain and tinted, as that reader gets them."""
    with once_a_module.unblock(), transaction.atomic():
        client = Client()
        client.cookies[settings.SESSION_COOKIE_NAME] = begin_session(reader_of_two.person)
        read = pdf(client, reader_of_two), pdf(client, reader_of_two, tinted="on")
        transaction.set_rollback(True)
    with read[0], read[1]:
        yield read


@pytest.fixture
def plain(printed: tuple[Any, Any]) -> Any:
    return printed[0]


@pytest.fixture
def locked(writer: Member) -> Member:
    """A draft of three pages, which are locked."""
    put_up(writer, WHOLE)
    lock_all(writer)
    return writer


def pdf(client: Client, member: Member, **asked: str) -> Any:
    address = reverse("revised-pages-pdf", args=[member.production.public_id, 2])
    answer = client.get(address, asked)
    assert answer["Content-Type"] == "application/pdf", answer.content.decode()
    return pdfplumber.open(BytesIO(answer.content))


def pdf_bytes(client: Client, member: Member, number: int = 2, name: str = "revised-pages-pdf", **asked: str) -> bytes:
    answer = client.get(reverse(name, args=[member.production.public_id, number]), asked)
    assert answer["Content-Type"] == "application/pdf", answer.content.decode()
    return answer.content


def copy(client: Client, member: Member, number: int, name: str = "draft-pdf", **asked: str) -> dict[str, list[str]]:
    """What is printed on each sheet of a PDF, line by line, by what the sheet is called: asterisks apart."""
    data = pdf_bytes(client, member, number, name, **asked)
    printed = [[line[:TEXT_WIDTH].rstrip() for line in sheet.lines] for sheet in sheets(data)]
    return dict(zip(page_labels(data), printed, strict=True))


def told(client: Client, member: Member, number: int, **asked: int) -> str:
    """What the screen of a draft's revised pages reads."""
    at = reverse("revised-pages", args=[member.production.public_id, number])
    return " ".join(BeautifulSoup(client.get(at, asked).content, "html.parser").get_text(" ").split())


def asterisks(page: Any) -> list[dict[str, Any]]:
    return [char for char in page.chars if char["text"] == "*"]


def test_a_changed_line_has_an_asterisk_in_the_right_margin_and_no_other_has(plain: Any) -> None:
    assert len(plain.pages) > 3
    marks = [(page, char) for page in plain.pages for char in asterisks(page)]
    ((page, mark),) = marks
    assert mark["x0"] > RIGHT_MARGIN
    assert mark["x1"] < float(page.width)
    line = page.crop((0, mark["top"] - 1, RIGHT_MARGIN, mark["bottom"] + 1)).extract_text()
    assert "The tide is out." in line


def test_changed_pages_alone_keep_what_they_are_called(
    locked: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    put_up(locked, GROWN)
    data = pdf_bytes(signed_in(crew), crew, changed_only="on")
    assert page_labels(data) == ["2", "2A"]
    assert [sheet.head[-1].split()[-1] for sheet in sheets(data)] == ["2.", "2A."]


def test_changed_pages_alone_are_not_handed_out_where_pages_are_not_locked(
    two_drafts: Member, signed_in: Callable[[Member], Client]
) -> None:
    crew = two_drafts
    client, at = signed_in(crew), [crew.production.public_id, 2]
    shown = client.get(reverse("revised-pages", args=at)).content.decode()
    assert "changed_only" not in shown
    answer = client.get(reverse("revised-pages-pdf", args=at), {"changed_only": "on"})
    assert answer.status_code == 422
    assert "Changed pages alone would not fit into a printed copy. The pages are not locked" in answer.content.decode()
    since, draft = crew.production.drafts.all()
    with pytest.raises(PagesNotLocked):
        print_revision(crew, revised_since(since, draft), scene_numbers=False, changed_only=True, tinted=False)
    assert not Act.objects.filter(verb=Act.Verb.PRINTED_REVISION).exists()


def test_a_draft_of_another_production_is_no_earlier_one(two_drafts: Member) -> None:
    draft = two_drafts.production.drafts.get(number=2)
    elsewhere = make_draft(make_member(make_production("Elsewhere")))
    revised = replace(revised_since(two_drafts.production.drafts.get(number=1), draft), since=elsewhere)
    with pytest.raises(PermissionDenied, match="another production"):
        print_revision(two_drafts, revised, scene_numbers=False, changed_only=False, tinted=False)
    assert not Act.objects.filter(verb=Act.Verb.PRINTED_REVISION).exists()


def test_where_pages_are_not_locked_all_are_swapped_from_the_first_change_on(
    writer: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    put_up(writer, WHOLE)
    put_up(writer, GROWN)
    shown = told(signed_in(crew), crew, 2)
    assert "In a printed copy of draft 1, on US Letter: Take out pages 2 and 3 Put in pages 2 to 4" in shown
    assert "all of them are swapped from the first change on" in shown
    assert "locked the changed pages alone will do" not in shown
    assert "Once they are locked , the changed pages alone will do" in told(signed_in(writer), writer, 2)
    lock_all(writer)
    put_up(writer, f"{GROWN}\nThe end.\n")
    shown = told(signed_in(crew), crew, 3, since=1)
    assert "The pages of draft 1 were not locked yet: all of them are swapped from the first change on." in shown
    assert "The scene numbers were not locked in draft 1, and now stand beside each heading" in shown


def test_where_pages_are_locked_the_screen_says_which_come_out_and_which_go_in(
    locked: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    put_up(locked, f"Title: Slack Water\n\n{GROWN}")
    shown = told(signed_in(crew), crew, 2)
    assert "In a printed copy of draft 1: Take out page 2 Put in the title page, and pages 2 and 2A" in shown
    assert "Changed pages only, to swap in a printed copy: the title page, and pages 2 and 2A" in shown
    assert page_labels(pdf_bytes(signed_in(crew), crew, changed_only="on")) == ["Title", "2", "2A"]


def test_an_asterisk_is_on_a_page_that_is_swapped_alone(
    locked: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    put_up(locked, WHOLE.replace("\n\nLine 52.", ""))  # the last line of page 2
    with pdf(signed_in(crew), crew) as whole:
        assert [bool(asterisks(page)) for page in whole.pages] == [False, True, False]
    shown = told(signed_in(crew), crew, 2)
    assert "1 line changed on 1 of 3 pages" in shown
    assert "Take out page 2 Put in page 2 " in shown


@pytest.mark.parametrize("seed", [2, 3])
def test_the_changed_pages_swapped_into_the_printed_old_copy_make_the_new_one_line_for_line(
    writer: Member, crew: Member, signed_in: Callable[[Member], Client], seed: int
) -> None:
    pen, client = Writer(seed), signed_in(crew)
    before = put_up(writer, pen.text)
    lock_all(writer)
    old = copy(client, crew, 1)
    for number in (2, 3):
        pen.rewrite()
        draft = put_up(writer, pen.text)
        before.refresh_from_db()
        swap = revised_since(before, draft).swap
        new, changed = copy(client, crew, number), copy(client, crew, number, "revised-pages-pdf", changed_only="on")
        kept = {label: lines for label, lines in old.items() if label not in swap.out}
        assert not kept.keys() & changed.keys()
        made = sorted((kept | changed).items(), key=lambda sheet: reading_order(first_of(sheet[0])) or ())
        assert made == list(new.items())
        before, old = draft, new


def test_the_head_of_revised_pages_alone_says_since_when_and_their_colour(two_drafts: Member, plain: Any) -> None:
    draft = two_drafts.production.drafts.current()
    assert draft is not None
    heads = {page.page_number: page.extract_text().splitlines()[0] for page in plain.pages[1:]}
    revised = {page.page_number for page in plain.pages if asterisks(page)}
    assert {number for number, head in heads.items() if "rev. since" in head} == revised
    assert 0 < len(revised) < len(heads)
    for number, head in heads.items():
        assert head.startswith("Draft 2, rev. since draft 1 · Blue · " if number in revised else "Draft 2 · ")
        assert str(draft.created_at.year) in head


def test_a_long_label_is_shortened_before_what_the_pages_are_revised_since(
    two_drafts: Member, signed_in: Callable[[Member], Client]
) -> None:
    draft = two_drafts.production.drafts.current()
    assert draft is not None
    draft.label = "After the reading in the old ferry house by the sea"
    draft.save()
    with pdf(signed_in(two_drafts), two_drafts) as read:
        revised = next(page for page in read.pages[1:] if asterisks(page))
        head = revised.extract_text().splitlines()[0]
    assert head.startswith("Draft 2, rev. since draft 1")
    assert " · Blue · " in head
    assert str(draft.created_at.year) in head


def test_the_paper_of_changed_pages_is_tinted_only_when_wanted(printed: tuple[Any, Any]) -> None:
    plain, tinted = printed
    assert not any(page.rects for page in plain.pages)
    changed = [page for page in tinted.pages if asterisks(page)]
    assert 0 < len(changed) < len(tinted.pages)
    assert [page.page_number for page in tinted.pages if page.rects] == [page.page_number for page in changed]
    for page in changed:
        sheet = page.rects[0]
        assert (sheet["width"], sheet["height"]) == (page.width, page.height)
        assert sheet["non_stroking_color"] == pytest.approx([light / 255 for light in TINTS["blue"]], abs=0.01)
        type_colours = {char["non_stroking_color"] for char in page.chars if char["matrix"][1] == 0}
        assert type_colours <= {(0,), (0.0,), (0, 0, 0)}


def test_the_readers_name_stands_across_it_and_the_log_keeps_that_they_took_it(
    two_drafts: Member, signed_in: Callable[[Member], Client]
) -> None:
    crew = two_drafts
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


def test_a_draft_that_is_not_earlier_is_refused(two_drafts: Member, signed_in: Callable[[Member], Client]) -> None:
    address = reverse("revised-pages-pdf", args=[two_drafts.production.public_id, 2])
    assert signed_in(two_drafts).get(address, {"since": "2"}).status_code == 422


def test_the_screen_says_how_much_changed_and_of_a_first_draft_that_nothing_came_before(
    two_drafts: Member, signed_in: Callable[[Member], Client]
) -> None:
    client, crew = signed_in(two_drafts), two_drafts
    shown = client.get(reverse("revised-pages", args=[crew.production.public_id, 2])).content.decode()
    assert "1 line changed" in " ".join(shown.split())
    first = client.get(reverse("revised-pages", args=[crew.production.public_id, 1])).content.decode()
    assert "Nothing came before it" in first
