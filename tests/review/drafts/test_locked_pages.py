"""Locking a production's pages: what the drafts get, what the screen says, and who may.

A page added behind locked page 12 is 12A (common practice in the trade).
"""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.access import Role
from review.drafts.acts import put_up_again, withdraw_draft
from review.drafts.numbering import NewDraftMeanwhile, PagesAreLocked, lock_numbers, unlock_numbers
from review.drafts.paging import LockedOtherwise, NumbersNotLocked, lock_pages, locked_and_free, unlock_pages
from review.drafts.scripts import laid_out
from review.drafts.texts import hash_text
from review.log import Act
from review.people.models import Department
from review.productions.models import PaperChoice, Production
from review.publishing.acts import publish_working
from review.rewriting.acts import begin_working
from review.rewriting.scene_acts import save_scene
from screenplay.page import in_pages
from tests.factories import make_member
from tests.review.locked_film import AS_LOCKED, GROWN, GROWN_TO, PIER, SHRUNK, WHOLE, lock_all, put_up
from tests.screenplay.next_draft.test_page_carrying import begins

if TYPE_CHECKING:
    from collections.abc import Callable

    from bs4.element import Tag
    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


def pages(draft: Draft) -> dict[str, str]:
    """What each page of a draft as it is stored begins with, by what it is called."""
    stored = type(draft).objects.select_related("production").get(pk=draft.pk)
    return begins(laid_out(stored).layout)


def address(member: Member) -> str:
    return reverse("locked-pages", args=[member.production.public_id])


def words(client: Client, at: str) -> str:
    return " ".join(BeautifulSoup(client.get(at).content, "html.parser").get_text(" ").split())


@pytest.fixture
def locked(writer: Member) -> Draft:
    """A draft of three pages, which are locked."""
    draft = put_up(writer, WHOLE)
    lock_all(writer)
    return draft


def test_pages_begin_where_they_began_through_three_drafts(writer: Member, locked: Draft) -> None:
    grown, shrunk = put_up(writer, GROWN), put_up(writer, SHRUNK)
    assert pages(locked) == AS_LOCKED
    assert pages(grown) == GROWN_TO
    assert pages(shrunk) == GROWN_TO
    assert pages(put_up(writer, f"{WHOLE}\nThe end.\n")) == GROWN_TO | {"3A": "The end."}


def test_a_draft_without_the_lock_fills_its_pages_afresh(writer: Member) -> None:
    put_up(writer, WHOLE)
    lock_numbers(writer, 1)
    grown = put_up(writer, GROWN)
    assert grown.locked_pages is None
    assert list(pages(grown)) == ["1", "2", "3", "4"]


def test_pages_are_locked_once_the_scene_numbers_are(writer: Member) -> None:
    put_up(writer, WHOLE)
    with pytest.raises(NumbersNotLocked):
        lock_pages(writer, 1)
    lock_numbers(writer, 1)
    assert [lock_pages(writer, 1), lock_pages(writer, 1)] == [True, False]
    act = Act.objects.get(verb=Act.Verb.LOCKED_PAGES)
    assert act.details == {"number": 1, "pages": ["1", "2", "3"]}


def test_scene_numbers_stay_locked_as_long_as_the_pages_have_them(
    writer: Member, locked: Draft, signed_in: SignIn
) -> None:
    with pytest.raises(PagesAreLocked):
        unlock_numbers(writer, 1)
    client, at = signed_in(writer), reverse("scene-numbers", args=[writer.production.public_id])
    assert "unlock the pages first" in words(client, at)
    assert client.post(at, {"act": "unlock", "draft": 1}).status_code == 409
    writer.production.refresh_from_db()
    assert writer.production.scene_numbers_locked_at is not None
    unlock_pages(writer, 1)
    assert unlock_numbers(writer, 1)


def test_lengths_that_locking_counts_otherwise_are_told_before_it_and_before_unlocking(
    writer: Member, signed_in: SignIn
) -> None:
    draft = put_up(writer, f"INT. SHED - NIGHT\n\nRain.\n\n===\n\n{PIER}\n\nRain.\n")
    lock_numbers(writer, 1)
    client = signed_in(writer)

    def lengths() -> list[str]:
        stored = type(draft).objects.select_related("production").get(pk=draft.pk)
        return [in_pages(scene.eighths) for scene in laid_out(stored).scenes]

    assert lengths() == ["1", "1/8"]
    told = words(client, address(writer))
    assert "1 INT. SHED - NIGHT 1, then 1/8 The paper" in told
    assert "the whole script from 1 1/8 to 2/8 pages" in told

    lock_pages(writer, 1)
    assert lengths() == ["1/8", "1/8"]
    assert "1 INT. SHED - NIGHT 1/8, then 1 " in words(client, address(writer))

    unlock_pages(writer, 1)
    assert lengths() == ["1/8", "1/8"]
    assert "/8, then" not in words(client, address(writer)), "for it was counted so when it was locked"


