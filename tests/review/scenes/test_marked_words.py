"""Words that departments mark."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.log import Act
from review.scenes.acts import NotToBeMarked, mark_word
from review.scenes.models import MarkedWord
from tests.factories import make_draft

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.http import HttpResponse
    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

SCRIPT = "INT. SHED - DAY\n\nShe lifts a LANTERN.\n\nINT. LOFT - DAY\n\nTwo lanterns and a ROPE. One lantern falls.\n"


def address(member: Member, number: int = 1) -> str:
    return reverse("scenes-marked-words", args=[member.production.public_id, number])


def mark(client: Client, member: Member, words: str, department: str = "props") -> HttpResponse:
    told = {"words": words, "department": department, "form_id": str(uuid.uuid4())}
    address = reverse("scenes-marked-word-new", args=[member.production.public_id, 1])
    return client.post(address, told)  # type: ignore[return-value]


def items(client: Client, member: Member, which: str, number: int = 1) -> list[str]:
    page = BeautifulSoup(client.get(address(member, number)).text, "html.parser")
    return [" ".join(item.get_text(" ").split()) for item in page.select(f"#{which} ~ ul li > span")]


def test_a_word_marked_once_is_known_in_this_draft_and_the_next(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    make_draft(writer, SCRIPT)
    client = signed_in(crew)
    assert mark(client, crew, " lantern ").status_code == 302
    assert items(client, crew, "marked") == ["lantern Props Scene 1 , Scene 2"]

    make_draft(writer, "INT. YARD - DAY\n\nA lantern burns.\n", 2)
    assert items(client, crew, "marked", 2) == ["lantern Props Scene 1"]
    assert Act.objects.filter(verb=Act.Verb.MARKED_WORD).count() == 1


def test_other_words_or_another_department_in_a_form_that_was_sent_are_marked_too(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    make_draft(writer, SCRIPT)
    address = reverse("scenes-marked-word-new", args=[crew.production.public_id, 1])
    told = {"words": "lantern", "department": "props", "form_id": str(uuid.uuid4())}
    for others in ({}, {"department": "art"}, {"words": "rope"}, {}):
        signed_in(crew).post(address, told | others)
    marked = [(each.words, each.department) for each in MarkedWord.objects.order_by("pk")]
    assert marked == [("lantern", "props"), ("lantern", "art"), ("rope", "props")]


def test_words_in_capitals_are_offered_until_they_are_marked(writer: Member, crew: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    client = signed_in(crew)
    assert [item.split()[0] for item in items(client, crew, "suggested")] == ["LANTERN", "ROPE"]
    mark(client, crew, "LANTERN")
    assert [item.split()[0] for item in items(client, crew, "suggested")] == ["ROPE"]


def test_the_cast_reads_marks_and_makes_none(writer: Member, cast: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    client = signed_in(cast)
    assert "Mark it" not in client.get(address(cast)).text
    for words in ("rope", "..."):
        assert mark(client, cast, words).status_code == 403
    assert not MarkedWord.objects.exists()


def test_what_is_no_word_is_refused_with_a_sentence(writer: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    response = mark(signed_in(writer), writer, "...")
    assert response.status_code == 422
    assert "Write a word: letters or digits." in response.content.decode()


def test_a_mark_that_is_taken_back_is_kept(writer: Member, crew: Member, signed_in: SignIn) -> None:
    make_draft(writer, SCRIPT)
    client = signed_in(crew)
    mark(client, crew, "rope")
    mark(client, crew, "Rope")
    (found,) = MarkedWord.objects.all()
    client.post(reverse("scenes-marked-word-withdraw", args=[crew.production.public_id, found.public_id]))
    found.refresh_from_db()
    assert found.withdrawn_at
    assert items(client, crew, "marked") == []


@pytest.mark.parametrize(
    ("words", "department"), [("...", "props"), ("", "props"), ("rope " * 17, "props"), ("rope", "catering")]
)
def test_the_act_itself_refuses_what_is_no_mark(crew: Member, words: str, department: str) -> None:
    with pytest.raises(NotToBeMarked):
        mark_word(crew, words, department, uuid.uuid4())
    assert not MarkedWord.objects.exists()


def test_the_script_s_page_asks_for_the_form_alone_and_hears_where_the_words_stand(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    make_draft(writer, SCRIPT)
    client = signed_in(crew)
    address = reverse("scenes-marked-word-new", args=[crew.production.public_id, 1])
    form = BeautifulSoup(client.get(address, {"words": "LANTERN"}, headers={"HX-Request": "true"}).text, "html.parser")
    assert form.select("html") == []
    fields = {str(one["name"]): str(one.get("value", "")) for one in form.select("input")}
    assert fields["words"] == "LANTERN"
    assert [one["value"] for one in form.select("option[selected]")] == ["camera"]

    told = {"words": "...", "department": "props", "form_id": fields["form_id"]}
    refused = client.post(address, told, headers={"HX-Request": "true"})
    assert refused.status_code == 422
    assert "Write a word: letters or digits." in refused.text
    done = client.post(address, told | {"words": "LANTERN"}, headers={"HX-Request": "true"})
    said = " ".join(BeautifulSoup(done.text, "html.parser").get_text().split())
    assert "“LANTERN” is marked for Props Here it stands in scenes 1, 2." in said
    assert MarkedWord.objects.get().made_by == crew


def test_without_scripts_an_address_brings_the_words_to_the_form(
    writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    make_draft(writer, SCRIPT)
    address = reverse("scenes-marked-word-new", args=[crew.production.public_id, 1])
    page = BeautifulSoup(signed_in(crew).get(address, {"words": "rope"}).text, "html.parser")
    assert [one["value"] for one in page.select(".mark-form input[name=words]")] == ["rope"]
    script = reverse("script", args=[crew.production.public_id, 1])
    assert page.select("#suggested ~ ul a")
    marks = reverse("scenes-marked-words", args=[crew.production.public_id, 1])
    assert marks in signed_in(crew).get(script).text
    assert "data-choice-mark" not in signed_in(cast).get(script).text
