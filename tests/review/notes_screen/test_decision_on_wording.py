"""Deciding a note that offers a wording: what its form shows first, and what the working draft then reads."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.access import Role
from review.cards.note_cards import card_of
from review.changes.notes_at_changes import notes_across_drafts
from review.decisions.acts import decide
from review.decisions.models import Decision, Outcome
from review.exchange.taken_notes import state_in_words
from review.letters.of_notes import decided, what_became
from review.notes.carrying import carry_notes
from review.notes.models import Audience
from review.publishing.acts import publish_draft
from review.rewriting.acts import begin_working
from review.rewriting.scene_acts import save_scene
from screenplay.intake import read_text
from tests.factories import SCRIPT, make_draft, make_member, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from bs4 import Tag
    from django.test import Client

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member

    SignIn = Callable[[Member], Client]


@pytest.fixture
def note(crew: Member, draft: Draft) -> Note:
    return make_note(crew, draft, 9, wording="The tide turns at four.")


@pytest.fixture
def other(cast: Member, draft: Draft) -> Note:
    """It changes the same words."""
    return make_note(cast, draft, 9, wording="Our tide turns at four.")


def address(note: Note, name: str = "decide") -> str:
    return reverse(name, args=[note.production.public_id, note.public_id])


def filled_in(outcome: str, seen: int = 0, **fields: Any) -> dict[str, Any]:
    return {"form_id": str(uuid.uuid4()), "outcome": outcome, "reason": "No.", "seen": seen, **fields}


def card(client: Client, note: Note) -> Tag:
    found = BeautifulSoup(client.get(address(note, "note")).text, "html.parser").select_one(".note")
    assert found is not None
    return found


def write(writer: Member, draft: Draft, before: str, after: str) -> None:
    working = begin_working(writer, draft, uuid.uuid4())
    scene = next(scene for scene in working.scenes.all() if before in scene.text)
    save_scene(writer, scene, scene.text.replace(before, after), scene.version, uuid.uuid4())


def text_now(writer: Member) -> str:
    working = writer.production.working_drafts.open_now()
    return working.joined_text() if working else ""


def take(writer: Member, note: Note) -> None:
    decide(writer, note, Outcome.ACCEPTED, "", 0, uuid.uuid4(), with_wording=True)


def test_the_form_offers_to_put_it_in_ticked(signed_in: SignIn, writer: Member, note: Note) -> None:
    box = card(signed_in(writer), note).select_one("input[name=put_in]")
    assert box is not None
    assert box.has_attr("checked")


def test_accepting_puts_it_in_and_the_card_says_so_with_the_way_to_its_scene_and_back(
    signed_in: SignIn, writer: Member, note: Note
) -> None:
    client = signed_in(writer)
    client.post(address(note), filled_in("accepted", put_in="on"))
    assert "The tide turns at four." in text_now(writer)
    told = card(client, note).select_one(".wording-in")
    assert told is not None
    assert "Its wording is in the working draft." in told.text
    link, form = told.select_one("a"), told.select_one("form")
    assert link is not None
    assert form is not None
    assert "The tide turns at four." in client.get(str(link["href"])).text
    fields = {str(field["name"]): str(field["value"]) for field in form.select("input[type=hidden]")}
    client.post(str(form["action"]), fields)
    assert text_now(writer) == SCRIPT
    assert "Opened again by Ada Wren" in card(client, note).text


def test_without_the_tick_the_working_draft_is_not_even_begun(signed_in: SignIn, writer: Member, note: Note) -> None:
    signed_in(writer).post(address(note), filled_in("accepted"))
    assert writer.production.working_drafts.open_now() is None


def test_where_its_line_was_written_on_the_preview_shows_what_it_will_read(
    signed_in: SignIn, writer: Member, draft: Draft, note: Note
) -> None:
    write(writer, draft, "turns at four", "turns at five")
    offered = card(signed_in(writer), note).select_one(".decide-put-in")
    assert offered is not None
    before, after = offered.select("dd")
    assert (before.text, after.text) == ("Tide turns at five.", "The tide turns at five.")


def test_a_note_that_was_overtaken_says_by_whose_and_leads_there(
    signed_in: SignIn, writer: Member, note: Note, other: Note
) -> None:
    take(writer, note)
    told = card(signed_in(writer), other).select_one(".overtaken")
    assert told is not None
    assert "Overtaken by Bo Finch’s note" in told.text
    link = told.select_one("a")
    assert link is not None
    assert str(link["href"]) == address(note, "note")
    assert card(signed_in(writer), other).select_one("input[name=put_in]") is None
    assert "You can accept this note without its wording" in told.text


def test_one_that_was_accepted_without_its_wording_says_so(
    signed_in: SignIn, writer: Member, note: Note, other: Note
) -> None:
    decide(writer, other, Outcome.ACCEPTED, "", 0, uuid.uuid4())
    take(writer, note)
    told = card(signed_in(writer), other).select_one(".overtaken")
    assert told is not None
    assert "This one is accepted without its wording; to use it, take the other out first." in told.text
    assert "You can accept" not in told.text


def test_words_written_over_by_hand_are_shown_beside_the_wording_with_the_way_to_their_scene(
    signed_in: SignIn, writer: Member, draft: Draft, note: Note
) -> None:
    write(writer, draft, "Tide turns", "Slack water comes")
    offered = card(signed_in(writer), note).select_one(".decide-put-in")
    assert offered is not None
    assert [text.text for text in offered.select("dd")] == ["Slack water comes at four.", "The tide turns at four."]
    link = offered.select_one("a")
    assert link is not None
    scene = signed_in(writer).get(str(link["href"]))
    assert "Slack water comes at four." in scene.text


def test_an_overtaken_note_that_is_accepted_says_that_its_wording_stays_out(
    signed_in: SignIn, writer: Member, cast: Member, note: Note, other: Note
) -> None:
    take(writer, note)
    client, listed = signed_in(writer), reverse("notes", args=[writer.production.public_id])
    client.post(reverse("notes-look", args=[writer.production.public_id]), {"look": "compact"})
    from_list = {"HX-Request": "true", "HX-Target": f"note-{other.public_id}"}
    row = client.post(address(other), filled_in("accepted", look="compact"), headers=from_list)
    told = "Accepted without its wording, overtaken by Bo Finch’s note"
    state = BeautifulSoup(row.text, "html.parser").select_one(".row-state")
    assert state is not None
    assert told in " ".join(state.text.split())
    states = client.get(listed, headers={"HX-Request": "true", "HX-Target": "note-states"})
    assert f"{told}. " in states.text
    assert f"{told}. The decision" in client.post(address(other), filled_in("accepted", seen=1), follow=True).text
    own = reverse("home-own-notes", args=[writer.production.public_id])
    page = BeautifulSoup(signed_in(cast).get(own).text, "html.parser").select_one(f"#note-{other.public_id}")
    assert page is not None
    assert "Accepted without its wording" in page.text
    assert "Overtaken by Bo Finch’s note." in page.text


def test_it_is_called_so_on_its_authors_home_in_their_mail_in_files_and_at_changes(
    signed_in: SignIn, writer: Member, cast: Member, draft: Draft, note: Note, other: Note
) -> None:
    second = make_draft(writer, draft.text + "\nGulls.\n", number=2)
    carry_notes(second)
    take(writer, note)
    decision = decide(writer, other, Outcome.ACCEPTED, "", 0, uuid.uuid4())
    home = BeautifulSoup(signed_in(cast).get(reverse("home", args=[cast.production.public_id])).text, "html.parser")
    assert [tag.text for tag in home.select(".home-answer .tag")] == ["Accepted without its wording"]
    told = decided(cast, decision.public_id)
    assert told is not None
    assert told.title == "Your note is accepted without its wording"
    assert "Accepted without its wording." in list(what_became(cast, [other]))[-1]
    assert state_in_words(card_of(cast, other, second)) == "Accepted without its wording"
    across = notes_across_drafts(cast, draft, second)
    assert [each.state for each in across if each.note == other] == ["accepted without its wording"]


def test_its_author_is_not_told_whose_note_overtook_it_where_they_cannot_read_that(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft, other: Note
) -> None:
    hidden = make_note(crew, draft, 9, wording="The tide turns at four.", audience=Audience.WRITER)
    take(writer, hidden)
    decide(writer, other, Outcome.ACCEPTED, "", 0, uuid.uuid4())
    told = card(signed_in(other.author), other)
    assert "Overtaken by another note." in told.text
    assert "Bo Finch" not in told.text


def test_a_wording_overtaken_while_the_form_was_open_is_refused_and_nothing_is_decided(
    signed_in: SignIn, writer: Member, note: Note, other: Note
) -> None:
    take(writer, note)
    response = signed_in(writer).post(
        address(other), filled_in("accepted", put_in="on"), headers={"HX-Request": "true"}
    )
    assert response.status_code == 409
    assert "Bo Finch’s wording now stands on these words" in response.text
    assert "Nothing was decided" in response.text
    assert "Overtaken by Bo Finch’s note" in BeautifulSoup(response.text, "html.parser").text
    assert not other.decisions.exists()


def swapped_in(response: Any, name: str, note: Note) -> str | None:
    """What the answer puts in the place of another note's part on the page, None where it leaves it alone."""
    page = BeautifulSoup(response.text, "html.parser")
    found = page.select_one(f'#{name}-{note.public_id}[hx-swap-oob="true"]')
    return None if found is None else " ".join(found.text.split())


