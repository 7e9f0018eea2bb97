"""Locking a production's scene numbers: the screen, the acts, and three drafts under the lock."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from django.urls import reverse

from review.access import Role
from review.drafts.numbering import NewDraftMeanwhile, lock_numbers, numbered_scenes, unlock_numbers, unlocked_numbers
from review.drafts.scripts import laid_out
from review.log import Act
from review.people.models import Department
from review.publishing.acts import publish_draft
from screenplay.intake import Intake
from tests.factories import make_member
from tests.screenplay.next_draft.test_numbering import script

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.productions.models import Production

pytestmark = pytest.mark.django_db


def published(writer: Member, names: str) -> Draft:
    draft, _ = publish_draft(writer, Intake(script(names), "utf-8", b""))
    return draft


def numbers(draft: Draft) -> list[str]:
    """The numbers of a draft's scenes, OMITTED ones in brackets."""
    return [each.number if each.ordinal else f"({each.number})" for each in numbered_scenes(draft)]


def page(client: Client, member: Member) -> str:
    return client.get(reverse("scene-numbers", args=[member.production.public_id])).content.decode()


def test_numbers_hold_through_three_drafts(writer: Member) -> None:
    published(writer, "ANVIL BARGE CELLAR DOCK")
    assert lock_numbers(writer, seen=1)
    second = published(writer, "ANVIL GABLE CELLAR DOCK BARGE")
    third = published(writer, "HEARTH ANVIL GABLE CELLAR BARGE")
    fourth = published(writer, "HEARTH ANVIL GABLE CELLAR DOCK BARGE")
    assert numbers(second) == ["1", "1A", "3", "4", "2"]
    assert numbers(third) == ["A1", "1", "1A", "3", "(4)", "2"]
    assert numbers(fourth) == ["A1", "1", "1A", "3", "4", "2"]
    assert [scene.number for scene in laid_out(third).scenes] == ["A1", "1", "1A", "3", "2"]


def test_a_draft_without_the_lock_has_no_numbers_of_its_own(writer: Member) -> None:
    assert published(writer, "ANVIL BARGE").scene_numbers is None


def test_locking_is_logged_with_the_numbers(writer: Member) -> None:
    draft = published(writer, "ANVIL BARGE")
    lock_numbers(writer, seen=1)
    act = Act.objects.get(verb=Act.Verb.LOCKED_NUMBERS)
    assert (act.person, act.about, act.details["scene_numbers"]) == (writer.person, draft.public_id, ["1", "2"])


def test_locking_twice_is_one_act(writer: Member) -> None:
    published(writer, "ANVIL BARGE")
    assert [lock_numbers(writer, seen=1), lock_numbers(writer, seen=1)] == [True, False]
    assert Act.objects.filter(verb=Act.Verb.LOCKED_NUMBERS).count() == 1


def test_nothing_is_locked_when_another_draft_came_up_meanwhile(writer: Member, production: Production) -> None:
    published(writer, "ANVIL BARGE")
    published(writer, "ANVIL BARGE CELLAR")
    with pytest.raises(NewDraftMeanwhile):
        lock_numbers(writer, seen=1)
    production.refresh_from_db()
    assert production.scene_numbers_locked_at is None


def test_unlocking_changes_no_draft_that_is_out_and_numbers_the_next_afresh(writer: Member) -> None:
    published(writer, "ANVIL BARGE")
    lock_numbers(writer, seen=1)
    second = published(writer, "ANVIL GABLE BARGE")
    assert unlock_numbers(writer, seen=2)
    third = published(writer, "ANVIL GABLE CELLAR BARGE")
    second.refresh_from_db()
    assert numbers(second) == ["1", "1A", "2"]
    assert third.scene_numbers is None
    assert not unlock_numbers(writer, seen=3)


