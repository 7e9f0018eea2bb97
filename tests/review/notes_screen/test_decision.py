"""Deciding a note."""

from __future__ import annotations

import uuid
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.core.exceptions import PermissionDenied
from django.db import connection
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from review.decisions.acts import DecidedMeanwhile, decide
from review.decisions.models import Decision, Outcome
from review.log import Act
from review.notes.models import Audience, Note, NoteKind
from review.people.models import Department, Member
from tests.factories import make_draft, make_member, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft

    SignIn = Callable[[Member], Client]


@pytest.fixture
def note(crew: Member, draft: Draft) -> Note:
    return make_note(crew, draft, 9, kind=NoteKind.PROBLEM)


@pytest.fixture
def second_writer(writer: Member) -> Member:
    return make_member(writer.production, Role.WRITER, Department.DIRECTION, "Edda Holm")


def address(note: Note) -> str:
    return reverse("decide", args=[note.production.public_id, note.public_id])


def filled_in(outcome: str = "accepted", reason: str = "", seen: int = 0, **fields: Any) -> dict[str, Any]:
    return {"form_id": str(uuid.uuid4()), "outcome": outcome, "reason": reason, "seen": seen, **fields}


def test_a_writer_accepts_a_note(signed_in: SignIn, writer: Member, note: Note) -> None:
    response = signed_in(writer).post(address(note), filled_in("accepted", "You are right."))
    decision = Decision.objects.get()
    assert (decision.note, decision.outcome, decision.reason) == (note, Outcome.ACCEPTED, "You are right.")
    assert (decision.ordinal, decision.decided_by) == (1, writer)
    assert response.status_code == 302
    assert response.headers["Location"].endswith(f"#note-{note.public_id}")


def test_it_comes_back_to_the_page_it_was_sent_from(signed_in: SignIn, writer: Member, note: Note) -> None:
    page = reverse("script", args=[note.production.public_id, 1]) + "?x=1#L3"
    response = signed_in(writer).post(address(note), filled_in(next=page))
    assert response.headers["Location"] == page.replace("#L3", f"#note-{note.public_id}")


@pytest.mark.parametrize(
    "elsewhere", ["https://example.com/", "//example.com/", "javascript:alert(1)", "/\\example.com"]
)
def test_it_never_leads_to_another_site(signed_in: SignIn, writer: Member, note: Note, elsewhere: str) -> None:
    response = signed_in(writer).post(address(note), filled_in(next=elsewhere))
    assert response.headers["Location"].startswith(reverse("notes", args=[note.production.public_id]))


@pytest.mark.parametrize("no_page", ["word", "home", "?x=1", "http://[", "/" + "a" * 3000])
def test_what_is_no_page_s_address_leads_to_the_notes(
    signed_in: SignIn, writer: Member, note: Note, no_page: str
) -> None:
    response = signed_in(writer).post(address(note), filled_in(next=no_page))
    assert response.headers["Location"].startswith(reverse("notes", args=[note.production.public_id]))
    assert Decision.objects.get().note == note


def test_a_declined_note_owes_its_author_a_reason(signed_in: SignIn, writer: Member, note: Note) -> None:
    response = signed_in(writer).post(address(note), filled_in("declined", "  "))
    assert response.status_code == 422
    assert "Say why you decline it" in response.text
    assert not Decision.objects.exists()


@pytest.mark.parametrize("outcome", ["accepted", "parked"])
def test_the_other_decisions_may_go_without_a_reason(
    signed_in: SignIn, writer: Member, note: Note, outcome: str
) -> None:
    signed_in(writer).post(address(note), filled_in(outcome))
    assert Decision.objects.get().outcome == outcome


@pytest.mark.parametrize("outcome", ["", "maybe"])
def test_a_decision_is_one_of_three(signed_in: SignIn, writer: Member, note: Note, outcome: str) -> None:
    response = signed_in(writer).post(address(note), filled_in(outcome, "Hm."))
    assert response.status_code == 422
    assert "Choose one of the three first." in response.text
    assert "Hm." in response.text


