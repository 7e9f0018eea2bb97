"""Where a reader was in the script, and what is new to them since."""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import TYPE_CHECKING

import pytest
from django.core.exceptions import PermissionDenied
from django.urls import reverse
from django.utils import timezone

from review.decisions.acts import decide
from review.drafts.visits import VISIT_ENDS_AFTER, Visit, be_at, new_since, visits_of
from review.notes.acts import reply
from tests.factories import make_draft, make_member, make_note, make_production
from tests.review.script.on_screen import address, cards, look, marks

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignedIn = Callable[[Member], Client]


def tell(client: Client, draft: Draft, line: str = "9") -> int:
    there = reverse("line-in-view", args=[draft.production.public_id, draft.number])
    return client.post(there, {"line": line}).status_code


def went_away(member: Member, hours: int = 2) -> None:
    """All that the member's pages said of where they are was said so long ago."""
    Visit.objects.filter(member=member).update(last_at=timezone.now() - timedelta(hours=hours))


def test_the_script_opens_where_its_reader_last_was(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    client = signed_in(crew)
    current = reverse("script-current", args=[crew.production.public_id])
    assert client.get(current).headers["Location"] == address(draft)
    assert tell(client, draft, "9") == tell(client, draft, "17") == 204
    assert client.get(current).headers["Location"] == address(draft) + "#L17"
    assert look(client, draft).select("[data-line-left]")[0]["data-line-left"] == "17"


def test_each_reader_is_where_they_left_each_draft(
    signed_in: SignedIn, crew: Member, writer: Member, draft: Draft
) -> None:
    second = make_draft(writer, number=2)
    be_at(crew, draft, 9)
    be_at(crew, second, 4)
    be_at(writer, draft, 17)
    assert look(signed_in(crew), draft).select("[data-line-left]")[0]["data-line-left"] == "9"


@pytest.mark.parametrize("line", ["", "0", "-3", "nine", "9999999999"])
def test_what_is_no_line_is_refused(signed_in: SignedIn, crew: Member, draft: Draft, line: str) -> None:
    assert tell(signed_in(crew), draft, line) == 422
    assert not Visit.objects.exists()


def test_nobody_is_in_another_production_s_draft(crew: Member, draft: Draft) -> None:
    with pytest.raises(PermissionDenied):
        be_at(make_member(make_production("Another")), draft, 1)


def test_nothing_is_new_at_the_first_visit(signed_in: SignedIn, crew: Member, cast: Member, draft: Draft) -> None:
    make_note(cast, draft)
    assert [mark[3] for mark in marks(look(signed_in(crew), draft))] == ["o"]


def test_what_others_did_since_the_visit_before_is_new_and_what_one_did_oneself_is_not(
    signed_in: SignedIn, crew: Member, cast: Member, writer: Member, draft: Draft
) -> None:
    seen, answered, decided = (make_note(crew, draft, line) for line in (6, 8, 9))
    be_at(crew, draft, 6)
    went_away(crew)
    for note in (seen, answered, decided):
        type(note).objects.filter(pk=note.pk).update(created_at=timezone.now() - timedelta(days=1))
    reply(crew, seen, "I mean it.", uuid.uuid4())
    reply(cast, answered, "It is dusk.", uuid.uuid4())
    decide(writer, decided, "declined", "No.", 0, uuid.uuid4())
    left = make_note(cast, draft, 17)
    page = look(signed_in(crew), draft)
    new = {mark[0] for mark in marks(page) if "n" in mark[3]}
    assert new == {answered.public_id, decided.public_id, left.public_id}
    assert "3 new for you" in page.get_text()
    here = cards(signed_in(crew), draft, "1")
    assert len(here.select(f"#note-{answered.public_id} .reply-new")) == 1
    assert len(here.select(f"#note-{left.public_id} .note-title .tag-new")) == 1
    assert not here.select(f"#note-{seen.public_id} .tag-new")


def test_what_is_new_stays_so_to_the_end_of_the_visit(
    signed_in: SignedIn, crew: Member, cast: Member, draft: Draft
) -> None:
    be_at(crew, draft, 6)
    went_away(crew)
    make_note(cast, draft)
    client = signed_in(crew)
    tell(client, draft, "8")
    tell(client, draft, "9")
    assert "n" in marks(look(client, draft))[0][3]
    later = timezone.now() + VISIT_ENDS_AFTER * 2
    assert new_since(visits_of(crew), later) == Visit.objects.get().last_at
