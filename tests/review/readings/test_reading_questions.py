"""Blind questions: asked with what is meant, answered at the end, and heard beside it."""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.core.exceptions import PermissionDenied
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from review.log import Act
from review.notes.forms import ARRIVED_BEFORE
from review.people.acts import Refused
from review.people.models import Department
from review.publishing.acts import publish_draft
from review.readings.acts import close_reading
from review.readings.answers_heard import agreement_on_meaning, heard_questions
from review.readings.locked_reading import NoSuchScene
from review.readings.question_acts import (
    Asking,
    answer_questions,
    ask,
    ask_again,
    carry_questions,
    judge,
    show_intended,
    withdraw_question,
    write_purposes,
)
from review.readings.question_models import BlindAnswer, BlindQuestion
from review.readings.reader_acts import finish_reading
from review.readings.views.reading_questions import ASKED_ALREADY, CLOSED_SINCE, WITHDRAWN_SINCE
from screenplay.intake import read_text
from tests.factories import SCRIPT, make_member, make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.readers.models import Reading

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db

WHOSE = Asking("Whose lamp is it?", intended="Nell’s")
WHERE = Asking("Where is the skiff?", "scene", 2, answered_by="choice", options=("Gone", "Sunk"), intended="Gone")
TRUST = Asking("How far do you trust her?", "character", character="NELL", answered_by="scale", intended="4")


@pytest.fixture
def reading(writer: Member, crew: Member, cast: Member, draft: Draft) -> Reading:
    return make_reading(writer, draft, crew, cast)


def asked(writer: Member, reading: Reading, asking: Asking = WHOSE) -> BlindQuestion:
    return ask(writer, reading, asking, uuid.uuid4())


def form(**but: Any) -> dict[str, Any]:
    told = {"form_id": str(uuid.uuid4()), "about": "draft", "text": "Why?", "answered_by": "words"}
    return told | {"options": "", "intended": ""} | but


def post(client: Client, reading: Reading, **but: Any) -> Any:
    address = reverse("reading-questions", args=[reading.production.public_id, reading.public_id])
    return client.post(address, form(**but), follow=True)


def page_of(client: Client, name: str, reading: Reading) -> str:
    address = reverse(name, args=[reading.production.public_id, reading.public_id])
    return " ".join(BeautifulSoup(client.get(address).text, "html.parser").get_text(" ").split())


@pytest.mark.parametrize(
    ("told", "kept"),
    [
        ({"about": "scene:2", "intended": "He left."}, ("scene", 2, "", "words", [], "He left.")),
        (
            {"answered_by": "choice", "options": "Gone\n\n Sunk ", "intended": "gone"},
            ("draft", None, "", "choice", ["Gone", "Sunk"], "Gone"),
        ),
        (
            {"about": "character:NELL", "answered_by": "scale", "options": "Not at all\nWholly", "intended": "4"},
            ("character", None, "NELL", "scale", ["Not at all", "Wholly"], "4"),
        ),
    ],
)
def test_a_question_is_about_the_draft_a_scene_or_a_character_and_answered_in_one_of_three_ways(
    signed_in: SignIn, writer: Member, reading: Reading, told: dict[str, str], kept: tuple[Any, ...]
) -> None:
    post(signed_in(writer), reading, **told)
    one = BlindQuestion.objects.get()
    assert (one.about, one.scene, one.character, one.answered_by, one.options, one.intended) == kept


@pytest.mark.parametrize(
    ("told", "sentence"),
    [
        ({"text": " "}, "Write down the question."),
        ({"about": "scene:9"}, "not one of the available choices"),
        ({"answered_by": "choice", "options": "Only one"}, "Give 2 to 8 different answers"),
        ({"answered_by": "choice", "options": "Same\nSame"}, "Give 2 to 8 different answers"),
        ({"answered_by": "choice", "options": "A\nB", "intended": "C"}, "as it stands among the answers"),
        ({"answered_by": "scale", "intended": "9"}, "Write a number from 1 to 5."),
        ({"answered_by": "scale", "options": "One end"}, "For a scale give two lines"),
        ({"asks_purpose": "on"}, "Choose the scene whose purpose you ask for."),
    ],
)
def test_it_says_what_is_wrong_and_asks_nothing(
    signed_in: SignIn, writer: Member, reading: Reading, told: dict[str, str], sentence: str
) -> None:
    response = post(signed_in(writer), reading, **told)
    assert response.status_code == 422
    assert sentence in response.text
    assert not BlindQuestion.objects.exists()