def test_a_reason_that_is_too_long_is_refused_and_kept_in_the_form(
    signed_in: SignIn, writer: Member, note: Note
) -> None:
    response = signed_in(writer).post(address(note), filled_in("declined", "no " * 2000))
    assert response.status_code == 422
    assert "A reason can hold 5,000 characters" in response.text
    assert "no no no" in response.text


def test_a_later_decision_stands_on_top_of_the_earlier_one(signed_in: SignIn, writer: Member, note: Note) -> None:
    client = signed_in(writer)
    client.post(address(note), filled_in("parked", "After the recce."))
    response = client.post(
        address(note), filled_in("accepted", "The slip floods.", seen=1), headers={"HX-Request": "true"}
    )
    assert [decision.outcome for decision in note.decisions.all()] == ["parked", "accepted"]
    page = BeautifulSoup(response.text, "html.parser")
    standing, earlier = page.select_one(".decision-line"), page.select_one(".decision-history")
    assert standing is not None
    assert "Accepted" in standing.text
    assert earlier is not None
    assert "After the recce." in earlier.text


def test_the_same_form_sent_twice_makes_one_decision(signed_in: SignIn, writer: Member, note: Note) -> None:
    client, form = signed_in(writer), filled_in("accepted")
    assert client.post(address(note), form).status_code == 302
    assert client.post(address(note), form).status_code == 302
    assert Decision.objects.count() == 1


@pytest.mark.parametrize("other", [{"outcome": "accepted"}, {"reason": "Later."}])
def test_another_outcome_in_a_form_that_was_sent_is_not_taken_for_what_it_decided(
    signed_in: SignIn, writer: Member, note: Note, other: dict[str, str]
) -> None:
    client, fields = signed_in(writer), filled_in("parked")
    client.post(address(note), fields)
    assert client.post(address(note), fields | other).status_code == 409
    client.post(address(note), fields | other | {"seen": 1})
    outcomes = [(each.outcome, each.reason) for each in note.decisions.all()]
    assert outcomes == [("parked", ""), (other.get("outcome", "parked"), other.get("reason", ""))]


def test_a_form_id_that_somebody_else_has_used_hides_no_decision(
    writer: Member, second_writer: Member, crew: Member, draft: Draft, note: Note
) -> None:
    form_id, other = uuid.uuid4(), make_note(crew, draft, 6, kind=NoteKind.PROBLEM)
    decide(writer, note, "accepted", "", 0, form_id)
    mine = decide(second_writer, other, "parked", "", 0, form_id)
    assert (mine.note, mine.outcome, mine.decided_by) == (other, "parked", second_writer)


def test_the_second_of_two_deciding_at_once_is_told_and_nothing_is_overwritten(
    signed_in: SignIn, writer: Member, second_writer: Member, note: Note
) -> None:
    decide(second_writer, note, "accepted", "It is *true*.", 0, uuid.uuid4())
    response = signed_in(writer).post(
        address(note), filled_in("declined", "Not this film.", seen=0), headers={"HX-Request": "true"}
    )
    assert response.status_code == 409
    assert [decision.outcome for decision in note.decisions.all()] == ["accepted"]
    page = BeautifulSoup(response.text, "html.parser")
    told = page.select_one(".decision-meanwhile")
    assert told is not None
    assert "Edda Holm decided this meanwhile" in told.text
    assert ": accepted." in told.text
    assert "It is true." in page.text


def test_the_second_finds_their_own_words_in_the_form_and_can_decide_anyway(
    signed_in: SignIn, writer: Member, second_writer: Member, note: Note
) -> None:
    decide(second_writer, note, "accepted", "", 0, uuid.uuid4())
    client = signed_in(writer)
    told = client.post(address(note), filled_in("declined", "Not this film.", seen=0))
    form = BeautifulSoup(told.text, "html.parser").select_one("form.decide")
    assert form is not None
    chosen, reason = form.select_one("input[checked]"), form.select_one("textarea")
    assert chosen is not None
    assert reason is not None
    assert (chosen["value"], reason.text.strip()) == ("declined", "Not this film.")
    again = {str(field["name"]): str(field["value"]) for field in form.select("input[type=hidden]")}
    client.post(address(note), again | {"outcome": "declined", "reason": reason.text.strip()})
    assert [(d.ordinal, d.outcome, d.decided_by) for d in note.decisions.all()] == [
        (1, "accepted", second_writer),
        (2, "declined", writer),
    ]


