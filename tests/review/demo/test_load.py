"""The demo as it is loaded, with its readings and its talks: all in one module, which loads it once."""

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
from review.demo.readings import read_readings
from review.demo.talks import read_talks
from review.drafts.models import Draft
from review.drafts.scripts import laid_out
from review.log import Act
from review.notes.models import Audience, Fate, Note, NoteKind, Placement, Reply
from review.people.models import Member, Person, SignInLink, hash_token
from review.productions.models import Production
from review.readers.models import Reader, Reading
from review.readings.compared import compared
from review.readings.learned import learned
from review.readings.models import ClarityMark
from review.readings.progress import reader_rows
from review.readings.question_models import BlindAnswer
from review.talks.agenda import agenda
from review.talks.models import Talk
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


# --- its readings: what they tell at one look


def test_it_has_a_closed_reading_of_the_first_draft_and_an_open_blind_one_of_the_second(people: DemoPeople) -> None:
    first, second = Reading.objects.order_by("draft__number")
    assert (first.is_open, second.is_open, second.is_blind) == (False, True, True)
    assert second.until >= timezone.localdate()
    rows = reader_rows(second)
    assert [row.read for row in rows] == [28, 28, 28, 25, 20, 9]
    assert sum(row.reader.finished_at is not None for row in rows) == 3


def test_the_open_reading_shows_at_one_look_which_three_scenes_fail_and_why(people: DemoPeople) -> None:
    found = learned(people.writer, Reading.objects.get(draft__number=2))
    assert found.sentence == (
        "Two scenes lose readers, one is slow. Scene 19 EXT. FERRY - DECK - CONTINUOUS loses Aoife Brandt (“Where was"
        " Tuck last?”), Bex Tannahill (“where is Tuck, and who has gone to the quarry”) and Femi Osgood (“Tuck is"
        " where?”). Most say “Tuck”. Scene 23 INT. CHANDLER'S ROW - BACK BEDROOM - NIGHT loses Bex Tannahill (“whose"
        " hand is it”), Greta Hollow (“beans, and whose hand”) and Wick Sandover (“Whose hand?”). Most say “hand”."
        " Scene 21 EXT. FERRY - STERN - NIGHT is slow for Greta Hollow (“two pages before the boy”) and Wick Sandover"
        " (“long before we see the boy”). Most say “boy”."
    )
    bedroom = found.scenes[22]
    assert {answer.answer.reader.name for _, answer in bedroom.missed} == {"Wick Sandover", "Bex Tannahill"}
    assert all(cell.was_alone for scene in found.scenes for cell in scene.cells)
    assert any(scene.long_for for scene in found.scenes)


def test_the_scenes_that_lost_people_in_the_first_hold_in_the_second_or_are_cut(people: DemoPeople) -> None:
    first, second = Reading.objects.order_by("draft__number")
    found = compared(people.writer, first, second)
    assert found.sentence == "Of 2 scenes that lost readers, 1 holds better, 1 is cut. 3 others lose them now."
    assert [scene.ordinal for scene in found.losing] == [19, 21, 23]


def test_who_has_not_finished_reading_sees_nothing_of_the_others(people: DemoPeople) -> None:
    maren = people.members["maren"]
    assert not Note.objects.visible_to(maren).exclude(author=maren).exists()
    assert not ClarityMark.objects.visible_to(maren).exclude(reader__member=maren).exists()
    assert not BlindAnswer.objects.visible_to(maren).exclude(reader__member=maren).exists()
    assert Note.objects.visible_to(people.members["noor"]).exclude(author=people.members["noor"]).exists()


def test_each_scene_that_a_reading_names_is_the_one_it_means(people: DemoPeople) -> None:
    told = read_readings()
    named = [(reading["draft"], mark) for reading in told["readings"] for mark in reading["marks"]]
    named += [(purpose["draft"], purpose) for purpose in told["purposes"]]
    drafts = {draft.number: draft for draft in people.production.drafts.all()}
    for number, each in named:
        assert laid_out(drafts[number]).scenes[each["scene"] - 1].heading == each["heading"]


def test_its_readings_happened_one_after_the_other_and_not_in_the_future(people: DemoPeople) -> None:
    for reader in Reader.objects.select_related("reading"):
        assert reader.reading.created_at <= (reader.begun_at or timezone.now()) <= timezone.now()
        assert all(reader.reading.created_at <= mark.created_at <= timezone.now() for mark in reader.marks.all())
    first = Reading.objects.get(draft__number=1)
    assert first.closed_at is not None
    assert first.created_at < first.closed_at < people.production.drafts.get(number=2).created_at


# --- its talks: one that was held, with what was said and decided in it, and one to come


def test_one_talk_was_held_between_the_drafts_and_one_is_to_come(people: DemoPeople) -> None:
    held, to_come = Talk.objects.order_by("draft__number")
    first, second = people.production.drafts.all()
    assert held.is_past
    assert first.created_at < held.created_at < held.starts_at < held.ends_at < second.created_at
    assert list(Talk.objects.to_come()) == [to_come]
    assert second.created_at < to_come.created_at < timezone.now()
    assert to_come in Talk.objects.known_to(people.members["wick"])


def test_what_was_said_in_the_talk_is_taken_down_in_their_names_and_decided_on_the_spot(people: DemoPeople) -> None:
    held = Talk.objects.get(draft__number=1)
    said = Note.objects.exclude(taken_down_by=None)
    assert {note.author for note in said} == set(held.members.all())
    assert list(held.taken_down.order_by("pk")) == list(said.order_by("pk"))
    assert all(held.starts_at < note.created_at < held.ends_at for note in said)
    decisions = Decision.objects.filter(note__in=said)
    assert decisions.count() == len(said) - 1  # one was left open
    assert all(held.starts_at < decision.created_at < held.ends_at for decision in decisions)


def test_the_talk_to_come_has_something_to_talk_about(people: DemoPeople) -> None:
    found = agenda(people.writer, Talk.objects.get(draft__number=2))
    assert found.notes
    assert any(scene.marks for scene in found.scenes)


def test_each_scene_that_a_talk_names_is_the_one_it_means(people: DemoPeople) -> None:
    drafts = {draft.number: draft for draft in people.production.drafts.all()}
    for talk in read_talks():
        for said in talk["said"]:
            assert laid_out(drafts[talk["draft"]]).scenes[said["scene"] - 1].heading == said["heading"]