@pytest.mark.parametrize(
    "told",
    [
        {"about": "scene:2", "text": " Why? ", "intended": "4"},
        {"answered_by": "choice", "options": "Gone\nSunk\n4", "intended": "4"},
    ],
)
def test_the_same_question_in_a_form_made_anew_is_asked_once_and_another_is_kept(
    signed_in: SignIn, writer: Member, reading: Reading, told: dict[str, str]
) -> None:
    """As a browser without scripts sends it that went back."""
    client, form_id = signed_in(writer), str(uuid.uuid4())
    for message in ("Asked. Readers find it", ASKED_ALREADY):
        assert message in post(client, reading, **told).text
    for others in ({"intended": ""}, {"text": "Who?"}, {"about": "draft", "answered_by": "scale", "options": ""}):
        assert "Asked. Readers find it" in post(client, reading, **told | others | {"form_id": form_id}).text
        form_id = str(uuid.uuid4())
    assert BlindQuestion.objects.count() == 4
    post(client, reading, text="First?", form_id=form_id)
    late = post(client, reading, text="Second?", form_id=form_id)
    renewed = BeautifulSoup(late.text, "html.parser").select_one("#ask-form [name=form_id]")["value"]  # type: ignore[index]
    assert (late.status_code, ARRIVED_BEFORE in late.text) == (409, True)
    post(client, reading, text="Second?", form_id=renewed)
    assert BlindQuestion.objects.filter(text__in=["First?", "Second?"]).count() == 2


@pytest.mark.parametrize(
    "others",
    [
        {"about": "scene:2"},
        {"options": "Gone\nSunk\nLent"},
        {"options": "", "answered_by": "words"},
        {"intended": "Sunk"},
    ],
)
def test_other_choices_in_a_form_that_was_sent_are_asked_as_well_and_not_lost(
    signed_in: SignIn, writer: Member, reading: Reading, others: dict[str, str]
) -> None:
    client = signed_in(writer)
    told = form(about="character:NELL", answered_by="choice", options="Gone\nSunk", intended="Gone")
    post(client, reading, **told)
    late = post(client, reading, **told | others)
    renewed = BeautifulSoup(late.text, "html.parser").select_one("#ask-form [name=form_id]")["value"]  # type: ignore[index]
    assert (late.status_code, ARRIVED_BEFORE in late.text) == (409, True)
    post(client, reading, **told | others | {"form_id": renewed})
    assert BlindQuestion.objects.count() == 2


def test_a_form_that_was_sent_in_another_reading_is_shown_anew(
    signed_in: SignIn, writer: Member, crew: Member, reading: Reading
) -> None:
    client, told = signed_in(writer), form()
    post(client, make_reading(writer, reading.draft, crew), **told)
    assert post(client, reading, **told).status_code == 409


def test_of_a_question_that_comes_again_it_is_said_what_became_of_it(
    signed_in: SignIn, writer: Member, reading: Reading
) -> None:
    """Whichever writer withdrew it."""
    client, told = signed_in(writer), form()
    post(client, reading, **told)
    close_reading(writer, reading)
    assert CLOSED_SINCE in post(client, reading, **told).text
    withdraw_question(make_member(reading.production, Role.WRITER), BlindQuestion.objects.get())
    assert WITHDRAWN_SINCE in post(client, reading, **told).text
    assert "have withdrawn it" not in WITHDRAWN_SINCE


def test_asking_for_a_scene_s_purpose_means_what_was_written_down_as_it(
    signed_in: SignIn, writer: Member, reading: Reading
) -> None:
    write_purposes(writer, reading.draft, {2: "So that we know he is gone."})
    post(signed_in(writer), reading, about="scene:2", text="", asks_purpose="on")
    one = BlindQuestion.objects.get()
    assert (one.text, one.intended) == ("Why is this scene in the film?", "So that we know he is gone.")