def test_a_decider_who_has_not_seen_the_latest_gets_it(writer: Member, second_writer: Member, note: Note) -> None:
    decide(writer, note, "parked", "", 0, uuid.uuid4())
    latest = decide(writer, note, "accepted", "", 1, uuid.uuid4())
    with pytest.raises(DecidedMeanwhile) as told:
        decide(second_writer, note, "declined", "No.", 1, uuid.uuid4())
    assert told.value.latest == latest


def test_a_note_withdrawn_meanwhile_cannot_be_decided(signed_in: SignIn, writer: Member, note: Note) -> None:
    Note.objects.update(withdrawn_at=timezone.now())
    response = signed_in(writer).post(address(note), filled_in("accepted"))
    assert response.status_code == 409
    assert "withdrew this note while you were deciding" in response.text
    assert not Decision.objects.exists()


def test_readers_may_not_decide(signed_in: SignIn, crew: Member, cast: Member, note: Note) -> None:
    for reader in (crew, cast):
        assert signed_in(reader).post(address(note), filled_in()).status_code == 403
        with pytest.raises(PermissionDenied):
            decide(reader, note, "accepted", "", 0, uuid.uuid4())
    assert not Decision.objects.exists()


def test_a_writer_of_another_production_finds_nothing(signed_in: SignIn, note: Note) -> None:
    stranger = make_member(make_production("Ebb"), Role.WRITER)
    assert signed_in(stranger).post(address(note), filled_in()).status_code == 404


def test_a_note_of_another_production_is_not_found_under_ones_own(signed_in: SignIn, writer: Member) -> None:
    other = make_member(make_production("Ebb"))
    note = make_note(other, make_draft(other))
    foreign = reverse("decide", args=[writer.production.public_id, note.public_id])
    assert signed_in(writer).post(foreign, filled_in()).status_code == 404


def test_it_rejects_get(signed_in: SignIn, writer: Member, note: Note) -> None:
    assert signed_in(writer).get(address(note)).status_code == 405


def test_it_wants_someone_signed_in(client: Client, note: Note) -> None:
    response = client.post(address(note), filled_in())
    assert response.status_code == 302
    assert response.headers["Location"].startswith(reverse("account_login"))


def test_htmx_gets_the_decision_alone(signed_in: SignIn, writer: Member, note: Note) -> None:
    response = signed_in(writer).post(address(note), filled_in("accepted"), headers={"HX-Request": "true"})
    assert response.status_code == 200
    assert response.headers["HX-Trigger"] == "note-decided"
    assert response.text.strip().startswith(f'<div class="decision" id="decision-{note.public_id}"')


def test_readers_see_the_decision_at_the_note_and_no_form(
    signed_in: SignIn, writer: Member, crew: Member, note: Note
) -> None:
    decide(writer, note, "declined", "Night it *stays*.", 0, uuid.uuid4())
    page = BeautifulSoup(
        signed_in(crew).get(reverse("note", args=[note.production.public_id, note.public_id])).text, "html.parser"
    )
    decision = page.select_one(".decision")
    assert decision is not None
    assert "Declined" in decision.text
    assert "by Ada Wren" in decision.text
    assert "<em>stays</em>" in str(decision)
    assert page.select_one("form.decide") is None


def test_a_reason_cannot_bring_code_into_the_page(signed_in: SignIn, writer: Member, note: Note) -> None:
    response = signed_in(writer).post(
        address(note), filled_in("accepted", "<script>alert(1)</script>"), headers={"HX-Request": "true"}
    )
    assert "<script>" not in response.text


def test_a_decision_on_a_note_for_the_writer_alone_stays_between_them(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 9, audience=Audience.WRITER)
    decide(writer, note, "declined", "Between us: no.", 0, uuid.uuid4())
    own_page = reverse("note", args=[note.production.public_id, note.public_id])
    assert "Between us: no." in signed_in(crew).get(own_page).text
    assert signed_in(cast).get(own_page).status_code == 404


