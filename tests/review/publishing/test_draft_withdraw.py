"""A draft put up by mistake is withdrawn: it leaves every reader's screens, loses nothing, and can come back."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.core.exceptions import PermissionDenied
from django.urls import reverse

from review.access import Role
from review.cards.accepted import count_accepted
from review.decisions.acts import decide, place_note
from review.drafts.acts import put_up_again, withdraw_draft
from review.drafts.models import Draft
from review.drafts.numbering import lock_numbers
from review.home.recent import recent_happenings
from review.log import Act
from review.notes.acts import leave_note, reply
from review.notes.models import Note, Placement
from review.publishing.acts import publish_draft
from review.publishing.doubts import doubts_about
from review.rewriting.acts import begin_working
from review.rewriting.wording_models import WrittenIn
from screenplay import Span
from screenplay.intake import read_text
from tests.factories import SCRIPT, make_draft, make_member, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

SECRET = "the harbour master is her father"
SECOND = SCRIPT.replace("Mist. The skiff is gone.", f"Fog. The skiff is gone, and {SECRET}.")
BY_NUMBER = [
    "script",
    "note-new",
    "draft-report",
    "draft-print",
    "draft-pdf",
    "draft-sides",
    "revised-pages",
    "revised-pages-pdf",
    "voices",
]
BETWEEN = ["changes-between", "change-sheets", "change-sheet", "change-sheet-pdf"]
WITHOUT_NUMBER = ["home", "drafts", "changes", "change-sheet-mine", "voices-current", "script-current", "notes"]


def put_up(writer: Member, text: str, **said: Any) -> Draft:
    return publish_draft(writer, read_text(text), **said)[0]


@pytest.fixture
def first(writer: Member) -> Draft:
    return put_up(writer, SCRIPT)


@pytest.fixture
def second(writer: Member, first: Draft) -> Draft:
    return put_up(writer, SECOND, label="Wrong file")


def address(name: str, member: Member, number: int = 2) -> str:
    numbers = {"old": 1, "new": number} if name in BETWEEN else {}
    numbers |= {"number": number} if name in {*BY_NUMBER, "draft-withdraw", "draft-put-up-again"} else {}
    whose = {"whose": "camera"} if name in {"change-sheet", "change-sheet-pdf"} else {}
    return reverse(name, kwargs={"production": member.production.public_id, **numbers, **whose})


def words(client: Client, at: str) -> str:
    return " ".join(BeautifulSoup(client.get(at, follow=True).content, "html.parser").get_text(" ").split())


def test_every_address_of_it_is_gone_for_readers_and_writers(
    writer: Member, crew: Member, second: Draft, signed_in: SignIn
) -> None:
    addresses = [address(name, crew) + "?since=1&character=NELL" for name in (*BY_NUMBER, *BETWEEN)]
    reader = signed_in(crew)
    assert [at for at in addresses if reader.get(at).status_code == 404] == []
    withdraw_draft(writer, second, "The wrong file.")
    for client in (reader, signed_in(writer)):
        for at in addresses:
            response = client.get(at)
            assert response.status_code == 404, at
            assert "<h1>Draft 2 was withdrawn</h1>" in response.text, at
            assert f'href="{address("home", crew)}"' in response.text, at
            for hidden in (SECRET, "Wrong file", "The wrong file."):
                assert hidden not in response.text, at


def test_a_draft_that_never_was_is_not_said_to_be_withdrawn_nor_is_one_told_of_to_a_stranger(
    writer: Member, crew: Member, second: Draft, signed_in: SignIn
) -> None:
    withdraw_draft(writer, second, "The wrong file.")
    stranger = signed_in(make_member(make_production("Elsewhere")))
    for name in (*BY_NUMBER, *BETWEEN):
        assert "<h1>Nothing here</h1>" in signed_in(crew).get(address(name, crew, 7)).text
        assert "<h1>Nothing here</h1>" in stranger.get(address(name, crew)).text


def test_no_screen_tells_a_reader_what_was_in_it_nor_why_it_went(
    writer: Member, crew: Member, cast: Member, second: Draft, signed_in: SignIn
) -> None:
    make_note(cast, second, 15, quoted=SECRET, body="Her father?!")
    withdraw_draft(writer, second, "The wrong file.")
    for member in (crew, cast):
        client = signed_in(member)
        for name in [*WITHOUT_NUMBER, "productions"]:
            at = reverse(name) if name == "productions" else address(name, member)
            told = client.get(at, follow=True).text
            for hidden in (SECRET, "Wrong file", "The wrong file.", "Her father?!"):
                assert hidden not in told, name


def test_the_one_before_is_current_again(writer: Member, crew: Member, second: Draft, signed_in: SignIn) -> None:
    withdraw_draft(writer, second, "The wrong file.")
    client = signed_in(crew)
    assert client.get(address("script-current", crew)).headers["Location"] == address("script", crew, 1)
    assert "Draft 1, put up" in words(client, address("home", crew))
    assert "withdrew draft 2" in [happening.what for happening in recent_happenings(crew)]


def test_its_writer_sees_it_among_the_drafts_with_the_reason(
    writer: Member, crew: Member, second: Draft, signed_in: SignIn
) -> None:
    client = signed_in(writer)
    response = client.post(address("draft-withdraw", writer), {"reason": " The wrong file. "}, follow=True)
    shelf = BeautifulSoup(response.content, "html.parser").select(".listed-draft")
    told = [("Withdrawn" in each.text, "The wrong file." in each.text) for each in shelf]
    assert told == [(True, True), (False, False)]
    assert "Current" in shelf[1].text
    second.refresh_from_db()
    assert (second.withdrawn_by, second.withdrawn_because) == (writer, "The wrong file.")
    act = Act.objects.get(verb=Act.Verb.WITHDREW_DRAFT)
    assert (act.about, act.details["reason"]) == (second.public_id, "The wrong file.")
    assert "Draft 2" not in words(signed_in(crew), address("drafts", crew)).replace("withdrew draft 2", "")


def test_it_asks_for_a_reason(writer: Member, second: Draft, signed_in: SignIn) -> None:
    response = signed_in(writer).post(address("draft-withdraw", writer), {"reason": "  "})
    assert response.status_code == 422
    assert "Say why in a few words" in response.text
    second.refresh_from_db()
    assert second.withdrawn_at is None


def test_withdrawing_it_twice_is_one_act(writer: Member, second: Draft) -> None:
    assert withdraw_draft(writer, second, "The wrong file.")
    assert not withdraw_draft(writer, second, "Again.")
    assert Act.objects.filter(verb=Act.Verb.WITHDREW_DRAFT).count() == 1
    assert Draft.objects.get(number=2).withdrawn_because == "The wrong file."


def test_its_text_and_its_notes_are_kept_and_come_back_with_it(
    writer: Member, crew: Member, second: Draft, signed_in: SignIn
) -> None:
    note = make_note(crew, second, 6)
    withdraw_draft(writer, second, "The wrong file.")
    page = reverse("note", args=[writer.production.public_id, note.public_id])
    assert signed_in(writer).get(page).status_code == 404
    assert "really" in words(signed_in(writer), address("draft-withdraw", writer))
    source = signed_in(writer).get(reverse("draft-download", args=[writer.production.public_id, 2]))
    assert source.content.decode() == SECOND

    response = signed_in(writer).post(address("draft-put-up-again", writer), follow=True)
    assert "Draft 2 is up again" in response.text
    assert signed_in(crew).get(page).status_code == 200
    assert writer.production.drafts.current() == second
    assert SECRET in words(signed_in(crew), address("script", crew))
    assert not put_up_again(writer, second)


def test_the_author_of_a_note_that_went_with_it_is_told_so_and_shown_their_own_words_alone(
    writer: Member, crew: Member, cast: Member, second: Draft, signed_in: SignIn
) -> None:
    note = leave_note(crew, second, Span(6, 0, 6, 4), "idea", "A lantern?", form_id=uuid.uuid4())
    reply(cast, note, "A torch.", uuid.uuid4())
    decide(writer, note, "declined", "No lamps.", 0, uuid.uuid4())
    withdraw_draft(writer, second, "The wrong file.")
    page = reverse("note", args=[writer.production.public_id, note.public_id])
    told = words(signed_in(crew), page)
    assert "Draft 2 was withdrawn By Ada Wren" in told
    assert "A lantern?" in told
    for hidden in ("A torch.", "No lamps.", "The wrong file.", note.quoted, SECRET):
        assert hidden not in told
    assert signed_in(cast).get(page).status_code == 404


def test_its_number_is_not_given_again(writer: Member, second: Draft, signed_in: SignIn) -> None:
    withdraw_draft(writer, second, "The wrong file.")
    third = put_up(writer, SCRIPT.replace("Mist.", "Rain."))
    assert third.number == 3
    assert "Changes since draft 1" in words(signed_in(writer), address("drafts", writer))
    put_up_again(writer, second)
    assert writer.production.drafts.current() == third


def test_where_notes_stood_in_it_does_not_count_for_the_next_draft(writer: Member, crew: Member, first: Draft) -> None:
    """Set by hand on other lines of the draft that is then withdrawn, a note is followed from where it was put."""
    note = make_note(crew, first, 6)
    second = put_up(writer, SECOND)
    place_note(writer, note, second, Span(17, 0, 17, 4))
    withdraw_draft(writer, second, "The wrong file.")
    third = put_up(writer, SCRIPT.replace("Mist.", "Rain."))
    placement = Placement.objects.get(note=note, draft=third)
    assert placement.span is not None
    assert (placement.fate, placement.span.first_line) == ("kept", 6)


def test_a_note_left_meanwhile_stands_in_it_when_it_comes_back(writer: Member, crew: Member, second: Draft) -> None:
    withdraw_draft(writer, second, "The wrong file.")
    first = writer.production.drafts.get(number=1)
    note = leave_note(crew, first, Span(6, 0, 6, 4), "idea", "A lantern?", form_id=uuid.uuid4())
    put_up_again(writer, second)
    assert note.placements.get(draft=second).fate == "kept"


def test_a_note_left_on_it_stands_in_the_drafts_since_when_it_comes_back(
    writer: Member, crew: Member, second: Draft
) -> None:
    note = leave_note(crew, second, Span(6, 0, 6, 4), "idea", "A lantern?", form_id=uuid.uuid4())
    withdraw_draft(writer, second, "The wrong file.")
    third = put_up(writer, SCRIPT.replace("Mist.", "Rain."))
    assert Note.objects.visible_to(crew).count() == 0
    put_up_again(writer, second)
    assert Note.objects.visible_to(crew).get() == note
    assert note.placements.get(draft=third).fate == "kept"


def test_what_it_answers_waits_to_be_written_in_again(
    writer: Member, crew: Member, first: Draft, signed_in: SignIn
) -> None:
    note = make_note(crew, first, 15)
    decision = decide(writer, note, "accepted", "Yes.", 0, uuid.uuid4())
    second = put_up(writer, SECOND, answers={decision.pk: True})
    assert count_accepted(writer) == 0
    withdraw_draft(writer, second, "The wrong file.")
    assert count_accepted(writer) == 1
    assert "Written in" not in words(signed_in(crew), address("home", crew))
    page = reverse("note", args=[crew.production.public_id, note.public_id])
    assert "Written in, draft" not in words(signed_in(crew), page)
    assert "wrote in an accepted note" not in words(signed_in(crew), address("home", crew))
    put_up_again(writer, second)
    assert "wrote in an accepted note" in words(signed_in(crew), address("home", crew))
    assert count_accepted(writer) == 0


def test_another_draft_that_answers_it_meanwhile_keeps_the_answer(writer: Member, crew: Member, first: Draft) -> None:
    note = make_note(crew, first, 15)
    decision = decide(writer, note, "accepted", "Yes.", 0, uuid.uuid4())
    second = put_up(writer, SECOND, answers={decision.pk: True})
    withdraw_draft(writer, second, "The wrong file.")
    third = put_up(writer, SCRIPT.replace("Mist.", "Rain."), answers={decision.pk: True})
    put_up_again(writer, second)
    assert [said.draft for said in WrittenIn.objects.all()] == [third]
    numbers = Act.objects.filter(verb=Act.Verb.WROTE_IN).order_by("id").values_list("details__draft", flat=True)
    assert list(numbers) == [2, 3]


def test_an_answer_leads_to_the_changes_since_the_last_draft_that_stands(
    writer: Member, crew: Member, second: Draft, signed_in: SignIn
) -> None:
    note = make_note(crew, writer.production.drafts.get(number=1), 15)
    decision = decide(writer, note, "accepted", "Yes.", 0, uuid.uuid4())
    withdraw_draft(writer, second, "The wrong file.")
    put_up(writer, SCRIPT.replace("Mist.", "Rain."), answers={decision.pk: True})
    card = signed_in(crew).get(reverse("note", args=[crew.production.public_id, note.public_id]))
    assert f'href="{address("changes-between", crew, 3)}#' in card.text


def test_a_working_draft_begun_from_it_says_so_and_offers_to_take_its_changes_out(
    writer: Member, second: Draft, signed_in: SignIn
) -> None:
    working = begin_working(writer, second, uuid.uuid4())
    assert "was begun from it" in words(signed_in(writer), address("draft-withdraw", writer))
    withdraw_draft(writer, second, "The wrong file.")
    client = signed_in(writer)
    assert "has been withdrawn" in words(client, address("working", writer))
    client.post(address("working-catch-up", writer))
    assert working.joined_text() == SCRIPT
    assert "has been withdrawn" not in words(client, address("working", writer))


def test_the_draft_that_is_current_again_has_its_numbers_where_they_are_locked(
    writer: Member, first: Draft, second: Draft
) -> None:
    lock_numbers(writer, 2)
    withdraw_draft(writer, second, "The wrong file.")
    first.refresh_from_db()
    assert [scene["number"] for scene in first.scene_numbers or []] == ["1", "2"]


def test_withdrawing_the_only_one_leaves_none(writer: Member, crew: Member, first: Draft, signed_in: SignIn) -> None:
    withdraw_draft(writer, first, "Too early.")
    assert "There is no draft yet" in words(signed_in(crew), address("home", crew))
    for name in WITHOUT_NUMBER:
        for member in (crew, writer):
            assert signed_in(member).get(address(name, member), follow=True).status_code == 200
    assert put_up(writer, SECOND).number == 2


def test_its_very_text_is_asked_about_before_it_goes_up_anew(writer: Member, second: Draft) -> None:
    withdraw_draft(writer, second, "The wrong file.")
    assert "which was withdrawn" in " ".join(doubts_about(SECOND, writer.production))


def test_no_note_is_left_on_a_draft_that_went_meanwhile(writer: Member, crew: Member, second: Draft) -> None:
    seen = Draft.objects.get(pk=second.pk)
    withdraw_draft(writer, second, "The wrong file.")
    with pytest.raises(PermissionDenied, match="withdrawn"):
        leave_note(crew, seen, Span(6, 0, 6, 4), "idea", "Hm.", form_id=uuid.uuid4())


def test_one_of_another_production_is_not_there(writer: Member, second: Draft, signed_in: SignIn) -> None:
    stranger = make_member(make_production("Elsewhere"), Role.WRITER)
    with pytest.raises(PermissionDenied):
        withdraw_draft(stranger, second, "Mine.")
    assert signed_in(stranger).get(address("draft-withdraw", writer)).status_code == 404
    make_draft(stranger)
    assert signed_in(writer).get(address("draft-withdraw", writer, 7)).status_code == 404


def test_the_next_draft_is_begun_under_the_number_it_will_have(
    writer: Member, second: Draft, signed_in: SignIn
) -> None:
    withdraw_draft(writer, second, "The wrong file.")
    assert "Begin draft 3" in words(signed_in(writer), address("working", writer))
    assert "as draft 3" in words(signed_in(writer), reverse("draft-restore", args=[writer.production.public_id, 1]))
