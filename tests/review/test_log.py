"""The log of acts."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

import pytest
from django.db.models import ProtectedError
from django.utils import timezone

from review import log
from review.log import Act, AppendOnly

if TYPE_CHECKING:
    from review.people.models import Member


@pytest.fixture
def act(writer: Member) -> Act:
    return log.record(writer.person, Act.Verb.INVITED, writer.production, "abc", name="Ida")


def test_it_keeps_who_did_what_about_which_record_and_when(act: Act, writer: Member) -> None:
    kept = Act.objects.get()
    assert (kept.person, kept.production, kept.verb, kept.about) == (
        writer.person,
        writer.production,
        Act.Verb.INVITED,
        "abc",
    )
    assert kept.details == {"name": "Ida"}
    assert timezone.now() - kept.at < timedelta(minutes=1)


def test_an_entry_cannot_be_changed(act: Act) -> None:
    act.about = "other"
    with pytest.raises(AppendOnly):
        act.save()
    with pytest.raises(AppendOnly):
        Act.objects.update(about="other")
    with pytest.raises(AppendOnly):
        Act.objects.bulk_update([act], ["about"])
    with pytest.raises(AppendOnly):
        Act.objects.update_or_create(pk=act.pk, defaults={"about": "other"})
    assert Act.objects.get().about == "abc"


def test_an_entry_cannot_be_removed(act: Act) -> None:
    with pytest.raises(AppendOnly):
        act.delete()
    with pytest.raises(AppendOnly):
        Act.objects.all().delete()
    assert Act.objects.count() == 1


def test_nor_can_those_it_tells_of(act: Act, writer: Member) -> None:
    with pytest.raises(ProtectedError):
        writer.production.delete()
    writer.delete()
    with pytest.raises(ProtectedError):
        act.person.delete()


def test_what_is_told_of_the_past_is_dated_there_and_the_next_thing_is_not(writer: Member) -> None:
    then = timezone.now() - timedelta(days=9)
    with log.happened_at(then):
        log.record(writer.person, Act.Verb.JOINED, writer.production)
    log.record(writer.person, Act.Verb.JOINED, writer.production)
    now, past = Act.objects.all()
    assert past.at == then
    assert now.at > then + timedelta(days=8)


def test_every_verb_fits_its_column() -> None:
    length = Act._meta.get_field("verb").max_length  # noqa: SLF001 - Django's own name for it
    assert length is not None
    assert max(map(len, Act.Verb.values)) <= length
