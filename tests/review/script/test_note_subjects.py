"""Notes on a scene and on a character: left, shown, listed, placed by hand and printed."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review.cards.note_cards import card_of
from review.decisions.acts import decide, place_note
from review.notes.acts import leave_note
from review.notes.lines import NoSuchLines
from review.notes.models import Fate, Note, Placement, Subject
from screenplay import Span
from tests.factories import SCRIPT, make_next_draft, make_note
from tests.pdf import sheets

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client
    from django.test.client import _MonkeyPatchedWSGIResponse as Answer

    from review.drafts.models import Draft
    from review.people.models import Member

    SignedIn = Callable[[Member], Client]

HEADING, MENDS, CUE, TIDE, SLIPWAY = 4, 6, 8, 9, 15  # lines of SCRIPT
WITHOUT_SLIPWAY = SCRIPT.partition("EXT. SLIPWAY")[0]


def leave(author: Member, draft: Draft, line: int, subject: Subject, character: str = "", body: str = "Why?") -> Note:
    span = Span(line, 0, line, 0)
    return leave_note(author, draft, span, "question", body, subject=subject, character=character, form_id=uuid.uuid4())


def note_new(draft: Draft, query: str = "") -> str:
    return reverse("note-new", args=[draft.production.public_id, draft.number]) + query


def form(line: int = TIDE, **fields: Any) -> dict[str, Any]:
    lines = {"from": line, "to": line, "chosen": f"{line}-{line}"}
    return lines | {"kind": "question", "body": "Why?", "audience": "everyone", "form_id": str(uuid.uuid4())} | fields


def page_of(response: Answer, status: int = 200) -> BeautifulSoup:
    assert response.status_code == status
    return BeautifulSoup(response.content, "html.parser")


def script_cards(client: Client, draft: Draft) -> BeautifulSoup:
    """The cards on the script: those of its only page, and those whose lines are gone."""
    address = reverse("script-notes", args=[draft.production.public_id, draft.number])
    return page_of(client.get(address, {"page": ["1", "gone"]}))


def marks_on_script(client: Client, draft: Draft) -> list[str]:
    """Where the script's page says that notes stand: their lines and characters."""
    page = page_of(client.get(reverse("script", args=[draft.production.public_id, draft.number])))
    return [mark.split()[1] for mark in page.select("#note-marks")[0].get_text().splitlines()]


def notes_page(client: Client, draft: Draft, query: str = "?state=all&author=all") -> BeautifulSoup:
    return page_of(client.get(reverse("notes", args=[draft.production.public_id]) + query))


def text_of(found: BeautifulSoup) -> str:
    return " ".join(found.get_text(" ").split())


def card_on(page: BeautifulSoup, note: Note) -> BeautifulSoup:
    found = page.select(f"#note-{note.public_id}")
    assert len(found) == 1
    return found[0]  # type: ignore[return-value]


# -- leaving one


def test_the_form_asks_what_the_note_is_about_and_begins_with_the_lines(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    page = page_of(signed_in(crew).get(note_new(draft, f"?from={TIDE}&to=13")))
    offered = [(choice["value"], choice.has_attr("checked")) for choice in page.select("[name=about]")]
    assert offered == [("lines", True), ("scene", False), ("character:NELL", False), ("character:TOBIAS", False)]
    assert "INT. BOATHOUSE - NIGHT" in page.select(".about")[0].get_text()


def test_lines_outside_of_scenes_and_speeches_are_all_it_can_be_about(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    page = page_of(signed_in(crew).get(note_new(draft, "?from=1")))
    assert not page.select("[name=about]")


def test_a_note_on_a_scene_has_all_its_lines(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    signed_in(crew).post(note_new(draft), form(about="scene"))
    note = Note.objects.get()
    assert (note.subject, note.character) == (Subject.SCENE, "")
    assert (note.first_line, note.first_char, note.last_line) == (HEADING, 0, SLIPWAY - 1)
    assert note.quoted.startswith("INT. BOATHOUSE - NIGHT\n\nNELL mends")


def test_a_note_on_a_character_has_their_first_cue(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    signed_in(crew).post(note_new(draft), form(19, about="character:NELL"))
    note = Note.objects.get()
    assert (note.subject, note.character) == (Subject.CHARACTER, "NELL")
    assert (note.first_line, note.last_line, note.quoted) == (CUE, CUE, "NELL")


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"from": 1, "to": 1, "about": "scene"}, "These lines stand before the first scene. Choose lines of the scene"),
        ({"about": "character:PIKE"}, "Nobody called PIKE speaks in Draft 1. Choose who you mean."),
        ({"about": "scene", "wording": "Tide turns."}, "A wording stands for lines. Choose “These lines”"),
        ({"about": "character:" + "P" * 200}, "No name is that long."),
    ],
)
def test_what_a_note_cannot_be_about_is_refused_with_a_sentence(
    signed_in: SignedIn, crew: Member, draft: Draft, fields: dict[str, Any], sentence: str
) -> None:
    page = page_of(signed_in(crew).post(note_new(draft), form(**fields)), 422)
    assert sentence in page.select("#about-errors")[0].get_text()
    assert not Note.objects.exists()