def test_where_no_length_changes_the_screen_says_so(writer: Member, signed_in: SignIn) -> None:
    put_up(writer, WHOLE)
    lock_numbers(writer, 1)
    assert "The text, the pages and the lengths of the scenes of Draft 1 stay as they are." in words(
        signed_in(writer), address(writer)
    )


def test_nothing_is_locked_when_another_draft_came_up_meanwhile(writer: Member) -> None:
    put_up(writer, WHOLE)
    lock_numbers(writer, 1)
    put_up(writer, GROWN)
    with pytest.raises(NewDraftMeanwhile):
        lock_pages(writer, 1)
    assert Production.objects.get(pk=writer.production_id).pages_locked_at is None


def test_unlocking_changes_no_draft_that_is_out_and_the_next_fills_its_pages_afresh(
    writer: Member, locked: Draft
) -> None:
    grown = put_up(writer, GROWN)
    before = pages(grown)
    assert unlock_pages(writer, 2)
    assert not unlock_pages(writer, 2)
    more = put_up(writer, GROWN + "\nMore.\n")
    assert pages(grown) == before
    assert more.locked_pages is None
    assert list(pages(more)) == ["1", "2", "3", "4"]


def test_locked_again_before_the_next_draft_all_is_as_it_was(writer: Member, locked: Draft) -> None:
    grown = put_up(writer, GROWN)
    before = pages(grown)
    unlock_pages(writer, 2)
    lock_pages(writer, 2)
    assert pages(grown) == before
    assert "2A" in pages(put_up(writer, GROWN + "\nMore.\n"))


def test_a_draft_keeps_the_paper_that_its_pages_were_locked_on(
    writer: Member, locked: Draft, signed_in: SignIn
) -> None:
    unlock_pages(writer, 1)
    Production.objects.update(paper=PaperChoice.A4)
    assert pages(locked) == AS_LOCKED
    with pytest.raises(LockedOtherwise):
        lock_pages(writer, 1)
    shown = words(signed_in(writer), address(writer))
    assert "The pages of Draft 1 were locked on US Letter, with other settings than now" in shown
    assert "Lock the pages" not in shown


def test_what_unlocking_changes_is_told_page_by_page(writer: Member, locked: Draft) -> None:
    told = locked_and_free(put_up(writer, SHRUNK))
    assert [(page.label, page.words, page.unlocked, page.begins_it) for page in told.pages] == [
        ("1", "INT. SHED - NIGHT", 1, True),
        ("2", "Line 27.", 2, True),
        ("3", "Line 53.", 2, False),
    ]
    assert [page.label for page in told.changed] == ["3"]
    assert told.unlocked == 3


def test_the_screen_locks_and_says_what_unlocking_would_change_before_it_is_done(
    writer: Member, signed_in: SignIn
) -> None:
    put_up(writer, WHOLE)
    client = signed_in(writer)
    assert "Lock the scene numbers first" in words(client, address(writer))
    assert client.post(address(writer), {"act": "lock", "draft": 1}).status_code == 409
    lock_numbers(writer, 1)
    assert "2 Line 27. scene 1 3 Line 53. scene 2" in words(client, address(writer))
    assert client.post(address(writer), {"act": "lock", "draft": 1}).status_code == 302
    put_up(writer, GROWN)
    shown = words(client, address(writer))
    assert "would have 4 pages, as now, and what begins these would be elsewhere:" in shown
    assert "2A EXT. PIER - DAY begins page 3 3 Line 53. within page 3" in shown
    assert "changed pages alone are handed out no more" in shown
    assert client.post(address(writer), {"act": "unlock", "draft": 2}).status_code == 302
    writer.production.refresh_from_db()
    assert writer.production.pages_locked_at is None


def test_a_form_from_before_a_new_draft_changes_nothing(writer: Member, locked: Draft, signed_in: SignIn) -> None:
    put_up(writer, GROWN)
    client = signed_in(writer)
    assert client.post(address(writer), {"act": "unlock", "draft": 1}).status_code == 409
    assert client.post(address(writer), {"act": "burn", "draft": 2}).status_code == 422
    assert not Act.objects.filter(verb=Act.Verb.UNLOCKED_PAGES).exists()