def test_the_other_cards_of_the_page_are_told_when_a_wording_goes_in_and_comes_out(
    signed_in: SignIn, writer: Member, cast: Member, draft: Draft, note: Note, other: Note
) -> None:
    far = make_note(cast, draft, 20, wording="He never waits.")
    client, htmx = signed_in(writer), {"HX-Request": "true"}
    taken = client.post(address(note), filled_in("accepted", put_in="on"), headers=htmx)
    assert "Overtaken by Bo Finch’s note" in (swapped_in(taken, "overtaken", other) or "")
    assert swapped_in(taken, "wording-offer", other) == ""
    assert swapped_in(taken, "overtaken", far) is None
    out = client.post(address(note, "decision-reopen"), filled_in("", seen=1, take_out="on"), headers=htmx)
    assert swapped_in(out, "overtaken", other) == ""
    assert "Put its wording into the working draft" in (swapped_in(out, "wording-offer", other) or "")


def test_a_note_carried_to_the_draft_shown_is_among_the_other_cards(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft, other: Note
) -> None:
    second, _ = publish_draft(
        writer, read_text(SCRIPT.replace("Title: Slack Water\n", "Title: Slack Water\nDraft: 2\n"))
    )
    later = make_note(crew, second, 10, wording="The tide turns at four.")
    form = filled_in("accepted", put_in="on", shown=2)
    taken = signed_in(writer).post(address(later), form, headers={"HX-Request": "true"})
    assert "Overtaken by Bo Finch’s note" in (swapped_in(taken, "overtaken", other) or "")