def test_lines_left_as_they_are_offer_no_wording_for_a_scene(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    signed_in(crew).post(note_new(draft), form(about="scene", wording="Tide turns at four."))
    assert Note.objects.get().wording is None


def test_the_same_form_sent_for_another_subject_is_not_taken_for_the_first(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    client, fields = signed_in(crew), form(about="scene")
    client.post(note_new(draft), fields)
    assert client.post(note_new(draft), fields).status_code == 302
    assert client.post(note_new(draft), fields | {"about": "lines"}).status_code == 409
    assert Note.objects.count() == 1


def test_other_lines_keep_what_was_chosen(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    fields = form(17, about="character:NELL", look="lines")
    page = page_of(signed_in(crew).post(note_new(draft), fields))
    assert [choice["value"] for choice in page.select("[name=about][checked]")] == ["character:NELL"]


def test_a_note_on_a_scene_can_be_chosen_beforehand(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    page = page_of(signed_in(crew).get(note_new(draft) + f"?from={HEADING}&about=scene"))
    assert [choice["value"] for choice in page.select("[name=about][checked]")] == ["scene"]
    assert page.select("h1")[0].get_text(strip=True) == "A note on the scene"


def test_each_voice_offers_a_note_on_its_character(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    client = signed_in(crew)
    voices = page_of(client.get(reverse("voices", args=[draft.production.public_id, 1])))
    offers = {offer.get_text(): str(offer["href"]) for offer in voices.select(".voice-note")}
    assert set(offers) == {"Note on NELL", "Note on TOBIAS"}
    page = page_of(client.get(offers["Note on TOBIAS"]))
    assert [choice["value"] for choice in page.select("[name=about][checked]")] == ["character:TOBIAS"]
    assert page.select("h1")[0].get_text(strip=True) == "A note on TOBIAS"


def test_the_act_refuses_what_is_not_there(crew: Member, draft: Draft) -> None:
    with pytest.raises(NoSuchLines, match="first scene"):
        leave(crew, draft, 1, Subject.SCENE)
    with pytest.raises(NoSuchLines, match="PIKE"):
        leave(crew, draft, TIDE, Subject.CHARACTER, "PIKE")


# -- on the script


def test_a_scene_s_note_stands_at_its_heading_and_marks_no_other_line(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    note = leave(crew, draft, TIDE, Subject.SCENE)
    assert marks_on_script(signed_in(crew), draft) == [f"{HEADING}.0-{HEADING}."]
    card = card_on(script_cards(signed_in(crew), draft), note)
    assert (card["data-from"], card["data-to"]) == (str(HEADING), str(HEADING))
    assert "On the scene INT. BOATHOUSE - NIGHT" in text_of(card)


def test_a_character_s_note_stands_at_their_first_cue(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    note = leave(crew, draft, 19, Subject.CHARACTER, "NELL")
    assert marks_on_script(signed_in(crew), draft) == [f"{CUE}.0-{CUE}.4"]
    assert "On NELL" in text_of(card_on(script_cards(signed_in(crew), draft), note))


def test_a_renamed_character_s_note_says_who_it_was(
    signed_in: SignedIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = leave(crew, draft, TIDE, Subject.CHARACTER, "NELL")
    second = make_next_draft(writer, SCRIPT.replace("NELL", "EDIE"))
    card = text_of(card_on(script_cards(signed_in(crew), second), note))
    assert "Renamed since draft 1" in card
    assert "On EDIE , who was NELL in draft 1" in card
    assert "Then and now" not in card


def test_a_scene_with_another_heading_shows_it_then_and_now(
    signed_in: SignedIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = leave(crew, draft, TIDE, Subject.SCENE)
    second = make_next_draft(writer, SCRIPT.replace("BOATHOUSE - NIGHT", "BOATHOUSE - DUSK"))
    card = card_on(script_cards(signed_in(crew), second), note)
    assert [part.get_text() for part in card.select(".note-fate :is(del, ins)")] == ["NIGHT", "DUSK"]
    assert "What changed since draft 1" in text_of(card)


def test_a_scene_with_another_line_leads_to_what_changed(
    signed_in: SignedIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = leave(crew, draft, TIDE, Subject.SCENE)
    second = make_next_draft(writer, SCRIPT.replace("at four", "at five"))
    card = card_on(script_cards(signed_in(crew), second), note)
    assert not card.select(".note-fate")
    changes = reverse("changes-between", args=[draft.production.public_id, 1, 2])
    assert [link["href"] for link in card.select(f'a[href^="{changes}"]')]


def test_what_is_gone_keeps_standing_on_the_script_with_its_lines(
    signed_in: SignedIn, writer: Member, crew: Member, draft: Draft
) -> None:
    scene = leave(crew, draft, SLIPWAY, Subject.SCENE)
    someone = leave(crew, draft, 11, Subject.CHARACTER, "TOBIAS")
    lines = make_note(crew, draft, 20)
    mute = WITHOUT_SLIPWAY.replace("TOBIAS (O.S.)\n(from the slip)\nThen we go at *three*.\n\n", "")
    second = make_next_draft(writer, mute)
    gone = script_cards(signed_in(crew), second).select("[data-margin=gone-cards]")[0]
    assert "Its scene is not in this draft." in text_of(card_on(gone, scene))  # type: ignore[arg-type]
    assert "Mist. The skiff is gone." in text_of(card_on(gone, scene))  # type: ignore[arg-type]
    assert "Nobody called TOBIAS speaks in this draft." in text_of(card_on(gone, someone))  # type: ignore[arg-type]
    assert "He didn't wait." in text_of(card_on(gone, lines))  # type: ignore[arg-type]


def test_what_is_gone_is_folded_once_it_is_decided_and_comes_after_what_is_open(
    signed_in: SignedIn, writer: Member, crew: Member, draft: Draft
) -> None:
    decided, waiting = (leave(crew, draft, SLIPWAY, Subject.SCENE, body=body) for body in ("Long.", "Late."))
    second = make_next_draft(writer, WITHOUT_SLIPWAY)
    decide(writer, decided, "declined", "The scene went.", 0, uuid.uuid4())
    gone = script_cards(signed_in(writer), second).select("[data-margin=gone-cards]")[0]
    shown = [card["id"].removeprefix("note-") for card in gone.select("[data-note]")]  # type: ignore[union-attr]
    assert shown == [waiting.public_id, decided.public_id]
    assert [bool(card.select(".note-fold:not([open])")) for card in gone.select("[data-note]")] == [False, True]


# -- on the notes screen


def test_the_notes_screen_has_characters_first_and_a_scene_s_note_at_its_head(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    on_line = make_note(crew, draft, TIDE)
    on_scene = leave(crew, draft, TIDE, Subject.SCENE)
    on_tobias = leave(crew, draft, 11, Subject.CHARACTER, "TOBIAS")
    page = notes_page(signed_in(crew), draft)
    shown = [card["id"].removeprefix("note-") for card in page.select("[data-note]")]  # type: ignore[union-attr]
    assert shown == [on_tobias.public_id, on_scene.public_id, on_line.public_id]
    assert [" ".join(head.get_text().split()) for head in page.select(".notes-scene h2")] == [
        "TOBIAS",
        "1 INT. BOATHOUSE - NIGHT",
    ]
    scene_place = page.select(".on-lines")[1]
    assert [mark.get_text() for mark in scene_place.select("mark")] == ["INT. BOATHOUSE - NIGHT"]


def test_a_scene_s_note_meets_none_on_lines_further_down(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    make_note(crew, draft, TIDE)
    leave(crew, draft, TIDE, Subject.SCENE)
    assert not notes_page(signed_in(crew), draft).select(".on-lines-shared")


@pytest.mark.parametrize(("about", "count"), [("lines", 1), ("scene", 2), ("character", 3)])
def test_notes_can_be_narrowed_to_what_they_are_about(
    signed_in: SignedIn, crew: Member, draft: Draft, about: str, count: int
) -> None:
    make_note(crew, draft, TIDE)
    for line in (TIDE, SLIPWAY):
        leave(crew, draft, line, Subject.SCENE)
    for name, body in (("NELL", "Who?"), ("NELL", "Why?"), ("TOBIAS", "Who?")):
        leave(crew, draft, TIDE, Subject.CHARACTER, name, body)
    page = notes_page(signed_in(crew), draft, f"?state=all&author=all&about={about}")
    assert len(page.select("[data-note]")) == count


def test_what_is_gone_keeps_standing_on_the_notes_screen_with_its_lines(
    signed_in: SignedIn, writer: Member, crew: Member, draft: Draft
) -> None:
    leave(crew, draft, SLIPWAY, Subject.SCENE)
    second = make_next_draft(writer, WITHOUT_SLIPWAY)
    gone = notes_page(signed_in(writer), second).select("#gone")[0]
    assert gone.select(".place-was")[0].get_text().startswith("EXT. SLIPWAY - DAWN\n\nMist.")


# -- placed by hand


def place(note: Note) -> str:
    return reverse("place", args=[note.production.public_id, note.public_id])


def test_a_scene_s_note_is_placed_on_a_scene(signed_in: SignedIn, writer: Member, crew: Member, draft: Draft) -> None:
    note = leave(crew, draft, SLIPWAY, Subject.SCENE)
    second = make_next_draft(writer, WITHOUT_SLIPWAY)
    client = signed_in(writer)
    page = page_of(client.get(place(note)))
    assert [choice["value"] for choice in page.select("[name=first_line]")] == [str(HEADING)]
    assert client.post(place(note), {"first_line": HEADING, "shown": 2}).status_code == 302
    placed = Placement.objects.get(note=note, draft=second)
    assert (placed.first_line, placed.last_line, placed.placed_by) == (HEADING, SLIPWAY - 1, writer)
    third = make_next_draft(writer, "\n" + SCRIPT)
    assert Placement.objects.get(note=note, draft=third).first_line == HEADING + 1


def test_a_character_s_note_is_placed_on_a_character(
    signed_in: SignedIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = leave(crew, draft, 11, Subject.CHARACTER, "TOBIAS")
    second = make_next_draft(writer, SCRIPT.replace("TOBIAS (O.S.)\n(from the slip)\nThen we go at *three*.\n\n", ""))
    client = signed_in(writer)
    page = page_of(client.get(place(note)))
    assert [choice["value"] for choice in page.select("[name=character]")] == ["NELL"]
    assert client.post(place(note), {"character": "NELL", "shown": 2}).status_code == 302
    placed = Placement.objects.get(note=note, draft=second)
    assert (placed.character, placed.first_line, placed.fate) == ("NELL", CUE, Fate.REWORDED)
    third = make_next_draft(writer, "\n" + SCRIPT)
    assert Placement.objects.get(note=note, draft=third).character == "NELL"


@pytest.mark.parametrize(
    ("subject", "fields", "sentence"),
    [
        (Subject.SCENE, {}, "Choose the scene first, or say that it is gone."),
        (Subject.SCENE, {"first_line": 999}, "The draft has lines"),
        (Subject.CHARACTER, {}, "Choose who it is about now, or say that they are gone."),
        (Subject.CHARACTER, {"character": "PIKE"}, "Choose who it is about now, or say that they are gone."),
    ],
)
def test_a_place_that_is_not_there_is_asked_for_again(
    signed_in: SignedIn,
    writer: Member,
    crew: Member,
    draft: Draft,
    subject: Subject,
    fields: dict[str, Any],
    sentence: str,
) -> None:
    note = leave(crew, draft, TIDE, subject, "NELL" if subject == Subject.CHARACTER else "")
    make_next_draft(writer, "\n" + SCRIPT)
    page = page_of(signed_in(writer).post(place(note), fields), 422)
    assert sentence in page.select("#subject-error")[0].get_text()
    assert not Placement.objects.exclude(placed_by=None).exists()


def test_a_fate_after_a_placing_by_hand_is_told_since_then(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, 20)
    second = make_next_draft(writer, SCRIPT.replace("\nHe didn't wait.", ""))
    place_note(writer, note, second, Span(MENDS, 0, MENDS, 29))
    third = make_next_draft(writer, SCRIPT.replace("by one lamp", "by two lamps"))
    card = card_of(writer, note, third)
    assert (card.since.fate, card.since.draft, card.since.words) == (Fate.REWORDED, 2, "NELL mends a net by one lamp.")
    assert card.since.words_now == "NELL mends a net by two lamps."


# -- printed


def test_the_list_after_the_pages_says_what_each_note_is_about(
    signed_in: SignedIn, writer: Member, crew: Member, draft: Draft
) -> None:
    leave(crew, draft, TIDE, Subject.SCENE, body="Too long.")
    leave(crew, draft, TIDE, Subject.CHARACTER, "NELL", body="Who is she?")
    leave(crew, draft, SLIPWAY, Subject.SCENE, body="Where?")
    second = make_next_draft(writer, WITHOUT_SLIPWAY)
    response = signed_in(crew).get(
        reverse("draft-pdf", args=[draft.production.public_id, second.number]), {"notes": "on"}
    )
    words = " ".join(" ".join(line for page in sheets(response.content) for line in page.lines).split())
    assert "On INT. BOATHOUSE - NIGHT, page 1, scene 1: question Too long." in words
    assert "On NELL, page 1, scene 1: question Who is she?" in words
    assert "On EXT. SLIPWAY - DAWN, its scene is gone: question Where?" in words
