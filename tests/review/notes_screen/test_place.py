"""Setting a note's place by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.core.exceptions import PermissionDenied
from django.urls import reverse

from review.access import Role
from review.decisions.acts import PlacedByItsAuthor, place_note
from review.log import Act
from review.notes.carrying import carry_notes
from review.notes.fates import fates_since_before
from review.notes.lines import NoSuchLines
from review.notes.models import Fate, Note, Placement, Subject
from screenplay import Span
from tests.factories import SCRIPT, make_draft, make_member, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

CUT = SCRIPT.replace("NELL mends a net by one lamp.", "An empty room. One lamp burns, and a net lies half mended.")


@pytest.fixture
def note(crew: Member, draft: Draft) -> Note:
    """On `He didn't wait.`, which draft 2 no longer has."""
    return make_note(crew, draft, 20)


@pytest.fixture
def second(writer: Member, note: Note) -> Draft:
    later = make_draft(writer, CUT.replace("He didn't wait.", "Gone, then."), number=2)
    carry_notes(later)
    return later


def address(note: Note) -> str:
    return reverse("place", args=[note.production.public_id, note.public_id])


def test_a_writer_sets_the_lines_of_a_note(signed_in: SignIn, writer: Member, note: Note, second: Draft) -> None:
    response = signed_in(writer).post(address(note), {"first_line": 9, "last_line": 13, "shown": 2})
    placement = Placement.objects.get(note=note, draft=second)
    assert (placement.first_line, placement.first_char) == (9, 0)
    assert (placement.last_line, placement.last_char) == (13, len(second.text.splitlines()[12]))
    assert placement.placed_by == writer
    assert response.status_code == 302
    assert response.headers["Location"].endswith(f"at={note.public_id}#note-{note.public_id}")


def test_a_single_line_needs_only_its_first(signed_in: SignIn, writer: Member, note: Note, second: Draft) -> None:
    signed_in(writer).post(address(note), {"first_line": 9, "last_line": ""})
    placement = Placement.objects.get(note=note, draft=second)
    assert (placement.first_line, placement.last_line) == (9, 9)


def test_a_writer_says_that_the_lines_are_gone(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft, second: Draft
) -> None:
    note = make_note(crew, draft, 9)
    place_note(writer, note, second, Span(9, 0, 9, 4))
    signed_in(writer).post(address(note), {"gone": "1", "shown": 2})
    placement = Placement.objects.get(note=note, draft=second)
    assert (placement.fate, placement.first_line, placement.placed_by) == (Fate.GONE, None, writer)


@pytest.mark.parametrize(
    ("lines", "sentence"),
    [
        ({"first_line": 900, "last_line": 901}, "The draft has lines 1 to 20. Choose lines within them."),
        ({"first_line": 0, "last_line": 3}, "The draft has lines 1 to 20. Choose lines within them."),
        ({"first_line": 9, "last_line": 4}, "The last line comes before the first. Choose them the other way round."),
        ({"first_line": "", "last_line": ""}, "Choose the lines first, or say that the note’s lines are gone."),
        ({"first_line": "nine", "last_line": 9}, "Give the first line as a number."),
    ],
)
def test_lines_that_are_not_there_are_refused_with_a_sentence(
    signed_in: SignIn, writer: Member, note: Note, second: Draft, lines: dict[str, int | str], sentence: str
) -> None:
    response = signed_in(writer).post(address(note), lines)
    assert response.status_code == 422
    assert sentence in response.text
    assert Placement.objects.get(note=note).placed_by is None


def test_lines_chosen_in_a_draft_that_is_no_longer_current_are_not_taken(
    signed_in: SignIn, writer: Member, note: Note, second: Draft
) -> None:
    carry_notes(make_draft(writer, SCRIPT + "\nThe end.\n", number=3))
    response = signed_in(writer).post(address(note), {"first_line": 9, "last_line": 9, "shown": 2})
    assert response.status_code == 409
    assert "Draft 3 was published meanwhile" in response.text
    assert not Placement.objects.exclude(placed_by=None).exists()


def test_looking_at_lines_shows_them_and_sets_nothing(
    signed_in: SignIn, writer: Member, note: Note, second: Draft
) -> None:
    response = signed_in(writer).post(
        address(note),
        {"first_line": 6, "last_line": 6, "look": "1"},
        headers={"HX-Request": "true", "HX-Target": "place-choice"},
    )
    assert response.status_code == 200
    assert "a net lies half mended" in response.text
    assert "<html" not in response.text
    assert Placement.objects.get(note=note).placed_by is None


def test_it_shows_the_lines_the_note_stood_on(signed_in: SignIn, writer: Member, note: Note, second: Draft) -> None:
    page = BeautifulSoup(signed_in(writer).get(address(note)).text, "html.parser")
    stood = page.select_one(".place-was")
    assert stood is not None
    assert stood.text == "He didn't wait."


def test_lines_are_read_there_as_they_print(signed_in: SignIn, writer: Member, crew: Member) -> None:
    marked = SCRIPT.replace("one lamp", "[[or two?]]*one* lamp")
    note = make_note(crew, make_draft(writer, marked))
    carry_notes(make_draft(writer, marked.replace("mends a net", "mends *the* net") + "\n= Nell waits.\n", number=2))
    page = BeautifulSoup(signed_in(writer).get(address(note), {"words": "the net"}).text, "html.parser")
    told = [
        [text.text for text in page.select(each)] for each in (".place-was", ".candidate-text", ".script-line > span")
    ]
    assert told[0] == ["NELL mends a net by one lamp."]
    assert set(told[1]) == {"NELL mends the net by one lamp."}
    assert {"NELL mends the net by one lamp.", "= Nell waits."} <= set(told[2])  # what prints nowhere, as it is typed


def test_a_scene_that_is_gone_is_read_as_it_printed(signed_in: SignIn, writer: Member, crew: Member) -> None:
    first = make_draft(writer, SCRIPT.replace("one lamp", "[[or two?]]*one* lamp"))
    note = make_note(crew, first, 4, last_line=6, subject=Subject.SCENE)
    carry_notes(make_draft(writer, "EXT. QUAY - DAY\n\nGulls.\n", number=2))
    page = BeautifulSoup(signed_in(writer).get(address(note)).text, "html.parser")
    stood = page.select_one(".place-was")
    assert stood is not None
    assert stood.text.splitlines()[-1] == "NELL mends a net by one lamp."


def test_it_suggests_the_lines_most_like_them_first(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 6)
    carry_notes(make_draft(writer, CUT, number=2))
    page = BeautifulSoup(signed_in(writer).get(address(note)).text, "html.parser")
    suggested = page.select_one(".candidate")
    assert suggested is not None
    assert "One lamp burns, and a net lies half mended." in suggested.text


def test_it_suggests_what_stands_in_the_same_spot_now(
    signed_in: SignIn, writer: Member, note: Note, second: Draft
) -> None:
    later = SCRIPT.replace("He didn't wait.", "Zinc.\n\nEXT. QUAY - DAY\n\nGulls.")
    carry_notes(make_draft(writer, later.replace("Mist. The skiff is gone.", "Mist."), number=3))
    note = make_note(note.author, note.draft, 17)
    carry_notes(make_draft(writer, later.replace("Mist. The skiff is gone.", "Ooze."), number=4))
    page = BeautifulSoup(signed_in(writer).get(address(note)).text, "html.parser")
    suggested = page.select_one(".candidate")
    assert suggested is not None
    assert "In the same spot" in suggested.text
    assert "Ooze." in suggested.text


def test_it_suggests_lines_that_read_like_the_wording_it_proposed(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 20, wording="Then we were too slow for him.")
    carry_notes(
        make_draft(writer, SCRIPT.replace("He didn't wait.", "Gone.") + "\nWe were too slow for him, then.\n", 2)
    )
    page = BeautifulSoup(signed_in(writer).get(address(note)).text, "html.parser")
    texts = [candidate.text for candidate in page.select(".candidate")]
    assert any("Like the wording" in text and "We were too slow for him, then." in text for text in texts)


def test_it_finds_lines_by_their_words(signed_in: SignIn, writer: Member, note: Note, second: Draft) -> None:
    page = BeautifulSoup(signed_in(writer).get(address(note), {"words": "FOUR tide"}).text, "html.parser")
    assert [found.text.split()[:2] for found in page.select("#place-found .candidate")] == [["Line", "9"]]


def test_every_line_of_the_draft_can_be_chosen_without_a_script(
    signed_in: SignIn, writer: Member, note: Note, second: Draft
) -> None:
    client = signed_in(writer)
    page = BeautifulSoup(client.get(address(note)).text, "html.parser")
    numbers = page.select(".script-line-number")
    assert len(numbers) == 20
    chosen = client.get(address(note) + str(numbers[8]["href"]).partition("#")[0])
    form = BeautifulSoup(chosen.text, "html.parser").select_one("#place-form")
    assert form is not None
    assert [field["value"] for field in form.select("input[type=number]")] == ["9", "9"]


def test_a_note_stands_where_its_author_put_it_in_its_own_draft(
    signed_in: SignIn, writer: Member, note: Note, draft: Draft
) -> None:
    assert signed_in(writer).get(address(note)).status_code == 404
    with pytest.raises(PlacedByItsAuthor):
        place_note(writer, note, draft, Span(6, 0, 6, 4))


def test_readers_may_not_set_a_place(signed_in: SignIn, crew: Member, note: Note, second: Draft) -> None:
    assert signed_in(crew).get(address(note)).status_code == 403
    assert signed_in(crew).post(address(note), {"first_line": 9}).status_code == 403
    with pytest.raises(PermissionDenied):
        place_note(crew, note, second, Span(9, 0, 9, 4))


def test_a_writer_of_another_production_finds_nothing(signed_in: SignIn, note: Note, second: Draft) -> None:
    stranger = make_member(make_production("Ebb"), Role.WRITER)
    assert signed_in(stranger).get(address(note)).status_code == 404
    foreign = reverse("place", args=[stranger.production.public_id, note.public_id])
    assert signed_in(stranger).post(foreign, {"first_line": 9}).status_code == 404


@pytest.mark.parametrize(
    ("span", "fate"),
    [
        (Span(9, 0, 9, 19), Fate.KEPT),
        (Span(6, 0, 6, 4), Fate.REWORDED),
        (None, Fate.GONE),
    ],
)
def test_what_became_of_the_lines_is_said_by_comparing_the_words(
    writer: Member, crew: Member, draft: Draft, second: Draft, span: Span | None, fate: Fate
) -> None:
    note = make_note(crew, draft, 9)
    assert place_note(writer, note, second, span).fate == fate


def test_the_same_words_set_elsewhere_have_moved(writer: Member, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, 9)
    later = make_draft(writer, SCRIPT + "\nNELL\nTide turns at four.\n", number=2)
    assert place_note(writer, note, later, Span(23, 0, 23, 19)).fate == Fate.MOVED


def test_the_same_words_with_other_white_space_have_moved_wherever_it_is_told(
    writer: Member, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 9)
    second = make_draft(writer, SCRIPT, number=2)
    carry_notes(second)
    third = make_draft(writer, SCRIPT + "\nNELL\nTide  turns at  four. \n", number=3)
    span = Span(23, 0, 23, 22)
    assert place_note(writer, note, third, span).fate == Fate.MOVED
    assert fates_since_before(Note.objects.all(), third).fates == {note.pk: Fate.MOVED}


def test_words_that_are_not_there_are_refused(writer: Member, note: Note, second: Draft) -> None:
    with pytest.raises(NoSuchLines):
        place_note(writer, note, second, Span(9, 0, 9, 500))


def test_setting_a_place_is_logged_once_however_often_it_is_said(writer: Member, note: Note, second: Draft) -> None:
    for _ in range(2):
        place_note(writer, note, second, Span(9, 0, 9, 4))
    act = Act.objects.get(verb=Act.Verb.PLACED_NOTE)
    assert (act.person, act.about) == (writer.person, note.public_id)
    assert (act.details["draft"], act.details["first_line"]) == (2, 9)


def test_a_note_set_by_hand_says_so_and_compares_nothing(
    signed_in: SignIn, writer: Member, note: Note, second: Draft
) -> None:
    place_note(writer, note, second, Span(9, 0, 9, 19))
    response = signed_in(writer).get(reverse("note", args=[note.production.public_id, note.public_id]), {"shown": 2})
    card = BeautifulSoup(response.text, "html.parser").select_one(".note")
    assert card is not None
    assert "Placed by hand" in card.get_text()
    assert "Reworded" not in card.get_text()
    assert "Then and now" not in card.get_text()