def test_deciding_without_a_wording_leaves_the_other_cards_alone(
    signed_in: SignIn, writer: Member, note: Note, other: Note
) -> None:
    answer = signed_in(writer).post(address(note), filled_in("accepted"), headers={"HX-Request": "true"})
    assert swapped_in(answer, "overtaken", other) is None


def test_declining_a_note_whose_wording_is_in_takes_it_out_when_ticked(
    signed_in: SignIn, writer: Member, note: Note
) -> None:
    take(writer, note)
    client = signed_in(writer)
    assert card(client, note).select_one("input[name=take_out][checked]") is not None
    client.post(address(note), filled_in("declined", seen=1, take_out="on"))
    assert text_now(writer) == SCRIPT


def test_declining_it_without_the_tick_leaves_the_words_to_the_writer(
    signed_in: SignIn, writer: Member, note: Note
) -> None:
    take(writer, note)
    client = signed_in(writer)
    client.post(address(note), filled_in("declined", seen=1))
    assert "The tide turns" in text_now(writer)
    assert card(client, note).select_one(".wording-in") is None


@pytest.mark.parametrize("name", ["decide", "decision-reopen"])
def test_words_changed_since_are_shown_and_stay_until_the_writer_says_so(
    signed_in: SignIn, writer: Member, draft: Draft, note: Note, name: str
) -> None:
    take(writer, note)
    write(writer, draft, "The tide turns", "That tide turns")
    client = signed_in(writer)
    response = client.post(
        address(note, name), filled_in("declined", seen=1, take_out="on"), headers={"HX-Request": "true"}
    )
    assert response.status_code == 409
    page = BeautifulSoup(response.text, "html.parser")
    told = page.select_one(".written-over")
    assert told is not None
    assert [text.text for text in told.select("dd")] == ["Tide turns at four.", "That tide turns at four."]
    assert note.decisions.count() == 1
    client.post(address(note, name), filled_in("declined", seen=1))
    assert "That tide turns" in text_now(writer)
    assert note.decisions.count() == 2