def test_locked_again_before_the_next_draft_all_is_as_it_was(writer: Member) -> None:
    published(writer, "ANVIL BARGE CELLAR")
    lock_numbers(writer, seen=1)
    second = published(writer, "ANVIL GABLE CELLAR")
    before = second.scene_numbers
    unlock_numbers(writer, seen=2)
    lock_numbers(writer, seen=2)
    second.refresh_from_db()
    assert second.scene_numbers == before
    assert numbers(published(writer, "ANVIL GABLE CELLAR DOCK")) == ["1", "(2)", "2A", "3", "3A"]


def test_what_unlocking_changes_is_told_scene_by_scene(writer: Member) -> None:
    published(writer, "ANVIL BARGE CELLAR")
    lock_numbers(writer, seen=1)
    second = published(writer, "ANVIL GABLE CELLAR")
    told = [(each.scene.number, each.number) for each in unlocked_numbers(second)]
    assert told == [("2", ""), ("2A", "2")]


def test_the_screen_shows_the_numbers_that_will_stand(writer: Member, signed_in: Callable[[Member], Client]) -> None:
    published(writer, "ANVIL BARGE")
    shown = page(signed_in(writer), writer)
    assert "Lock the scene numbers" in shown
    assert "INT. BARGE - DAY" in shown


def test_the_screen_locks_and_says_what_unlocking_would_change(
    writer: Member, signed_in: Callable[[Member], Client]
) -> None:
    published(writer, "ANVIL BARGE CELLAR")
    client = signed_in(writer)
    address = reverse("scene-numbers", args=[writer.production.public_id])
    assert client.post(address, {"act": "lock", "draft": 1}).status_code == 302
    published(writer, "ANVIL GABLE CELLAR")
    shown = " ".join(page(client, writer).split())
    assert "becomes <b>2</b>" in shown
    assert "OMITTED, was INT. BARGE - DAY</span> <span>vanishes" in shown
    assert client.post(address, {"act": "unlock", "draft": 2}).status_code == 302
    writer.production.refresh_from_db()
    assert writer.production.scene_numbers_locked_at is None


def test_a_form_from_before_a_new_draft_changes_nothing(writer: Member, signed_in: Callable[[Member], Client]) -> None:
    published(writer, "ANVIL BARGE")
    published(writer, "ANVIL BARGE CELLAR")
    address = reverse("scene-numbers", args=[writer.production.public_id])
    answer = signed_in(writer).post(address, {"act": "lock", "draft": 1})
    assert answer.status_code == 409
    assert not Act.objects.filter(verb=Act.Verb.LOCKED_NUMBERS).exists()


def test_without_a_draft_there_is_nothing_to_lock(writer: Member, signed_in: Callable[[Member], Client]) -> None:
    assert "No draft yet" in page(signed_in(writer), writer)


def test_a_producer_may_lock_and_crew_may_not(
    production: Production, writer: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    published(writer, "ANVIL BARGE")
    producer = make_member(production, Role.PRODUCER, Department.PRODUCTION, "Dee Holt")
    address = reverse("scene-numbers", args=[production.public_id])
    assert signed_in(crew).post(address, {"act": "lock", "draft": 1}).status_code == 403
    assert signed_in(producer).post(address, {"act": "lock", "draft": 1}).status_code == 302


def test_the_pages_and_the_scene_list_show_locked_numbers_and_omitted(
    writer: Member, crew: Member, signed_in: Callable[[Member], Client]
) -> None:
    published(writer, "ANVIL BARGE CELLAR")
    lock_numbers(writer, seen=1)
    published(writer, "ANVIL GABLE CELLAR")
    shown = signed_in(crew).get(reverse("script", args=[writer.production.public_id, 2])).content.decode()
    assert '<span class="margin-number margin-number-left">2</span>OMITTED<span' in shown
    assert '<span class="margin-number margin-number-left">2A</span>' in shown


def test_the_settings_say_whether_they_are_locked(writer: Member, signed_in: Callable[[Member], Client]) -> None:
    published(writer, "ANVIL BARGE")
    client, address = signed_in(writer), reverse("settings", args=[writer.production.public_id])
    assert "See or lock them" in client.get(address).content.decode()
    lock_numbers(writer, seen=1)
    assert "See or unlock them" in client.get(address).content.decode()
