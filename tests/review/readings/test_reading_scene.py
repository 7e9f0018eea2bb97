"""Reading scene by scene: marks, and progress from what was on screen or by hand."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any, NoReturn

import pytest
from bs4 import BeautifulSoup
from django.core.exceptions import PermissionDenied
from django.urls import reverse
from django.utils import timezone

from review.log import Act
from review.people.acts import Refused
from review.people.models import Member
from review.readers.models import Reader
from review.readings.acts import close_reading
from review.readings.locked_reading import NoSuchScene
from review.readings.models import MOST_WHY, ClarityMark, SceneRead
from review.readings.reader_acts import (
    MOST_SECONDS,
    finish_reading,
    mark_scene,
    report_progress,
    say_read,
    take_back_mark,
)
from tests.factories import make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.readers.models import Reading

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


@pytest.fixture
def reading(writer: Member, crew: Member, draft: Draft) -> Reading:
    return make_reading(writer, draft, crew)


def at(reading: Reading, name: str, *more: Any) -> str:
    return reverse(name, args=[reading.production.public_id, reading.public_id, *more])


def marks(crew: Member) -> list[tuple[int, str, str]]:
    standing = ClarityMark.objects.standing().filter(reader__member=crew)
    return [(each.scene, each.mark, each.why) for each in standing]


def test_it_shows_the_scene_s_own_lines_and_no_others(signed_in: SignIn, crew: Member, reading: Reading) -> None:
    page = BeautifulSoup(signed_in(crew).get(at(reading, "reading-scene", 2)).text, "html.parser")
    shown = page.select_one(".reading-leaves")
    assert shown is not None
    assert "Mist. The skiff is gone." in shown.text
    assert "Tide turns at four." not in shown.text


@pytest.mark.parametrize("told", [{}, {"seconds": "{}"}, {"seconds": '{"2": 5}'}])
def test_what_is_only_fetched_begins_no_reading_and_what_a_screen_reports_begins_it_once(
    signed_in: SignIn, crew: Member, reading: Reading, told: dict[str, str]
) -> None:
    client, begun = signed_in(crew), Act.objects.filter(verb=Act.Verb.BEGAN_READING)
    client.get(at(reading, "reading-scene", 2))
    client.head(at(reading, "reading-scene", 2))
    for _ in range(2):
        client.post(at(reading, "reading-progress"), told)
    was_seen = "2" in told.get("seconds", "")
    assert (Reader.objects.get().begun_at is not None, begun.count()) == (was_seen, int(was_seen))
    mark_scene(crew, reading, 1, "clear")
    assert begun.count() == 1


@pytest.mark.parametrize("said", [("foggy", ""), ("", ""), ("lost", "x" * (MOST_WHY + 1))])
def test_what_is_no_mark_is_refused_by_the_act_itself(crew: Member, reading: Reading, said: tuple[str, str]) -> None:
    with pytest.raises(Refused, match="clear, lost or slow"):
        mark_scene(crew, reading, 1, *said)
    assert marks(crew) == []


def test_one_tap_marks_a_scene_and_goes_on_to_the_next(signed_in: SignIn, crew: Member, reading: Reading) -> None:
    client = signed_in(crew)
    first = client.post(at(reading, "reading-scene", 1), {"mark": "lost", "why": " whose  lamp? "})
    assert first.headers["Location"] == at(reading, "reading-scene", 2)
    last = client.post(at(reading, "reading-scene", 2), {"mark": "clear", "why": ""})
    assert last.headers["Location"] == at(reading, "reading")
    assert marks(crew) == [(1, "lost", "whose lamp?"), (2, "clear", "")]
    assert SceneRead.objects.exclude(read_at=None).count() == 2


@pytest.mark.parametrize(
    ("told", "sentence"), [({}, "Choose one of the three."), ({"mark": "clear", "why": "x" * 241}, "A word or two")]
)
def test_it_says_what_is_wrong_with_a_mark(
    signed_in: SignIn, crew: Member, reading: Reading, told: dict[str, str], sentence: str
) -> None:
    response = signed_in(crew).post(at(reading, "reading-scene", 1), told)
    assert response.status_code == 422
    assert sentence in response.text
    assert marks(crew) == []


def test_another_mark_takes_its_place_and_the_first_is_kept(crew: Member, reading: Reading) -> None:
    first = mark_scene(crew, reading, 1, "lost")
    assert mark_scene(crew, reading, 1, "lost") == first
    mark_scene(crew, reading, 1, "clear", "on second thoughts")
    assert marks(crew) == [(1, "clear", "on second thoughts")]
    assert ClarityMark.objects.count() == 2
    assert take_back_mark(crew, reading, 1) is True
    assert take_back_mark(crew, reading, 1) is False
    assert marks(crew) == []
    assert Act.objects.filter(verb=Act.Verb.MARKED_SCENE).count() == 2


def test_what_they_said_on_their_own_stays_once_they_have_finished(crew: Member, reading: Reading) -> None:
    mark_scene(crew, reading, 1, "lost")
    finish_reading(crew, reading)
    for act in (
        lambda: mark_scene(crew, reading, 1, "clear"),
        lambda: take_back_mark(crew, reading, 1),
        lambda: say_read(crew, reading, 2, is_read=True),
    ):
        with pytest.raises(Refused, match="stays as it is"):
            act()
    assert marks(crew) == [(1, "lost", "")]


def test_only_its_readers_read_in_it_and_only_scenes_that_are_there(
    crew: Member, cast: Member, writer: Member, reading: Reading
) -> None:
    for other in (cast, writer):
        with pytest.raises(PermissionDenied):
            mark_scene(other, reading, 1, "clear")
    for ordinal in (0, 3):
        with pytest.raises(NoSuchScene):
            mark_scene(crew, reading, ordinal, "clear")


def test_a_scene_that_was_long_enough_on_screen_counts_as_read(
    signed_in: SignIn, crew: Member, reading: Reading
) -> None:
    client = signed_in(crew)

    def report(**seconds: int) -> int:
        told = {name[1:]: took for name, took in seconds.items()}
        return client.post(at(reading, "reading-progress"), {"seconds": json.dumps(told)}).status_code

    assert report(s1=2, s99=500) == 204
    assert list(SceneRead.objects.values_list("scene", "seconds", "read_at")) == [(1, 2, None)]
    assert report(s1=7) == 204
    read = SceneRead.objects.get()
    assert (read.seconds, read.read_at is not None, read.by_hand) == (9, True, False)
    assert Reader.objects.get().left_off == 1


@pytest.mark.parametrize(
    "seconds", ["", "[]", "7", '{"1": "7"}', '{"1": true}', '{"one": 7}', '{"1": 1.5}', "{", "[" * 5000]
)
def test_a_report_that_says_nothing_clear_is_refused(
    signed_in: SignIn, crew: Member, reading: Reading, seconds: str
) -> None:
    assert signed_in(crew).post(at(reading, "reading-progress"), {"seconds": seconds}).status_code == 400
    assert not SceneRead.objects.exists()


def test_a_report_waits_for_nobody_who_has_the_production_locked(
    crew: Member, reading: Reading, monkeypatch: pytest.MonkeyPatch
) -> None:
    def wait(_: int) -> NoReturn:
        raise AssertionError("it waits")

    monkeypatch.setattr("review.productions.models.lock_production", wait)
    report_progress(crew, reading, {1: 7})
    assert Reader.objects.get().left_off == 1
    Member.objects.filter(pk=crew.pk).update(removed_at=timezone.now())
    with pytest.raises(PermissionDenied):
        report_progress(crew, reading, {2: 7})


def test_of_one_report_no_more_counts_than_a_screen_reports(crew: Member, reading: Reading) -> None:
    report_progress(crew, reading, {1: 10**9, 2: -5})
    assert list(SceneRead.objects.values_list("scene", "seconds")) == [(1, MOST_SECONDS)]


def test_on_the_script_each_scene_has_its_end_with_the_mark_it_was_given(
    signed_in: SignIn, crew: Member, cast: Member, reading: Reading
) -> None:
    client = signed_in(crew)
    script = reverse("script", args=[crew.production.public_id, 1])
    page = BeautifulSoup(client.get(script).text, "html.parser")
    here = page.select_one("[data-reading-here]")
    assert here is not None
    assert here["data-ends"] == at(reading, "reading-ends")
    told = {"mark": "slow", "why": "long"}
    marked = client.post(at(reading, "reading-scene", 2), told, headers={"HX-Request": "true"})
    ends = BeautifulSoup(client.get(at(reading, "reading-ends")).text, "html.parser").select("[data-scene-end]")
    assert [(end["data-from"], end["data-to"]) for end in ends] == [("4", "13"), ("15", "20")]
    assert ends[1].select_one("[aria-pressed=true]").text == "Slow"  # type: ignore[union-attr]
    assert 'id="scene-end-2"' in marked.text
    assert 'id="scene-end-1"' not in marked.text
    assert "data-reading-here" not in signed_in(cast).get(script).text
    finish_reading(crew, reading)
    assert "data-reading-here" not in client.get(script).text
    assert "scene-end" not in client.get(at(reading, "reading-ends")).text


@pytest.mark.parametrize("headers", [{}, {"HX-Request": "true"}])
def test_words_that_came_after_it_was_closed_are_shown_and_can_be_left_as_a_note(
    signed_in: SignIn, writer: Member, crew: Member, reading: Reading, headers: dict[str, str]
) -> None:
    client = signed_in(crew)
    close_reading(writer, reading)
    told = client.post(at(reading, "reading-scene", 2), {"mark": "lost", "why": "whose skiff?"}, headers=headers)
    assert told.status_code == 409
    form = BeautifulSoup(told.text, "html.parser").select_one(".mark-not-kept")
    assert form is not None
    assert "This reading was closed meanwhile." in form.get_text()
    assert "Not kept: “whose skiff?”" in form.get_text()
    fields = {str(field["name"]): str(field["value"]) for field in form.select("input, button")}
    note = BeautifulSoup(client.post(str(form["action"]), fields).text, "html.parser")
    assert note.select_one("textarea[name=body]").get_text(strip=True) == "whose skiff?"  # type: ignore[union-attr]
    assert note.select_one("[name=about][value=scene]").has_attr("checked")  # type: ignore[union-attr]
    assert note.select_one("[name=audience][value=everyone]").has_attr("checked")  # type: ignore[union-attr]
    assert marks(crew) == []
    assert client.post(at(reading, "reading-scene", 2), {"mark": "lost"}).headers["Location"] == at(reading, "reading")
