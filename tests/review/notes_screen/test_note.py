"""One note's own page, and taking it back."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.log import Act
from review.notes.acts import withdraw_note
from review.notes.models import Audience
from screenplay.breakdown import ASSESS_FIRST
from tests.factories import make_draft, make_member, make_next_draft, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member

    SignedIn = Callable[[Member], Client]

HTMX = {"HX-Request": "true"}


def address(note: Note, name: str = "note") -> str:
    return reverse(name, args=[note.production.public_id, note.public_id])


def test_it_shows_the_note_and_what_it_stands_on(signed_in: SignedIn, crew: Member, cast: Member, draft: Draft) -> None:
    note = make_note(crew, draft, 6)
    response = signed_in(cast).get(address(note))
    page = BeautifulSoup(response.content, "html.parser")
    assert page.select_one(".note-body em").get_text() == "really"  # type: ignore[union-attr]
    assert page.select_one(".note-quoted").get_text(strip=True) == "NELL mends a net by one lamp."  # type: ignore[union-attr]
    assert page.select_one("h2").get_text(" ", strip=True) == "Problem Bo Finch Camera"  # type: ignore[union-attr]


def test_a_safety_note_says_who_must_assess_the_work(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, 6, kind="safety")
    told = signed_in(crew).get(address(note)).content.decode()
    assert ASSESS_FIRST in told


def test_a_wording_is_shown_before_and_after_by_words(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, 6, wording="NELL mends a sail by one lamp.")
    page = BeautifulSoup(signed_in(crew).get(address(note)).content, "html.parser")
    assert [cut.get_text() for cut in page.select(".before del")] == ["net"]
    assert [added.get_text() for added in page.select(".after ins")] == ["sail"]


def test_lines_that_a_wording_stands_beside_are_shown_once_and_by_their_draft(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 6, wording="NELL mends a sail by one lamp.")
    page = BeautifulSoup(signed_in(crew).get(address(note)).content, "html.parser")
    assert page.select_one(".note-quoted") is None
    assert [term.get_text() for term in page.select(".note-wording dt")] == ["Draft 1 reads", "Offered"]


def test_a_few_words_chosen_of_lines_are_quoted_above_the_wording_for_them(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    note = make_note(
        crew, draft, 6, first_char=13, last_char=16, quoted="net", wording="NELL mends a sail by one lamp."
    )
    page = BeautifulSoup(signed_in(crew).get(address(note)).content, "html.parser")
    assert page.select_one(".note-quoted").get_text(strip=True) == "net"  # type: ignore[union-attr]


def test_a_wording_that_empties_its_lines_says_so(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, 6, wording="")
    assert "Cut these lines." in signed_in(crew).get(address(note)).content.decode()


def test_by_htmx_it_is_the_card_alone_on_the_draft_looked_at(
    signed_in: SignedIn, crew: Member, writer: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 6)
    make_draft(writer, draft.text + "\n", 2)
    response = signed_in(crew).get(address(note) + "?shown=2", headers=HTMX)
    page = BeautifulSoup(response.content, "html.parser")
    assert not page.select("html")
    assert page.select_one("[name=shown]")["value"] == "2"  # type: ignore[index]


def test_a_note_whose_lines_are_gone_names_the_last_draft_that_had_them(
    signed_in: SignedIn, crew: Member, writer: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 6)
    kept, without = draft.text + "\nA bell.\n", draft.text.replace("NELL mends a net by one lamp.\n\n", "")
    for text in (kept, without):
        make_next_draft(writer, text)
    card = BeautifulSoup(signed_in(crew).get(address(note) + "?shown=3", headers=HTMX).content, "html.parser")
    place = card.select_one(".note-place")
    assert place is not None
    assert "Gone last in draft 2" in " ".join(place.get_text(" ").split())


@pytest.mark.parametrize("shown", ["7", "x", "-1"])
def test_a_draft_that_is_not_there_is_not_found(signed_in: SignedIn, crew: Member, draft: Draft, shown: str) -> None:
    assert signed_in(crew).get(address(make_note(crew, draft)) + f"?shown={shown}").status_code == 404


def test_a_note_for_the_writer_is_not_there_for_others(
    signed_in: SignedIn, crew: Member, cast: Member, writer: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, audience=Audience.WRITER)
    assert signed_in(crew).get(address(note)).status_code == 200
    assert signed_in(writer).get(address(note)).status_code == 200
    assert signed_in(cast).get(address(note)).status_code == 404


def test_a_note_of_another_production_is_not_found_under_this_one(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    elsewhere = make_member(make_production("Another"))
    note = make_note(elsewhere, make_draft(elsewhere, "INT. ELSEWHERE - DAY\n\nFog.\n\nMore fog.\n\nRain.\n"))
    here = reverse("note", args=[crew.production.public_id, note.public_id])
    assert signed_in(crew).get(here).status_code == 404
    assert signed_in(crew).get(address(note)).status_code == 404


def test_its_author_takes_it_back_and_it_is_kept(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, 6, body="On second thoughts")
    response = signed_in(crew).post(address(note, "note-withdraw"), {"shown": "1"})
    assert response.headers["Location"].endswith(f"/drafts/1/script/?note={note.public_id}#note-{note.public_id}")
    note.refresh_from_db()
    assert note.withdrawn_at is not None
    assert note.body == "On second thoughts"
    assert Act.objects.filter(verb=Act.Verb.WITHDREW_NOTE, about=note.public_id).count() == 1


def test_taking_it_back_twice_changes_nothing_more(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft)
    withdraw_note(crew, note)
    first = note.withdrawn_at
    signed_in(crew).post(address(note, "note-withdraw"))
    note.refresh_from_db()
    assert note.withdrawn_at == first
    assert Act.objects.filter(verb=Act.Verb.WITHDREW_NOTE).count() == 1


def test_its_author_puts_it_back_and_it_stands_as_before(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, 6, body="On third thoughts")
    withdraw_note(crew, note)
    client = signed_in(crew)
    assert "Put it back" in client.get(address(note)).content.decode()
    for _ in range(2):
        assert client.post(address(note, "note-put-back"), {"shown": "1"}).status_code == 302
    note.refresh_from_db()
    assert note.withdrawn_at is None
    assert Act.objects.filter(verb=Act.Verb.PUT_NOTE_BACK, about=note.public_id).count() == 1


def test_nobody_else_takes_it_back(
    signed_in: SignedIn, crew: Member, cast: Member, writer: Member, draft: Draft
) -> None:
    note = make_note(crew, draft)
    for other in (cast, writer):
        assert signed_in(other).post(address(note, "note-withdraw")).status_code == 403
        assert signed_in(other).post(address(note, "note-put-back")).status_code == 403
    note.refresh_from_db()
    assert note.withdrawn_at is None


def test_a_withdrawn_note_s_words_are_its_author_s_alone(
    signed_in: SignedIn, crew: Member, cast: Member, writer: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 6, body="Better unsaid", wording="Other words")
    withdraw_note(crew, note)
    assert "Better unsaid" in signed_in(crew).get(address(note)).content.decode()
    for other in (cast, writer):
        told = signed_in(other).get(address(note)).content.decode()
        assert "Bo Finch withdrew this note." in told
        assert "Better unsaid" not in told
        assert "Other" not in told


def test_withdrawing_is_a_post(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    assert signed_in(crew).get(address(make_note(crew, draft), "note-withdraw")).status_code == 405


def test_a_form_of_its_card_comes_by_itself_to_whoever_may_send_it(
    signed_in: SignedIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 6)
    may = {
        who: {
            form: signed_in(who).get(f"{address(note)}?form={form}", headers=HTMX).status_code
            for form in ("reply", "decide", "withdraw", "nothing")
        }
        for who in (writer, crew)
    }
    assert may[writer] == {"reply": 200, "decide": 200, "withdraw": 404, "nothing": 404}
    assert may[crew] == {"reply": 200, "decide": 404, "withdraw": 200, "nothing": 404}
    form = BeautifulSoup(signed_in(writer).get(f"{address(note)}?form=decide", headers=HTMX).content, "html.parser")
    sent = {field["name"]: field.get("value", "") for field in form.select("form.decide input:not([type=radio])")}
    sent |= {"outcome": "parked", "reason": "Later.", "next": sent["next"]}
    assert signed_in(writer).post(address(note, "decide"), sent, headers=HTMX).status_code == 200
    assert note.decisions.get().reason == "Later."
    assert sent["next"] == reverse("script", args=[note.production.public_id, draft.number])


def test_on_the_script_a_card_has_no_form_before_it_is_asked_for(
    signed_in: SignedIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 6)
    cards = reverse("script-notes", args=[note.production.public_id, draft.number]) + "?page=1"
    for who, asked in ((writer, {"Reply", "Decide"}), (crew, {"Reply", "Withdraw"})):
        page = BeautifulSoup(signed_in(who).get(cards).content, "html.parser")
        assert page.select("form") == []
        assert {link.find_parent("details").summary.get_text() for link in page.select(".form-asked a")} == asked  # type: ignore[union-attr]
        assert {link["href"] for link in page.select(".form-asked a")} == {f"{address(note)}?shown=1"}