def test_readers_answer_at_the_end_and_can_keep_their_answers_for_now(
    signed_in: SignIn, writer: Member, crew: Member, reading: Reading
) -> None:
    words, choice, scale = (asked(writer, reading, each) for each in (WHOSE, WHERE, TRUST))
    client = signed_in(crew)
    address = reverse("reading-finish", args=[crew.production.public_id, reading.public_id])
    told = {f"answer-{words.public_id}": "The ferry’s?", f"answer-{choice.public_id}": "Sunk"}
    client.post(address, told | {"keep": "yes"})
    page = client.get(address).text
    assert "The ferry’s?" in page
    assert 'value="Sunk" checked' in page
    assert not reading.readers.get(member=crew).finished_at
    client.post(address, told | {f"answer-{words.public_id}": "Nell’s own", f"answer-{scale.public_id}": "7"})
    standing = BlindAnswer.objects.standing().order_by("question").values_list("text", flat=True)
    assert list(standing) == ["Nell’s own", "Sunk"]
    assert BlindAnswer.objects.count() == 3
    assert reading.readers.get(member=crew).finished_at


def test_an_answer_that_is_too_long_is_refused_and_still_there(
    signed_in: SignIn, writer: Member, crew: Member, reading: Reading
) -> None:
    one = asked(writer, reading)
    address = reverse("reading-finish", args=[crew.production.public_id, reading.public_id])
    response = signed_in(crew).post(address, {f"answer-{one.public_id}": "long " * 1000})
    assert response.status_code == 422
    assert "4000 characters at most" in response.text
    assert "long long" in response.text
    assert not reading.readers.get(member=crew).finished_at
    just = signed_in(crew).post(address, {f"answer-{one.public_id}": "no\r\n" * 1333 + ".", "keep": "on"})
    assert just.status_code == 302
    assert BlindAnswer.objects.get().text == "no\n" * 1333 + "."


def test_what_is_meant_stands_beside_the_answers_for_writers_alone(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, reading: Reading
) -> None:
    for each in (WHOSE, WHERE, TRUST):
        asked(writer, reading, each)
    questions = [question.public_id for question in reading.questions.all()]
    answer_questions(crew, reading, dict(zip(questions, ("The ferry’s", "Sunk", "5"), strict=True)))
    answer_questions(cast, reading, dict(zip(questions, ("Hers", "Gone", "4"), strict=True)))
    judge(writer, BlindAnswer.objects.get(text="The ferry’s"), "partly")
    page = page_of(signed_in(writer), "reading-questions", reading)
    assert "You mean Nell’s" in page
    assert "They answer 1 partly" in page
    assert "Gone What you mean 1 Cleo Marsh Sunk 1 Bo Finch" in page
    assert "They answer 1 came across 1 partly" in page
    finish_reading(crew, reading)
    assert "Nell’s" not in page_of(signed_in(crew), "reading-finish", reading)


def test_only_answers_in_words_are_judged_and_only_by_writers(writer: Member, crew: Member, reading: Reading) -> None:
    words, choice = asked(writer, reading), asked(writer, reading, WHERE)
    answer_questions(crew, reading, {words.public_id: "Hers", choice.public_id: "Gone"})
    in_words, chosen = BlindAnswer.objects.order_by("question")
    with pytest.raises(PermissionDenied):
        judge(writer, chosen, "missed")
    with pytest.raises(PermissionDenied):
        judge(crew, in_words, "missed")
    assert judge(writer, in_words, "came across") is True
    assert judge(writer, in_words, "came across") is False
    with pytest.raises(Refused, match="came across, partly"):
        judge(writer, in_words, "splendid")
    assert judge(writer, in_words, "") is True


def test_what_was_meant_is_shown_when_the_writer_says_so(writer: Member, crew: Member, reading: Reading) -> None:
    one = asked(writer, reading)
    finish_reading(crew, reading)
    assert heard_questions(crew, reading)[0].meant == ""
    assert show_intended(writer, one) is True
    assert heard_questions(crew, reading)[0].meant == "Nell’s"
    assert show_intended(writer, one) is False


def test_a_question_that_is_withdrawn_is_asked_no_longer_and_its_answers_are_kept(
    signed_in: SignIn, writer: Member, crew: Member, reading: Reading
) -> None:
    one = asked(writer, reading)
    answer_questions(crew, reading, {one.public_id: "Hers"})
    assert withdraw_question(writer, one) is True
    assert withdraw_question(writer, one) is False
    assert answer_questions(crew, reading, {one.public_id: "Mine"}) == 0
    assert BlindAnswer.objects.get().text == "Hers"
    assert "Whose lamp" not in page_of(signed_in(crew), "reading-finish", reading)


