"""Leaving a note: the form on lines, what it makes, and what it refuses with a sentence."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.access import Role
from review.log import Act
from review.notes.acts import NoteWords, change_note, withdraw_note
from review.notes.models import Audience, Note
from review.script.views.note_new import LEFT_ALREADY, WITHDRAWN_SINCE
from screenplay.breakdown import ASSESS_FIRST
from tests.factories import SCRIPT, make_draft, make_member, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client
    from django.test.client import _MonkeyPatchedWSGIResponse as Answer

    from review.drafts.models import Draft
    from review.people.models import Member

    SignedIn = Callable[[Member], Client]

LINE_6 = "NELL mends a net by one lamp."
HTMX = {"HX-Request": "true"}


def address(draft: Draft, query: str = "") -> str:
    return reverse("note-new", args=[draft.production.public_id, draft.number]) + query


def form(**fields: Any) -> dict[str, Any]:
    lines = {"from": 6, "to": 6, "chosen": "6-6"}
    return lines | {"kind": "question", "body": "Why?", "audience": "everyone", "form_id": str(uuid.uuid4())} | fields


def page_of(response: Answer) -> BeautifulSoup:
    return BeautifulSoup(response.content, "html.parser")


def sentences(response: Answer) -> list[str]:
    return [error.get_text(strip=True) for error in page_of(response).select("[role=alert]:not([hidden])")]


def test_the_form_shows_the_chosen_words_and_the_whole_lines_to_word_anew(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    page = page_of(signed_in(crew).get(address(draft, "?from=6&from_char=5&to=6&to_char=10")))
    assert [quoted.get_text() for quoted in page.select(".quoted")] == ["mends"]
    assert [wording.get_text() for wording in page.select("[name=wording]")] == [f"\n{LINE_6}"]
    assert len(page.select("[name=kind]")) == 7
    assert ASSESS_FIRST in page.get_text()


def test_without_an_end_or_characters_it_is_about_one_whole_line(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    page = page_of(signed_in(crew).get(address(draft, "?from=6")))
    assert page.select_one(".quoted pre").get_text() == LINE_6  # type: ignore[union-attr]


@pytest.mark.parametrize(
    "query", ["?from=0", "?from=900", "?from=9&to=6", "?from=6&to=x", "?from=6&from_char=300&to=6&to_char=301"]
)
def test_lines_that_are_not_there_are_refused_with_a_sentence(
    signed_in: SignedIn, crew: Member, draft: Draft, query: str
) -> None:
    response = signed_in(crew).get(address(draft, query))
    assert response.status_code == 422
    assert sentences(response)


def test_without_lines_the_form_asks_for_them(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    response = signed_in(crew).get(address(draft))
    assert response.status_code == 200
    assert page_of(response).select("details.lines-choice[open]")


def test_it_leaves_a_note_on_the_words_and_logs_it(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    response = signed_in(crew).post(address(draft), form(from_char=5, to_char=10, body="With *what*?", kind="problem"))
    note = Note.objects.get()
    assert response.headers["Location"].endswith(f"/drafts/1/script/?note={note.public_id}#note-{note.public_id}")
    assert (note.first_line, note.first_char, note.last_line, note.last_char) == (6, 5, 6, 10)
    assert (note.quoted, note.body, note.kind, note.author, note.draft) == (
        "mends",
        "With *what*?",
        "problem",
        crew,
        draft,
    )
    assert note.wording is None
    act = Act.objects.get(verb=Act.Verb.LEFT_NOTE)
    assert (act.person, act.about) == (crew.person, note.public_id)
    assert "With" not in str(act.details)


def test_the_same_form_sent_twice_leaves_one_note(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    client, fields = signed_in(crew), form()
    assert client.post(address(draft), fields).status_code == 302
    assert client.post(address(draft), fields).status_code == 302
    assert Note.objects.count() == 1
    assert Act.objects.filter(verb=Act.Verb.LEFT_NOTE).count() == 1


def test_the_same_words_in_a_form_made_anew_find_the_note_and_its_card_says_so(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    """As a browser without scripts sends them that went back. The page opens on the card, and not at its head."""
    client = signed_in(crew)
    client.post(address(draft), form())
    response = client.post(address(draft), form(), follow=True)
    note = Note.objects.get()
    assert [told.get_text(strip=True) for told in page_of(response).select(".message")] == [LEFT_ALREADY]
    assert page_of(response).select_one(f"#note-{note.public_id} > .message")
    assert not page_of(client.get(response.request["PATH_INFO"])).select(".message")
    for others in ({"kind": "idea"}, {"audience": "writer"}, {"to": 9, "chosen": "6-9"}, {"body": "Why not?"}):
        client.post(address(draft), form(**others))
    assert Note.objects.count() == 5


def test_the_same_words_say_it_beside_the_page_too_and_anew_once_they_were_withdrawn(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    client, fields = signed_in(crew), form(beside="script")
    for _ in range(2):
        response = client.post(address(draft), fields, headers=HTMX)
    assert LEFT_ALREADY in page_of(response).get_text()
    withdraw_note(crew, Note.objects.get())
    assert WITHDRAWN_SINCE in page_of(client.post(address(draft), fields, headers=HTMX)).get_text()
    client.post(address(draft), form())
    assert Note.objects.not_withdrawn().count() == 1


def test_words_changed_after_they_had_arrived_are_kept_and_can_be_sent_as_well(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    client, fields = signed_in(crew), form(body="First")
    client.post(address(draft), fields)
    response = client.post(address(draft), fields | {"body": "Second"})
    assert response.status_code == 409
    page = page_of(response)
    assert "An earlier version of this arrived before." in page.get_text()
    assert page.select_one("textarea[name=body]").get_text(strip=True) == "Second"  # type: ignore[union-attr]
    renewed = page.select_one("[name=form_id]")["value"]  # type: ignore[index]
    client.post(address(draft), fields | {"body": "Second", "form_id": renewed})
    assert sorted(Note.objects.values_list("body", flat=True)) == ["First", "Second"]


@pytest.mark.parametrize("others", [{"audience": "writer"}, {"kind": "idea"}, {"to": 9, "chosen": "6-9"}])
def test_other_choices_in_a_form_that_was_sent_are_not_taken_for_what_it_left(
    signed_in: SignedIn, crew: Member, draft: Draft, others: dict[str, Any]
) -> None:
    """Or somebody believed that they had kept their note for the writer."""
    client, fields = signed_in(crew), form()
    client.post(address(draft), fields)
    response = client.post(address(draft), fields | others)
    assert response.status_code == 409
    renewed = page_of(response).select_one("[name=form_id]")["value"]  # type: ignore[index]
    client.post(address(draft), fields | others | {"form_id": renewed})
    assert Note.objects.count() == 2


def test_a_note_that_was_changed_since_is_known_by_what_its_form_said(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    client, fields = signed_in(crew), form(body="First")
    client.post(address(draft), fields)
    change_note(crew, Note.objects.get(), NoteWords("idea", "Second", None, "writer"), 1)
    assert LEFT_ALREADY in client.post(address(draft), fields, follow=True).text
    assert Note.objects.count() == 1


def test_somebody_else_s_form_id_takes_nothing_from_them(
    signed_in: SignedIn, crew: Member, cast: Member, draft: Draft
) -> None:
    note = make_note(cast, draft, 6, body="Hers")
    response = signed_in(crew).post(address(draft), form(body="His", form_id=str(note.form_id)))
    assert response.status_code == 302
    assert sorted(Note.objects.values_list("body", flat=True)) == ["Hers", "His"]


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"body": "  "}, "A note must say something: write a few words, or offer a wording."),
        ({"body": "", "wording": LINE_6}, "A note must say something: write a few words, or offer a wording."),
        ({"kind": ""}, "Choose what kind of note this is."),
        ({"kind": "rant"}, "Select a valid choice. rant is not one of the available choices."),
        ({"body": "x" * 10_001}, "A note can hold 10,000 characters. Shorten it, or leave two notes."),
        ({"wording": "x" * 20_001}, "A wording can hold 20,000 characters. Choose fewer lines."),
        ({"to": 99, "chosen": "6-99"}, "The draft has lines 1 to 20. Choose lines within them."),
        ({"from": ""}, "Say which lines you mean."),
        ({"from_char": 5, "to_char": 99}, "These characters are past the end of their line. Choose the words again."),
        ({"wording": "Other", "chosen": "9-9"}, "This was written for other lines. Look at both, then send again."),
        ({"form_id": "no"}, "Something went missing on the way. Send it again."),
    ],
)
def test_what_it_refuses_it_explains_and_keeps(
    signed_in: SignedIn, crew: Member, draft: Draft, fields: dict[str, Any], sentence: str
) -> None:
    response = signed_in(crew).post(address(draft), form(**fields))
    assert response.status_code == 422
    assert sentences(response) == [sentence]
    written = page_of(response).select_one("textarea[name=body]")
    assert written is not None
    assert written.get_text().strip() == fields.get("body", "Why?").strip()
    assert not Note.objects.exists()


def test_a_wording_alone_says_something(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    signed_in(crew).post(address(draft), form(body="", wording="NELL mends a sail."))
    assert Note.objects.get().wording == "NELL mends a sail."


def test_a_wording_left_as_the_lines_were_is_none(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    lines = "NELL\r\nTide turns at four."
    signed_in(crew).post(address(draft), form(**{"from": 8, "to": 9, "chosen": "8-9"}, wording=lines))
    assert Note.objects.get().wording is None


def test_lines_to_choose_from_are_told_as_they_are_printed(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    text = "Title: **Slack Water**\n\nINT. BOATHOUSE - NIGHT\n\nNELL *mends* a net.\n"
    marked = make_draft(draft.uploaded_by, text, number=2)
    pages = [signed_in(crew).get(address(marked, f"?page={name}")).content for name in ("title", "1")]
    first = [BeautifulSoup(page, "html.parser").select("[name=from] option") for page in pages]
    assert [[option.text for option in options] for options in first] == [
        ["Title: Slack Water"],
        ["INT. BOATHOUSE - NIGHT", "NELL mends a net."],
    ]


def test_a_wording_emptied_offers_a_cut(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    signed_in(crew).post(address(draft), form(wording=""))
    assert Note.objects.get().wording == ""


def test_a_note_whose_lines_are_chosen_in_the_form_itself_offers_no_cut(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    client = signed_in(crew)
    shown = page_of(client.get(address(draft))).select_one("#note-form")
    assert shown
    untouched = {str(field["name"]): field.get("value", "") for field in shown.select("[type=hidden]")}
    (wording,) = shown.select("[name=wording]")
    filled = form(**untouched, wording=wording.get_text().removeprefix("\n")) | {"from": 6, "to": 9, "kind": "praise"}
    assert client.post(address(draft), filled).status_code == 302
    assert Note.objects.get().wording is None


def test_a_wording_keeps_its_spaces(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    signed_in(crew).post(address(draft), form(wording="  NELL  \r\n"))
    assert Note.objects.get().wording == "  NELL  \n"


def test_other_lines_can_be_looked_at_with_what_was_written_kept(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    fields = form(to=9, from_char=5, to_char=10, body="Half a", kind="idea", wording=LINE_6, look="lines")
    response = signed_in(crew).post(address(draft), fields)
    page = page_of(response)
    assert response.status_code == 200
    assert page.select_one(".quoted pre").get_text() == f"{LINE_6}\n\nNELL\nTide turns at four."  # type: ignore[union-attr]
    assert page.select_one("textarea[name=body]").get_text(strip=True) == "Half a"  # type: ignore[union-attr]
    assert page.select_one("[value=idea]").has_attr("checked")  # type: ignore[union-attr]
    assert page.select_one("textarea[name=wording]").get_text() == f"\n{LINE_6}\n\nNELL\nTide turns at four."  # type: ignore[union-attr]
    assert page.select_one("[name=form_id]")["value"] == fields["form_id"]  # type: ignore[index]
    assert not Note.objects.exists()


def test_lines_changed_without_looking_mean_whole_lines(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    signed_in(crew).post(address(draft), form(to=9, from_char=5, to_char=10))
    note = Note.objects.get()
    assert (note.first_char, note.last_line, note.last_char) == (0, 9, len("Tide turns at four."))


def test_by_htmx_it_answers_with_the_card_for_its_margin(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    response = signed_in(crew).post(address(draft), form(beside="script"), headers=HTMX)
    note = Note.objects.get()
    assert response.headers["HX-Retarget"] == "#notes-on-page-1"
    assert response.headers["HX-Reswap"] == "beforeend"
    assert note.public_id in response.headers["HX-Trigger-After-Settle"]
    assert [card["id"] for card in page_of(response).select("article")] == [f"note-{note.public_id}"]


def test_by_htmx_from_its_own_page_it_leads_to_the_script(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    response = signed_in(crew).post(address(draft), form(), headers=HTMX)
    left = Note.objects.get().public_id
    assert response.headers["HX-Redirect"].endswith(f"/script/?note={left}#note-{left}")


def test_by_htmx_a_refusal_is_the_form_alone(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    response = signed_in(crew).post(address(draft), form(kind="", beside="script"), headers=HTMX)
    assert response.status_code == 422
    assert not page_of(response).select("html")
    assert page_of(response).select("form [name=beside]")


def test_a_note_for_the_writer_is_kept_as_such(signed_in: SignedIn, cast: Member, draft: Draft) -> None:
    signed_in(cast).post(address(draft), form(audience="writer"))
    assert Note.objects.get().audience == Audience.WRITER


def test_a_note_on_an_earlier_draft_is_carried_to_the_later_ones(
    signed_in: SignedIn, crew: Member, writer: Member, draft: Draft
) -> None:
    second = make_draft(writer, SCRIPT.replace("one lamp", "two lamps"), 2)
    signed_in(crew).post(address(draft), form())
    assert [(placement.draft, placement.fate) for placement in Note.objects.get().placements.all()] == [
        (second, "reworded")
    ]


def test_it_is_closed_to_strangers_and_to_members_removed(
    signed_in: SignedIn, client: Client, crew: Member, draft: Draft
) -> None:
    assert signed_in(make_member(make_production("Another"))).post(address(draft), form()).status_code == 404
    assert client.post(address(draft), form()).status_code == 302
    session = signed_in(crew)
    crew.removed_at = draft.created_at
    crew.save()
    assert session.post(address(draft), form()).status_code == 404
    assert not Note.objects.exists()


def test_a_draft_of_another_production_is_not_found_under_this_one(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    make_draft(make_member(make_production("Another"), Role.WRITER), number=5)
    foreign = reverse("note-new", args=[crew.production.public_id, 5])
    assert signed_in(crew).get(foreign).status_code == 404
    assert signed_in(crew).post(foreign, form()).status_code == 404
