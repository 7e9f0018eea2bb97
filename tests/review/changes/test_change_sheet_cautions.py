"""What a change sheet says of cautions: what is new, what was taken out, what stays."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import pdfplumber
import pytest
from django.urls import reverse

from tests.factories import make_note
from tests.review.changes.boathouse import NEW, OLD, address, publish, read_pdf, scenes_of, sheet_of, words_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]


def test_a_sheet_says_which_words_of_a_caution_were_taken_out(writer: Member, signed_in: SignIn) -> None:
    before = OLD.replace("one lamp.", "one lamp, a knife by her.\n\nA pistol hangs on the wall.")
    publish(writer, before, before.replace(", a knife by her", ""), OLD)
    client = signed_in(writer)
    first = words_of(sheet_of(client, writer, "stunts"))
    assert "Caution, weapons and gunfire, in lines that did not change: pistol. Taken out: knife." in first
    later = client.get(reverse("change-sheet", args=[writer.production.public_id, 2, 3, "stunts"])).text
    told = "Caution, weapons and gunfire: its words were taken out (pistol). No list finds others in the scene, which"
    assert f"{told} does not say that it is clear of it." in later
    assert "no longer in the scene" not in later


def test_a_sheet_calls_nothing_taken_out_that_the_scene_still_says(writer: Member, signed_in: SignIn) -> None:
    before = OLD.replace("one lamp.", "one lamp, a gun by her.\n\nA knife hangs on the wall.")
    glued = before.replace("a gun", "a glue gun")
    publish(writer, before, glued, glued.replace("A knife hangs", "A coat hangs"))
    client = signed_in(writer)
    first = words_of(sheet_of(client, writer, "stunts"))
    assert "did not change: knife. No longer found by any list, though the scene still says it: gun." in first
    assert "Taken out" not in first
    over = client.get(reverse("change-sheet", args=[writer.production.public_id, 1, 3, "stunts"])).text
    told = "its words were taken out (knife). No longer found by any list, though the scene still says it: gun."
    assert f"Caution, weapons and gunfire: {told}" in over


@pytest.mark.parametrize("whose", ["costume", "cast", "production"])
def test_intimacy_is_never_told_of_a_scene_with_children_without_telling_of_them(
    writer: Member, signed_in: SignIn, whose: str
) -> None:
    publish(writer, OLD, OLD.replace("one lamp.", "one lamp. A small boy waits. They kiss."))
    page = words_of(sheet_of(signed_in(writer), writer, whose))
    assert "Caution, intimacy, new in the scene: kiss." in page
    assert "Caution, children, new in the scene: boy." in page


@pytest.mark.parametrize("whose", ["stunts", "production", "nell", "editing"])
def test_wherever_cautions_are_shown_so_is_what_they_are_not(writer: Member, signed_in: SignIn, whose: str) -> None:
    publish(writer, OLD, NEW)
    client = signed_in(writer)
    told = [
        words_of(sheet_of(client, writer, whose)),
        read_pdf(client.get(address(writer, whose, "change-sheet-pdf")).content),
    ]
    for text in told:
        for sense in ("list of words", "not a risk assessment", "can miss things", "competent person", "permits"):
            assert sense in text


def test_a_scene_whose_cautions_did_not_change_is_listed_shortly_with_its_page_and_its_words(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    before = OLD.replace("one lamp.", "one lamp.\n\nA knife lies on the sill.")
    [first] = publish(writer, before)
    make_note(crew, first, first_line=3, body="A second lamp?")
    publish(writer, before.replace("NELL mends a net", "NELL folds a net").replace("gate is open", "stable is on fire"))
    client = signed_in(writer)
    page = sheet_of(client, writer, "stunts")
    assert scenes_of(page) == ["2 EXT. MEADOW - DAWN"]
    listed = [words_of(each) for each in page.select(".sheet-mentions li")]
    assert listed == ["1 INT. BOATHOUSE - NIGHT , page 1 Weapons and gunfire: knife"]
    assert "A second lamp?" not in words_of(page)
    printed = read_pdf(client.get(address(writer, "stunts", "change-sheet-pdf")).content)
    assert "that no list of words knows: 1 INT. BOATHOUSE - NIGHT, page 1 Weapons and gunfire: knife" in printed
    assert "folds" not in printed


def test_the_unchanged_cautions_of_a_whole_script_are_a_list_on_one_page(writer: Member, signed_in: SignIn) -> None:
    scene = "INT. ROOM {0} - DAY\n\nMARA has a knife by her.\n\nShe {1}.\n\n" + "Nothing stirs in the street.\n\n" * 6
    scripts = ["".join(scene.format(each, word) for each in range(1, 17)) for word in ("sits", "stands")]
    publish(writer, *scripts)
    data = signed_in(writer).get(address(writer, "stunts", "change-sheet-pdf")).content
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert len(pdf.pages) == 1
    text = read_pdf(data)
    assert [each for each in range(1, 17) if f"{each} INT. ROOM {each} - DAY, page" not in text] == []


@pytest.mark.parametrize("whose", ["stunts", "special-effects", "lighting"])
def test_whoever_works_among_flames_is_told_of_the_child_there(writer: Member, signed_in: SignIn, whose: str) -> None:
    burning = OLD.replace("one lamp.", "one lamp. The wall is on fire.\n\nPIP, 9, runs through the flames.")
    publish(writer, burning, burning.replace("runs through", "jumps over"))
    client = signed_in(writer)
    told = (
        words_of(sheet_of(client, writer, whose)),
        read_pdf(client.get(address(writer, whose, "change-sheet-pdf")).content),
    )
    for text in told:
        assert "Caution, fire and explosions" in text
        assert "Caution, children: PIP, 9." in text


STAIRS = """
INT. SCHOOL - STAIRS - DAY