def test_what_is_asked_no_longer_stands_on_the_page_with_its_answers_and_can_be_asked_again(
    signed_in: SignIn, writer: Member, crew: Member, reading: Reading
) -> None:
    client = signed_in(writer)
    assert "Nothing is asked yet" in page_of(client, "reading-questions", reading)
    one = asked(writer, reading)
    answer_questions(crew, reading, {one.public_id: "Hers"})
    client.post(reverse("question-withdraw", args=[writer.production.public_id, one.public_id]))
    address = reverse("reading-questions", args=[writer.production.public_id, reading.public_id])
    page = BeautifulSoup(client.get(address).text, "html.parser")
    assert "Nothing is asked yet" not in page.text
    assert "Nothing is asked any longer" in page.text
    (dropped,) = page.select("[aria-labelledby=asked-no-longer]")
    assert "Whose lamp is it?" in dropped.text
    assert "1 answer kept, which counts no longer" in dropped.text
    assert "Hers" in dropped.text
    (form,) = dropped.select("form")
    client.post(str(form["action"]))
    assert BlindQuestion.objects.standing().get() == one
    assert [each.answer.text for each in heard_questions(writer, reading)[0].answers] == ["Hers"]
    assert "Asked no longer" not in page_of(client, "reading-questions", reading)
    assert Act.objects.filter(verb=Act.Verb.ASKED_AGAIN, about=one.public_id).count() == 1
    assert ask_again(writer, one) is False


def test_nobody_asks_in_a_closed_reading_nor_about_a_scene_that_is_not_there(
    writer: Member, crew: Member, reading: Reading
) -> None:
    with pytest.raises(NoSuchScene):
        asked(writer, reading, Asking("Why?", "scene", 9))
    with pytest.raises(PermissionDenied):
        asked(crew, reading)
    one = asked(writer, reading)
    close_reading(writer, reading)
    with pytest.raises(Refused, match="closed"):
        asked(writer, reading)
    with pytest.raises(Refused, match="closed"):
        answer_questions(crew, reading, {one.public_id: "Hers"})


def test_questions_are_asked_again_in_the_next_reading_and_follow_their_scene(
    signed_in: SignIn, writer: Member, crew: Member, reading: Reading
) -> None:
    for asking in (WHOSE, WHERE, Asking("And then?", "scene", 1)):
        asked(writer, reading, asking)
    slipway = SCRIPT[SCRIPT.index("EXT. SLIPWAY") :]
    second, _ = publish_draft(writer, read_text(f"INT. LOFT - DAY\n\nDust.\n\n{slipway}"))
    following = make_reading(writer, second, crew)
    assert carry_questions(writer, reading, following) == (2, 1)
    assert carry_questions(writer, reading, following) == (0, 1)
    told = [(each.text, each.scene, each.intended) for each in following.questions.all()]
    assert told == [("Whose lamp is it?", None, "Nell’s"), ("Where is the skiff?", 2, "Gone")]
    address = reverse("reading-carry", args=[writer.production.public_id, following.public_id])
    response = signed_in(writer).post(address, {"earlier": reading.public_id}, follow=True)
    assert "1 could not be: the scene is gone." in response.text


def test_agreement_is_told_in_words_and_not_of_fewer_than_three_readers(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, reading: Reading
) -> None:
    questions = [asked(writer, reading, each).public_id for each in (WHERE, TRUST)]
    for member, given in ((crew, ("Gone", "1")), (cast, ("Gone", "2"))):
        answer_questions(member, reading, dict(zip(questions, given, strict=True)))
    assert agreement_on_meaning(reading, heard_questions(writer, reading)).words == ""
    third = make_member(writer.production, Role.CREW, Department.SOUND, "Ida Moss")
    third_reading = reading.readers.create(member=third)
    answer_questions(third, reading, dict(zip(questions, ("Gone", "1"), strict=True)))
    found = agreement_on_meaning(reading, heard_questions(writer, reading))
    assert (found.raters, found.things, found.kappa) == (3, 2, 1)
    assert "They agree almost wholly." in page_of(signed_in(writer), "reading-questions", reading)
    assert third_reading.answers.count() == 2
    reading.readers.update(others_open_at=timezone.now() - timedelta(days=1))
    assert agreement_on_meaning(reading, heard_questions(writer, reading)).raters == 0, "for all heard others first"
