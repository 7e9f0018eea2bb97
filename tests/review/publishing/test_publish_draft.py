"""Publishing a draft."""

from __future__ import annotations

import hashlib
import threading
from typing import TYPE_CHECKING

import pytest
from django.db import connection, connections

from review.access import Role
from review.drafts.models import Draft
from review.drafts.texts import hash_text
from review.log import Act
from review.notes.models import Fate
from review.publishing import acts
from review.publishing.acts import publish_draft
from screenplay.intake import read_bytes
from tests.factories import SCRIPT, make_member, make_note, make_production

if TYPE_CHECKING:
    from review.people.models import Member

NEXT = SCRIPT.replace("Tide turns at four.", "The tide turns at five.")


def test_it_stores_the_text_and_how_it_came_in(writer: Member) -> None:
    upload = b"\xef\xbb\xbf" + SCRIPT.encode().replace(b"\n", b"\r\n")
    draft, is_new = publish_draft(writer, read_bytes(upload), "First", "Pink", "slack.fountain")
    draft.refresh_from_db()
    assert is_new
    assert draft.text == SCRIPT.replace("\n", "\r\n")
    assert draft.bom
    assert draft.sha256 == hashlib.sha256(draft.text.encode()).hexdigest()
    assert (draft.number, draft.label, draft.colour, draft.filename) == (1, "First", "Pink", "slack.fountain")
    assert draft.uploaded_by == writer


def test_it_numbers_drafts_in_order_and_gives_the_next_colour(writer: Member) -> None:
    first, _ = publish_draft(writer, read_bytes(SCRIPT.encode()))
    second, _ = publish_draft(writer, read_bytes(NEXT.encode()))
    assert [first.number, second.number] == [1, 2]
    assert [first.colour, second.colour] == ["White", "Blue"]


def test_a_text_that_is_already_there_is_recognised_and_not_stored_again(writer: Member) -> None:
    first, _ = publish_draft(writer, read_bytes(SCRIPT.encode()))
    publish_draft(writer, read_bytes(NEXT.encode()))
    again, is_new = publish_draft(writer, read_bytes(SCRIPT.encode()), "Another label")
    assert (again, is_new) == (first, False)
    assert Draft.objects.count() == 2
    assert Act.objects.filter(verb=Act.Verb.PUBLISHED_DRAFT).count() == 2


def test_the_text_of_an_earlier_draft_is_stored_again_when_the_production_goes_back_to_it(
    writer: Member, crew: Member
) -> None:
    first, _ = publish_draft(writer, read_bytes(SCRIPT.encode()))
    note = make_note(crew, first, first_line=14)
    publish_draft(writer, read_bytes(NEXT.encode()))
    third, is_new = publish_draft(writer, read_bytes(SCRIPT.encode()), again=True)
    assert (third.number, is_new, third.sha256) == (3, True, first.sha256)
    placement = note.placements.get(draft=third)
    assert (placement.fate, placement.first_line) == (Fate.KEPT, 14)
    again, is_new = publish_draft(writer, read_bytes(SCRIPT.replace("\n", "\r\n").encode()), again=True)
    assert (again, is_new) == (third, False)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_the_same_text_with_other_line_ends_is_recognised(writer: Member, end: str) -> None:
    first, _ = publish_draft(writer, read_bytes(SCRIPT.replace("\n", end).encode()))
    for other in ("\n", "\r\n", "\r"):
        again, is_new = publish_draft(writer, read_bytes(SCRIPT.replace("\n", other).encode()))
        assert (again, is_new) == (first, False)
    assert Draft.objects.get().text == SCRIPT.replace("\n", end)


def test_the_same_text_in_another_production_is_a_draft_of_its_own(writer: Member) -> None:
    stranger = make_member(make_production("Elsewhere"), role=Role.WRITER)
    publish_draft(writer, read_bytes(SCRIPT.encode()))
    other, is_new = publish_draft(stranger, read_bytes(SCRIPT.encode()))
    assert is_new
    assert other.number == 1


def test_the_act_is_in_the_log(writer: Member) -> None:
    draft, _ = publish_draft(writer, read_bytes(SCRIPT.encode()), "First")
    act = Act.objects.get(verb=Act.Verb.PUBLISHED_DRAFT)
    assert (act.person, act.production, act.about) == (writer.person, writer.production, draft.public_id)
    assert act.details == {"number": 1, "label": "First"}


def test_every_note_is_carried_to_it(writer: Member, crew: Member) -> None:
    first, _ = publish_draft(writer, read_bytes(SCRIPT.encode()))
    note = make_note(crew, first, first_line=6)
    second, _ = publish_draft(writer, read_bytes(NEXT.encode()))
    placement = note.placements.get(draft=second)
    assert (placement.fate, placement.first_line) == (Fate.KEPT, 6)


def test_when_the_notes_cannot_be_carried_the_earlier_draft_stays_current(
    writer: Member, monkeypatch: pytest.MonkeyPatch
) -> None:
    first, _ = publish_draft(writer, read_bytes(SCRIPT.encode()))

    def break_off(*_: object) -> None:
        raise RuntimeError("The power went out.")

    monkeypatch.setattr(acts, "carry_notes", break_off)
    with pytest.raises(RuntimeError, match="power"):
        publish_draft(writer, read_bytes(NEXT.encode()))
    assert writer.production.drafts.current() == first
    assert Act.objects.filter(verb=Act.Verb.PUBLISHED_DRAFT).count() == 1


def test_a_very_long_file_name_keeps_its_end(writer: Member) -> None:
    draft, _ = publish_draft(writer, read_bytes(SCRIPT.encode()), filename="x" * 400 + ".fountain")
    draft.refresh_from_db()
    assert len(draft.filename) == 200
    assert draft.filename.endswith("x.fountain")


def test_the_hash_is_that_of_the_text_in_utf_8() -> None:
    # SHA-256 of "abc": FIPS 180-4's worked example, from memory.
    assert hash_text("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("postgres_url")  # SQLite lets one transaction write at a time by itself
def test_two_texts_put_up_at_once_get_numbers_of_their_own(writer: Member) -> None:
    texts = [f"{SCRIPT}\nVERSION {n}.\n" for n in range(4)]
    start = threading.Barrier(len(texts))

    def put_up(text: str) -> None:
        start.wait()
        publish_draft(writer, read_bytes(text.encode()))
        connections.close_all()

    threads = [threading.Thread(target=put_up, args=[text]) for text in texts]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(Draft.objects.values_list("number", flat=True)) == [1, 2, 3, 4]
    assert connection.vendor == "postgresql"