Thirty six-year-olds pour down three flights. LECH (14) slides along the handrail and lands on the mat.
"""


def test_a_new_scene_with_children_is_on_the_sheet_of_stunts(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, OLD + STAIRS)
    client = signed_in(writer)
    assert scenes_of(sheet_of(client, writer, "stunts")) == ["4 INT. SCHOOL - STAIRS - DAY"]
    printed = read_pdf(client.get(address(writer, "stunts", "change-sheet-pdf")).content)
    assert "A new scene. Caution, children, new in the scene: LECH, 14, six-year-" in printed


def test_every_new_scene_is_at_least_listed_for_every_department(writer: Member, signed_in: SignIn) -> None:
    new = "\nINT. ROOM - NIGHT\n\nTOBIAS does what nobody has a word for. A small boy waits.\n"
    publish(writer, OLD, OLD + new)
    client = signed_in(writer)
    page = sheet_of(client, writer, "special-effects")
    assert scenes_of(page) == []
    listed = [words_of(each) for each in page.select(".sheet-mentions li")]
    assert listed == ["4 INT. ROOM - NIGHT , page 1 A new scene; children: boy"]
    assert "A new scene; children: boy" in read_pdf(
        client.get(address(writer, "special-effects", "change-sheet-pdf")).content
    )


def test_all_that_was_found_is_told_and_nothing_twice(writer: Member, signed_in: SignIn) -> None:
    things = "a pistol, a rifle, a spear, a sword, a dagger, a cannon, a harpoon, a crossbow. The Sword. He goes up a"
    publish(writer, OLD, OLD.replace("one lamp.", f"one lamp: {things} ladder. A ladder."))
    client = signed_in(writer)
    found = "new in the scene: pistol, rifle, spear, sword, dagger, cannon, harpoon, crossbow."
    for text in (
        words_of(sheet_of(client, writer, "stunts")),
        read_pdf(client.get(address(writer, "stunts", "change-sheet-pdf")).content),
    ):
        assert found in text
        assert "new in the scene: up a ladder." in text


@pytest.mark.parametrize("whose", ["stunts", "hair"])
def test_a_sheet_says_that_the_lists_cannot_read_another_language(
    writer: Member, signed_in: SignIn, whose: str
) -> None:
    publish(writer, OLD, NEW)
    writer.production.language = "fr-CA"
    writer.production.save()
    client = signed_in(writer)
    for text in (
        words_of(sheet_of(client, writer, whose)),
        read_pdf(client.get(address(writer, whose, "change-sheet-pdf")).content),
    ):
        assert "The lists know English words alone, and this script is not in English" in text


def test_a_caution_of_a_scene_that_was_cut_went_with_it(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD + STAIRS.replace("mat", "knife"), OLD)
    assert "Caution, weapons and gunfire: went with the scene: knife." in words_of(
        sheet_of(signed_in(writer), writer, "stunts")
    )


def test_a_child_alone_puts_no_scene_on_the_sheet_of_stunts(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, OLD.replace("one lamp.", "one lamp. A small boy waits."))
    assert scenes_of(sheet_of(signed_in(writer), writer, "stunts")) == []


def test_a_scene_that_is_listed_for_a_note_has_its_cautions_too(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    before = OLD.replace("A choir sings.", "A choir sings.\n\nPIP, 9, sings too.")
    [first] = publish(writer, before)
    make_note(crew, first, first_line=before[: before.index("A choir sings.")].count("\n") + 1)
    publish(writer, before.replace("A choir sings.", "The choir hums."))
    page = words_of(sheet_of(signed_in(writer), writer, "camera"))
    assert "Caution, children, in lines that did not change: PIP, 9." in page
