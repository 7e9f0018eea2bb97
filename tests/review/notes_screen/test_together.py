"""Deciding several notes in one go, from the panel that proposes it."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.decisions.acts import decide
from review.decisions.models import Decision
from review.notes.models import Audience, Note, NoteKind
from tests.factories import make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from bs4 import Tag
    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

SAYING = ("Why does Nell not go in the skiff?", "Nell has the skiff, why not go?", "The skiff: why does Nell not go?")


@pytest.fixture
def alike(crew: Member, cast: Member, draft: Draft) -> list[Note]:
    return [
        make_note(by, draft, 9, kind=NoteKind.PROBLEM, body=said)
        for by, said in zip((crew, cast, crew), SAYING, strict=True)
    ]


def panels(client: Client, member: Member, **asked: str) -> list[Tag]:
    page = client.get(reverse("notes", args=[member.production.public_id]), asked)
    return list(BeautifulSoup(page.text, "html.parser").select("form.decide-together"))


def filled_in(panel: Tag, **said: Any) -> dict[str, Any]:
    fields: dict[str, Any] = {str(field["name"]): str(field["value"]) for field in panel.select("[type=hidden]")}
    return fields | {"notes": [str(box["value"]) for box in panel.select("[name=notes]")]} | said


def send(client: Client, member: Member, fields: dict[str, Any], **headers: Any) -> Any:
    return client.post(reverse("decide-together", args=[member.production.public_id]), fields, **headers)


@pytest.mark.parametrize("asked", [{}, {"group": "kind"}, {"group": "scene", "sort": "newest"}])
def test_what_says_much_the_same_is_proposed_once_and_decided_with_one_reason(
    signed_in: SignIn, writer: Member, alike: list[Note], asked: dict[str, str]
) -> None:
    client = signed_in(writer)
    [panel] = panels(client, writer, **asked)
    response = send(client, writer, filled_in(panel, outcome="declined", reason="She is afraid of it."))
    assert response.status_code == 302
    told = Decision.objects.values_list("note", "outcome", "reason")
    assert set(told) == {(note.pk, "declined", "She is afraid of it.") for note in alike}
    assert panels(client, writer, state="all") == []


@pytest.mark.parametrize("asked", [{"group": "department"}, {"group": "reader"}, {"kind": "problem"}, {"page": "2"}])
def test_what_says_the_same_in_other_groups_and_on_other_pages_is_proposed_with_it_once(
    signed_in: SignIn, writer: Member, alike: list[Note], asked: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("review.notes_screen.note_pages.NOTES_A_PAGE", 2 if "page" in asked else 60)
    if "kind" in asked:
        Note.objects.filter(pk=alike[0].pk).update(kind=NoteKind.IDEA)  # is accepted as a problem is, and filtered out
    [panel] = panels(signed_in(writer), writer, **asked)
    assert len(panel.select("[name=notes]")) == len(alike)
    assert "(not in this group)" in panel.text
    page = signed_in(writer).get(reverse("notes", args=[writer.production.public_id]), asked)
    cards = [str(card["id"]) for card in BeautifulSoup(page.text, "html.parser").select("article.note")]
    assert len(cards) == len(set(cards)) == {"page": 1, "kind": 2}.get(next(iter(asked)), 3)


def test_safety_that_is_said_twice_is_proposed_with_its_caution(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    for by in (crew, cast):
        make_note(by, draft, 6, kind=NoteKind.SAFETY, body="No open flame beside wet nets, please.")
    [panel] = panels(signed_in(writer), writer)
    assert panel.select_one(".decide-caution .caution")


def test_only_what_is_ticked_is_decided(signed_in: SignIn, writer: Member, alike: list[Note]) -> None:
    client = signed_in(writer)
    [panel] = panels(client, writer)
    fields = filled_in(panel, outcome="parked")
    send(client, writer, fields | {"notes": fields["notes"][:2]})
    assert Decision.objects.count() == 2


def test_a_reader_is_proposed_nothing(signed_in: SignIn, crew: Member, alike: list[Note]) -> None:
    assert panels(signed_in(crew), crew, author="all") == []


def test_what_others_may_not_read_is_in_no_group_with_what_they_may(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft, alike: list[Note]
) -> None:
    make_note(crew, draft, 9, kind=NoteKind.PROBLEM, body=SAYING[0], audience=Audience.WRITER)
    [panel] = panels(signed_in(writer), writer)
    assert len(panel.select("[name=notes]")) == len(alike)


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"outcome": "declined", "reason": ""}, "Say why you decline it"),
        ({"outcome": "", "reason": "No."}, "Choose one of the three first."),
        ({"outcome": "parked", "notes": []}, "Tick the notes first"),
        ({"outcome": "parked", "notes": ["nothing", "a:b:c"]}, "Tick the notes first"),
    ],
)
def test_what_is_missing_is_said_and_nothing_is_decided(
    signed_in: SignIn, writer: Member, alike: list[Note], said: dict[str, Any], sentence: str
) -> None:
    client = signed_in(writer)
    [panel] = panels(client, writer)
    response = send(client, writer, filled_in(panel, **said))
    assert response.status_code == 422
    assert sentence in response.text
    assert not Decision.objects.exists()


def test_a_note_that_was_decided_meanwhile_is_named_and_the_words_stay(
    signed_in: SignIn, writer: Member, cast: Member, alike: list[Note]
) -> None:
    client = signed_in(writer)
    [panel] = panels(client, writer)
    decide(writer, alike[1], "parked", "", 0, uuid.uuid4())
    for headers in ({}, {"headers": {"HX-Request": "true"}}):
        response = send(client, writer, filled_in(panel, outcome="declined", reason="She is afraid."), **headers)
        assert response.status_code == 409
        assert f"{cast.name}’s note (problem) meanwhile: parked." in response.text
        assert "She is afraid." in response.text
    assert Decision.objects.count() == 1


def test_by_htmx_it_leads_on_to_the_note_to_go_on_with(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft, alike: list[Note]
) -> None:
    client, next_one = signed_in(writer), make_note(crew, draft, 17)
    [panel] = panels(client, writer, group="scene")
    fields = filled_in(panel, outcome="parked", then=next_one.public_id)
    response = send(client, writer, fields, headers={"HX-Request": "true"})
    address = reverse("notes", args=[writer.production.public_id])
    led = f"{address}?group=scene&at={next_one.public_id}#note-{next_one.public_id}"
    assert response.headers["HX-Redirect"] == led