def test_deciding_is_logged_without_the_reason(writer: Member, note: Note) -> None:
    decide(writer, note, "declined", "A reason of some length.", 0, uuid.uuid4())
    act = Act.objects.get(verb=Act.Verb.DECIDED)
    assert (act.person, act.about, act.details["outcome"]) == (writer.person, note.public_id, "declined")
    assert "reason" not in act.details


@pytest.mark.django_db(transaction=True)
def test_of_two_deciding_in_the_same_moment_one_is_told(
    postgres_url: str, writer: Member, second_writer: Member, note: Note
) -> None:
    at_once = Barrier(2)

    def outcome_of(by: Member) -> str:
        try:
            at_once.wait(timeout=10)
            return decide(by, note, "accepted", "", 0, uuid.uuid4()).outcome
        except DecidedMeanwhile as told:
            return f"told of {told.latest.decided_by.name}"
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as threads:
        outcomes = sorted(threads.map(outcome_of, [writer, second_writer]))
    decision = Decision.objects.get()
    assert outcomes == ["accepted", f"told of {decision.decided_by.name}"]


@pytest.mark.django_db(transaction=True)
def test_a_form_sent_twice_in_the_same_moment_makes_one_decision(postgres_url: str, writer: Member, note: Note) -> None:
    at_once, form_id = Barrier(2), uuid.uuid4()

    def send(_: int) -> int:
        try:
            at_once.wait(timeout=10)
            return decide(writer, note, "accepted", "", 0, form_id).pk
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as threads:
        made = list(threads.map(send, range(2)))
    assert made == [Decision.objects.get().pk] * 2


def test_a_decision_is_taken_back_from_the_bar_of_the_screen(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 9)
    make_note(crew, draft, 6)
    decide(writer, note, Outcome.DECLINED, "No.", 0, uuid.uuid4())
    client = signed_in(writer)
    notes = reverse("notes", args=[writer.production.public_id])
    form = BeautifulSoup(client.get(notes).text, "html.parser").select_one(".notes-last form")
    assert form is not None
    fields = {str(field["name"]): str(field["value"]) for field in form.select("[type=hidden]")}
    assert client.post(str(form["action"]), fields).headers["Location"] == f"{notes}#note-{note.public_id}"
    page = client.get(notes).text
    assert "taken back" in page
    assert "2</b> left to decide" in page
    assert note.decisions.count() == 2


def test_what_stands_in_the_way_of_taking_it_back_is_said_at_the_note(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 9)
    first = decide(writer, note, Outcome.DECLINED, "No.", 0, uuid.uuid4())
    decide(writer, note, Outcome.PARKED, "", 1, uuid.uuid4())
    address = reverse("decision-undo", args=[writer.production.public_id, note.public_id])
    fields = {"form_id": str(uuid.uuid4()), "decision": first.public_id}
    response = signed_in(writer).post(address, fields)
    assert response.status_code == 409
    assert "This was decided again since" in response.text
    assert note.decisions.count() == 2


def test_in_a_list_the_row_comes_back_and_unfolded_where_words_are_owed(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 9, kind="idea")
    client, address = signed_in(writer), reverse("decide", args=[writer.production.public_id, note.public_id])
    asked = {"HX-Request": "true", "HX-Target": f"note-{note.public_id}"}
    fields = {"seen": "0", "look": "compact", "reason": ""}
    owed = client.post(address, fields | {"form_id": str(uuid.uuid4()), "outcome": "declined"}, headers=asked)
    assert owed.status_code == 422
    assert BeautifulSoup(owed.text, "html.parser").select_one(".row-fold[open] [aria-invalid=true]")
    done = client.post(address, fields | {"form_id": str(uuid.uuid4()), "outcome": "parked"}, headers=asked)
    assert done.status_code == 200
    assert done.headers["HX-Retarget"] == f"#note-{note.public_id}"
    row = BeautifulSoup(done.text, "html.parser").select_one(".row")
    assert row is not None
    assert "Parked" in row.text
    assert row.select_one(".row-fold[open], .quick, [data-undecided]") is None
