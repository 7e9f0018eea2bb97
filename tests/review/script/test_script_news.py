"""What an open script is told every few seconds: what others did, and where the notes of that stand by now."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from review.decisions.acts import decide
from review.drafts.acts import withdraw_draft
from review.kept import Store
from review.news import short_way
from review.notes.acts import leave_note, withdraw_note
from review.notes.models import Audience
from screenplay import Span
from tests.factories import make_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member

    SignedIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def nobody_remembered(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(short_way, "REMEMBERED", Store())


def note_on(line: int, author: Member, draft: Draft, audience: str = Audience.EVERYONE) -> Note:
    return leave_note(author, draft, Span(line, 0, line, 4), "idea", "Louder.", audience=audience, form_id=uuid.uuid4())


def told(client: Client, draft: Draft, **asked: str) -> dict[str, Any]:
    found: dict[str, Any] = client.get(
        reverse("script-news", args=[draft.production.public_id, draft.number]), asked
    ).json()
    return found


def test_what_others_did_is_told_with_where_its_notes_stand(
    signed_in: SignedIn, crew: Member, cast: Member, writer: Member, draft: Draft
) -> None:
    first, second, withdrawn = (note_on(line, crew, draft) for line in (9, 6, 8))
    note_on(9, crew, draft, Audience.WRITER)
    withdraw_note(crew, withdrawn)
    own = note_on(12, cast, draft)
    decide(writer, first, "parked", "", 0, uuid.uuid4())
    found = told(signed_in(cast), draft)
    assert {each["note"] for each in found["happened"]} == {each.public_id for each in (first, second, withdrawn, own)}
    assert found["marks"].splitlines() == [f"{second.public_id} 6.0-6.4 6 o", f"{first.public_id} 9.0-9.4 9 "]


def test_what_the_page_has_been_told_is_not_told_with_its_place_again(
    signed_in: SignedIn, crew: Member, cast: Member, draft: Draft
) -> None:
    note_on(9, crew, draft)
    client = signed_in(cast)
    before = told(client, draft)
    fresh = note_on(6, crew, draft)
    after = told(client, draft, since=str(before["since"]), after=before["happened"][0]["key"])
    assert len(after["happened"]) == 2
    assert after["marks"] == f"{fresh.public_id} 6.0-6.4 6 o"
    assert len(told(client, draft, after="elsewhere")["marks"].splitlines()) == 2


def test_whoever_reads_alone_is_told_where_their_own_notes_stand_at_most(
    signed_in: SignedIn, crew: Member, cast: Member, writer: Member, draft: Draft
) -> None:
    make_reading(writer, draft, crew, cast)
    own = note_on(9, crew, draft)
    client = signed_in(crew)
    before = told(client, draft)
    note_on(6, cast, draft)
    assert told(client, draft) == before
    assert [each["note"] for each in before["happened"]] == [own.public_id]
    assert before["marks"] == ""


def test_where_the_draft_was_withdrawn_that_is_told_and_no_note_stands(
    signed_in: SignedIn, crew: Member, cast: Member, writer: Member, draft: Draft
) -> None:
    client = signed_in(cast)
    note_on(9, crew, draft)
    withdraw_draft(writer, draft, "By mistake.")
    found = told(client, draft)
    assert ([each["sort"] for each in found["happened"]], found["marks"]) == (["draft withdrawn"], "")


def test_nothing_new_takes_one_query(signed_in: SignedIn, crew: Member, cast: Member, draft: Draft) -> None:
    client, address = signed_in(cast), reverse("script-news", args=[draft.production.public_id, draft.number])
    note_on(9, crew, draft)
    first = client.get(address)
    for _ in range(2):
        with CaptureQueriesContext(connection) as queries:
            again = client.get(address, {"since": first.json()["since"]}, headers={"if-none-match": first["ETag"]})
        assert again.status_code == 304
    assert len(queries) == 1
