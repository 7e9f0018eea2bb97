"""Loading the demo."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

import pytest
from django.urls import reverse
from django.utils import timezone

from review.access import Deed, Role, may
from review.decisions.models import Decision
from review.demo import load
from review.demo.load import (
    WITH_LINKS,
    DemoPeople,
    NoSuchPlace,
    demo_is_loaded,
    demo_links,
    span_of,
)
from review.demo.talks import read_talks
from review.drafts.models import Draft
from review.log import Act
from review.notes.models import Audience, Fate, Note, NoteKind, Placement, Reply
from review.people.models import Member, Person, SignInLink, hash_token
from review.productions.models import Production
from screenplay import Span

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


def test_it_is_one_production_with_two_drafts(people: DemoPeople) -> None:
    assert Production.objects.get() == people.production
    assert [(draft.number, draft.colour) for draft in Draft.objects.all()] == [(1, "White"), (2, "Blue")]


def test_everybody_it_tells_of_is_in_and_can_come_in_by_links_alone(people: DemoPeople) -> None:
    told = load.read_demo()["people"]
    assert {member.person.email for member in Member.objects.all()} == {person["email"] for person in told}
    assert not any(person.has_usable_password() for person in Person.objects.all())
    assert all(person.email.endswith("@example.org") for person in Person.objects.all())  # reserved by RFC 2606
    assert may(people.writer, Deed.DECIDE)


def test_every_note_reply_and_decision_it_tells_of_is_there(people: DemoPeople) -> None:
    told = load.read_demo()["notes"]
    said = [each for talk in read_talks() for each in talk["said"]]
    assert Note.objects.count() == len(told) + len(said)
    assert Reply.objects.count() == sum(len(note.get("replies", [])) for note in told)
    assert Decision.objects.count() == sum("decision" in note for note in told + said)
    assert Note.objects.exclude(wording=None).count() == sum("wording" in note for note in told)


def test_there_are_notes_from_six_departments_and_more_in_every_kind_and_state(people: DemoPeople) -> None:
    assert Note.objects.count() >= 40
    assert Note.objects.values("author__department").distinct().count() >= 6
    assert set(Note.objects.values_list("kind", flat=True)) == set(NoteKind.values)
    assert set(Decision.objects.values_list("outcome", flat=True)) == {"accepted", "declined", "parked"}
    assert Note.objects.filter(decisions=None).exists()
    assert Note.objects.filter(audience=Audience.WRITER).exists()


def test_a_scene_and_a_character_have_a_note_that_followed_them(people: DemoPeople) -> None:
    second = Draft.objects.get(number=2)
    left = Placement.objects.filter(draft=second, note__taken_down_by=None)
    scene, someone = (left.get(note__subject=subject) for subject in ("scene", "character"))
    assert second.text.splitlines()[(scene.first_line or 0) - 1] == "INT. TICKET OFFICE - NIGHT"
    assert (someone.character, someone.note.character) == ("PETTIFER", "HARGREAVE")


def test_every_note_on_the_first_draft_was_carried_to_the_second(people: DemoPeople) -> None:
    second = Draft.objects.get(number=2)
    fates = Counter(Placement.objects.filter(draft=second).values_list("fate", flat=True))
    assert fates.total() == Note.objects.filter(draft__number=1).count()
    assert set(fates) == set(Fate.values)


def test_things_happened_one_after_the_other_and_not_in_the_future(people: DemoPeople) -> None:
    first, second = Draft.objects.all()
    for note in Note.objects.select_related("draft"):
        assert note.draft.created_at < note.created_at < timezone.now()
        moments = [answer.created_at for answer in note.replies.all()]
        assert moments == sorted(moments)
        assert all(note.created_at < moment < timezone.now() for moment in moments)
        assert all(note.created_at < decision.created_at < timezone.now() for decision in note.decisions.all())
    assert max(note.created_at for note in first.notes.all()) < second.created_at


def test_every_act_of_it_is_in_the_log(people: DemoPeople) -> None:
    verbs = Counter(Act.objects.values_list("verb", flat=True))
    assert verbs[Act.Verb.PUBLISHED_DRAFT] == 2
    assert verbs[Act.Verb.LEFT_NOTE] == Note.objects.count()
    assert verbs[Act.Verb.DECIDED] == Decision.objects.count()
    assert verbs[Act.Verb.JOINED] == Member.objects.count() - 1


def test_the_links_are_for_the_writer_two_heads_of_department_and_one_of_the_cast(people: DemoPeople) -> None:
    assert demo_is_loaded()
    links = dict(demo_links())
    names = [label.split(",")[0] for label in links]
    assert names == [people.members[key].name for key in WITH_LINKS]
    assert [people.members[key].role for key in WITH_LINKS] == [Role.WRITER, Role.CREW, Role.CREW, Role.CAST]
    for token in links.values():
        link = SignInLink.objects.get(token_hash=hash_token(token))
        assert (link.local_only, link.single_use, link.state) == (True, False, "open")


def test_its_screens_open(people: DemoPeople, signed_in: SignIn) -> None:
    for member in (people.members[key] for key in WITH_LINKS):
        response = signed_in(member).get(reverse("notes", args=[people.production.public_id]), {"state": "all"})
        assert response.status_code == 200


LINES = ["ABEL", "It hums.", "", "It hums.", "He listens to the cable."]


def test_a_place_is_found_by_its_words() -> None:
    assert span_of({"from": "It hums."}, LINES) == Span(2, 0, 2, 8)
    assert span_of({"from": "It hums.", "nth": 2}, LINES) == Span(4, 0, 4, 8)
    assert span_of({"from": "It hums.", "to": "He listens to the cable."}, LINES) == Span(2, 0, 5, 24)
    assert span_of({"from": "He listens to the cable.", "words": "the cable"}, LINES) == Span(5, 14, 5, 23)


@pytest.mark.parametrize(
    "told",
    [
        {"from": "It sings."},
        {"from": "It hums.", "nth": 3},
        {"from": "ABEL", "to": "KIT"},
        {"from": "ABEL", "words": "X"},
    ],
)
def test_words_that_are_not_there_are_no_place(told: dict[str, Any]) -> None:
    with pytest.raises(NoSuchPlace):
        span_of(told, LINES)


def test_the_log_tells_when_each_thing_happened_not_when_it_was_loaded(people: DemoPeople) -> None:
    for note in Note.objects.all():
        assert Act.objects.get(verb=Act.Verb.LEFT_NOTE, about=note.public_id).at == note.created_at
    for draft in Draft.objects.all():
        assert Act.objects.get(verb=Act.Verb.PUBLISHED_DRAFT, about=draft.public_id).at == draft.created_at
    assert all(act.at < timezone.now() for act in Act.objects.all())