def test_a_decided_note_is_opened_again(signed_in: SignIn, writer: Member, crew: Member, draft: Draft) -> None:
    plain = make_note(crew, draft, 9)
    decide(writer, plain, "declined", "No.", 0, uuid.uuid4())
    client = signed_in(writer)
    form = {"form_id": str(uuid.uuid4()), "seen": 1}
    for _ in range(2):
        client.post(address(plain, "decision-reopen"), form)
    assert [decision.outcome for decision in plain.decisions.all()] == ["declined", "reopened"]
    assert card(client, plain).select_one("form.decide") is not None
    assert "Opened again by Ada Wren" in card(signed_in(crew), plain).text


def test_a_note_decided_otherwise_meanwhile_is_not_opened(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    plain = make_note(crew, draft, 9)
    decide(writer, plain, "parked", "", 0, uuid.uuid4())
    decide(writer, plain, "declined", "No.", 1, uuid.uuid4())
    client = signed_in(writer)
    response = client.post(address(plain, "decision-reopen"), {"form_id": str(uuid.uuid4()), "seen": 1})
    assert response.status_code == 409
    assert plain.decisions.count() == 2


def test_a_note_that_is_open_is_not_opened_again(signed_in: SignIn, writer: Member, crew: Member, draft: Draft) -> None:
    plain = make_note(crew, draft, 9)
    decide(writer, plain, "parked", "", 0, uuid.uuid4())
    decide(writer, plain, Outcome.REOPENED, "", 1, uuid.uuid4())
    client = signed_in(writer)
    assert client.post(address(plain, "decision-reopen"), filled_in("", seen=2)).status_code == 409
    assert plain.decisions.count() == 2


def test_opening_again_cannot_be_sent_as_a_decision(signed_in: SignIn, writer: Member, note: Note) -> None:
    assert signed_in(writer).post(address(note), filled_in("reopened")).status_code == 422
    assert not Decision.objects.exists()


def test_readers_see_nothing_of_the_working_draft(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, note: Note, other: Note
) -> None:
    take(writer, note)
    for reader in (crew, cast):
        for each in (note, other):
            page = card(signed_in(reader), each).text
            assert "working draft" not in page
            assert "Overtaken" not in page
    refused = signed_in(crew).post(address(note, "decision-reopen"), {"form_id": str(uuid.uuid4()), "seen": 1})
    assert refused.status_code == 403


def test_another_production_s_note_is_not_found(signed_in: SignIn, note: Note) -> None:
    stranger = make_member(make_production("Ebb"), Role.WRITER)
    assert signed_in(stranger).post(address(note, "decision-reopen")).status_code == 404


def test_many_wordings_cost_no_more_queries_than_a_few(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft, django_assert_num_queries: Any
) -> None:
    client, notes = signed_in(writer), reverse("notes", args=[writer.production.public_id]) + "?state=all"
    take(writer, make_note(crew, draft, 9, wording="The tide turns at four."))
    make_note(crew, draft, 6, wording="NELL sleeps.")
    client.get(notes)
    with django_assert_num_queries(17) as few:
        client.get(notes)
    for _ in range(12):
        make_note(crew, draft, 6, wording="NELL mends a net.")
        take(writer, make_note(cast, draft, 13, wording="Then we go at *three*."))
    with django_assert_num_queries(len(few)):
        client.get(notes)