def test_without_a_draft_there_is_nothing_to_lock(writer: Member, signed_in: SignIn) -> None:
    assert "No draft yet" in words(signed_in(writer), address(writer))


def test_a_producer_may_lock_and_crew_may_not(
    production: Production, writer: Member, crew: Member, signed_in: SignIn
) -> None:
    put_up(writer, WHOLE)
    lock_numbers(writer, 1)
    producer = make_member(production, Role.PRODUCER, Department.PRODUCTION, "Dee Holt")
    assert signed_in(crew).post(address(crew), {"act": "lock", "draft": 1}).status_code == 403
    assert signed_in(producer).post(address(producer), {"act": "lock", "draft": 1}).status_code == 302


def test_without_a_withdrawn_draft_the_next_goes_on_from_the_one_before_it(writer: Member, locked: Draft) -> None:
    wrong = put_up(writer, SHRUNK)
    withdraw_draft(writer, wrong, "The wrong file.")
    third = put_up(writer, WHOLE.replace("Line 10.", "Line 10.\n\nEarly."))
    assert pages(third) == AS_LOCKED | {"1A": "Line 26."}
    put_up_again(writer, wrong)
    assert pages(wrong) == AS_LOCKED
    assert "1A" in pages(put_up(writer, GROWN))


def test_a_draft_from_before_the_lock_that_is_current_again_has_its_pages_locked_as_they_were(
    writer: Member,
) -> None:
    first, second = put_up(writer, SHRUNK), put_up(writer, WHOLE)
    as_printed = pages(first)
    lock_all(writer)
    withdraw_draft(writer, second, "The wrong file.")
    first.refresh_from_db()
    assert first.locked_pages is not None
    assert pages(first) == as_printed
    put_up_again(writer, second)
    assert pages(second) == AS_LOCKED


def test_a_draft_put_up_before_the_lock_takes_the_locked_pages_over_when_it_is_put_up_again(writer: Member) -> None:
    put_up(writer, WHOLE)
    second = put_up(writer, GROWN)
    withdraw_draft(writer, second, "Too early.")
    lock_all(writer)
    put_up_again(writer, second)
    assert pages(second) == GROWN_TO


def test_a_working_draft_goes_on_from_the_pages_of_a_draft_that_was_put_up_meanwhile(
    writer: Member, locked: Draft, signed_in: SignIn
) -> None:
    working = begin_working(writer, locked, uuid.uuid4())
    scene = working.scenes.get(ordinal=1)
    save_scene(writer, scene, scene.text.replace("Line 5.", "Line 5.\n\nEarly."), scene.version, uuid.uuid4())
    put_up(writer, GROWN)
    client = signed_in(writer)
    client.post(reverse("working-catch-up", args=[writer.production.public_id]))
    shown = {row.get_text(" ", strip=True) for row in working_rows(client, writer)}
    assert any("page 2A" in row for row in shown)
    working.refresh_from_db()
    draft = publish_working(writer, working, "", "", {}, hash_text(working.joined_text()))
    assert pages(draft) == AS_LOCKED | {"1A": "Line 26.", "2A": PIER}


def test_a_draft_written_on_from_an_older_one_has_the_current_pages(writer: Member, locked: Draft) -> None:
    second = put_up(writer, GROWN)
    working = begin_working(writer, second, uuid.uuid4(), restored=locked)
    assert working.joined_text() == WHOLE
    scene = working.scenes.get(ordinal=2)
    save_scene(writer, scene, scene.text.replace("Line 79.", "The end."), scene.version, uuid.uuid4())
    draft = publish_working(writer, working, "", "", {}, hash_text(working.joined_text()))
    assert pages(draft) == GROWN_TO


def working_rows(client: Client, writer: Member) -> list[Tag]:
    page = client.get(reverse("working", args=[writer.production.public_id])).content
    return BeautifulSoup(page, "html.parser").select("main li")


def test_withdrawing_a_draft_says_what_becomes_of_its_pages(writer: Member, locked: Draft, signed_in: SignIn) -> None:
    second = put_up(writer, GROWN)
    at = reverse("draft-withdraw", args=[writer.production.public_id, 2])
    client = signed_in(writer)
    assert "The pages of the next draft go on from those of Draft 1" in words(client, at)
    withdraw_draft(writer, second, "The wrong file.")
    assert "It has the pages again that it was put up with" in words(client, at)
