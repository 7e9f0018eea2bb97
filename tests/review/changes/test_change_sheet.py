"""What changed between two drafts for one department or one character: which scenes, why, and whose sheet is whose."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from review import demo
from review.access import Role
from review.changes.change_sheets import change_sheets
from review.changes.department_rules import EVERYTHING
from review.changes.reading_order import changes_between
from review.people.models import Department
from tests.factories import make_member, make_production
from tests.review.changes.boathouse import (
    CALLED,
    CALLED_OTHERWISE,
    NEW,
    OLD,
    address,
    publish,
    read_pdf,
    scenes_of,
    sheet_of,
    words_of,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]


@pytest.mark.parametrize(
    ("whose", "scenes"),
    [
        ("stunts", ["1 INT. BOATHOUSE - NIGHT"]),
        ("music", ["3 EXT. CHURCH - DAY"]),
        ("camera", ["1 INT. BOATHOUSE - NIGHT", "2 EXT. MEADOW - NIGHT"]),
        ("production", ["1 INT. BOATHOUSE - NIGHT", "2 EXT. MEADOW - NIGHT", "3 EXT. CHURCH - DAY"]),
        ("cast", ["1 INT. BOATHOUSE - NIGHT", "3 EXT. CHURCH - DAY"]),
        ("nell", ["1 INT. BOATHOUSE - NIGHT", "2 EXT. MEADOW - NIGHT"]),
        ("tobias", ["3 EXT. CHURCH - DAY"]),
    ],
)
def test_each_sheet_has_the_changed_scenes_that_concern_its_reader(
    writer: Member, signed_in: SignIn, whose: str, scenes: list[str]
) -> None:
    publish(writer, OLD, NEW)
    assert scenes_of(sheet_of(signed_in(writer), writer, whose)) == scenes


def test_a_sheet_says_why_each_scene_is_on_it_and_what_changed(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    page = words_of(sheet_of(signed_in(writer), writer, "stunts"))
    assert "Caution, weapons and gunfire, new in the scene: knife." in page
    assert "Caution, falls and heights, new in the scene: ladder." in page
    assert "on the ladder, with a knife" in page
    assert "It was dawn and is night." in words_of(sheet_of(signed_in(writer), writer, "lighting"))


def test_a_scene_outside_now_and_one_that_says_no_setting_are_told_in_whole_sentences(
    writer: Member, signed_in: SignIn
) -> None:
    new = OLD.replace("INT. BOATHOUSE", "EXT. BOATHOUSE").replace("EXT. MEADOW", ".MEADOW")
    publish(writer, OLD, new)
    page = words_of(sheet_of(signed_in(writer), writer, "production"))
    assert "It was INT. and is EXT. " in page
    assert "It was EXT. and is no setting. " in page


def test_changed_action_that_names_a_character_is_what_changed_for_them(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, OLD.replace("Rain. The gate is open.", "Rain. The gate hangs from one hinge."))
    client = signed_in(writer)
    page = sheet_of(client, writer, "nell")
    assert scenes_of(page) == ["2 EXT. MEADOW - DAWN"]
    assert "NELL is named here. Named in changed action." in words_of(page)
    assert "hangs from one hinge" in words_of(page)
    assert "Named in changed action: NELL." in words_of(sheet_of(client, writer, "cast"))


def test_a_sheet_says_that_a_place_is_gone_only_where_no_scene_is_played_there(
    writer: Member, signed_in: SignIn
) -> None:
    again = "\nEXT. MEADOW - DAY\n\nSheep, and TOBIAS among them.\n\nTOBIAS\nCome by.\n"
    publish(
        writer,
        OLD + again,
        OLD,
        OLD.replace("EXT. MEADOW - DAWN\n\nRain. The gate is open. Nell looks for him.\n\n", ""),
    )
    client = signed_in(writer)
    first = words_of(sheet_of(client, writer, "locations"))
    assert "The scene is cut. Was played at MEADOW, where other scenes still are." in first
    later = client.get(reverse("change-sheet", args=[writer.production.public_id, 2, 3, "locations"])).text
    assert "No longer played at MEADOW." in later


def test_a_scene_that_was_split_and_stands_elsewhere_is_told_as_both(writer: Member, signed_in: SignIn) -> None:
    church = OLD[OLD.index("EXT. CHURCH") :]
    publish(writer, OLD, church.replace("A choir", "EXT. PORCH - DAY\n\nA choir") + "\n" + OLD.replace(church, ""))
    page = words_of(sheet_of(signed_in(writer), writer, "production"))
    assert page.count("of what was scene 3, EXT. CHURCH - DAY.") == 2
    assert page.count("The scene stands elsewhere in the story now.") == 2


VAN = """INT. VAN - NIGHT

A shotgun lies across the seat.

DENNIS
Lovely spot for it.

"""
TOWPATH = """EXT. TOWPATH - DAY

Ola ties the rope.

OLA
There is always a man.

OLA
And he always has a van.
"""
FOLDED = TOWPATH.replace("Ola ties", f"{VAN.partition(chr(10) * 2)[2]}Ola ties")


def test_what_came_along_with_a_scene_that_is_part_of_another_is_not_told_as_new(
    writer: Member, signed_in: SignIn
) -> None:
    publish(writer, VAN + TOWPATH, FOLDED)
    client = signed_in(writer)
    everything = words_of(sheet_of(client, writer, "production"))
    assert "What was scene 1, INT. VAN - NIGHT, is part of it now." in everything
    assert "Came along with scene 1: DENNIS." in everything
    assert "Caution, weapons and gunfire, came along with scene 1: shotgun." in everything
    for untrue in ("Speaking here now", "new in the scene", "It was INT.", "It was night"):
        assert untrue not in everything
    places = words_of(sheet_of(client, writer, "locations"))
    assert "What came from scene 1 was played at VAN, where no scene is any more." in places
    assert "What came from scene 1 was INT. and is EXT." in places
    assert "What came from scene 1 was night and is day." in places


def test_each_speech_is_told_once_and_one_that_is_no_longer_theirs_is_said_to_be_whose(
    writer: Member, signed_in: SignIn
) -> None:
    cut = TOWPATH.replace("\nOLA\nAnd he always has a van.\n", "")
    given = (VAN + TOWPATH).replace("OLA\nThere", "DENNIS\nThere").replace("OLA\nAnd", "And")
    publish(writer, VAN + TOWPATH, VAN + cut)
    client = signed_in(writer)
    assert "OLA speaks here. Speeches: one cut." in words_of(sheet_of(client, writer, "ola"))
    publish(writer, VAN + TOWPATH.replace("ties", "knots"), given)
    theirs = client.get(reverse("change-sheet", args=[writer.production.public_id, 3, 4, "ola"])).text
    assert "OLA no longer speaks here. Speeches: one now DENNIS’s, one now action." in words_of(
        BeautifulSoup(theirs, "html.parser")
    )
    pdf = client.get(reverse("change-sheet-pdf", args=[writer.production.public_id, 3, 4, "ola"])).content
    assert "(Now action; it was said by OLA.)" in read_pdf(pdf)


def test_every_changed_scene_is_on_the_sheets_of_those_who_answer_for_the_whole_film(writer: Member) -> None:
    folder = Path(demo.__file__).parent
    names = ("first-draft.fountain", "second-draft.fountain")
    old, new = publish(writer, *((folder / name).read_text(encoding="utf-8") for name in names))
    told = changes_between(old, new, with_source=False).told_scenes
    assert len(told) > 20
    for sheet in change_sheets(old, new, []):
        if sheet.whose.department in EVERYTHING:
            assert [entry.scene for entry in sheet.entries] == told


def test_a_sheet_of_a_department_that_nothing_concerns_says_so_in_words(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, OLD.replace("A choir sings.", "A choir waits."))
    page = words_of(sheet_of(signed_in(writer), writer, "special-effects"))
    assert "No changed scene seems to concern them." in page
    assert "0 scenes" not in page


def test_where_only_what_did_not_change_concerns_its_reader_no_scene_is_set_out(
    writer: Member, signed_in: SignIn
) -> None:
    stunts = make_member(writer.production, Role.CREW, Department.STUNTS)
    before = OLD.replace("one lamp.", "one lamp.\n\nA knife lies on the sill.")
    publish(writer, before, before.replace("NELL mends a net", "NELL folds a net"))
    client = signed_in(stunts)
    page = sheet_of(client, stunts, "stunts")
    assert "No changed scene seems to concern you." in words_of(page)
    assert page.select_one(".sheet-scenes") is None
    assert len(page.select(".sheet-mentions li")) == 1
    changes = client.get(reverse("changes-between", args=[stunts.production.public_id, 1, 2]))
    assert "For you: Stunts, no scene<" in changes.text


def test_the_cast_open_the_sheet_of_whom_they_play_everyone_else_their_department_s(
    writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    cast.character = "Nell"
    cast.save()
    publish(writer, OLD, NEW)
    mine = [
        signed_in(member).get(reverse("change-sheet-mine", args=[member.production.public_id]), follow=True)
        for member in (crew, cast)
    ]
    assert [response.redirect_chain[-1][0] for response in mine] == [address(crew, "camera"), address(cast, "nell")]


def test_one_of_the_cast_who_plays_nobody_yet_opens_the_sheet_of_the_cast(
    writer: Member, cast: Member, signed_in: SignIn
) -> None:
    publish(writer, OLD, NEW)
    response = signed_in(cast).get(reverse("change-sheets", args=[cast.production.public_id, 1, 2]))
    assert response["Location"] == address(cast, "cast")


def test_with_one_draft_there_is_no_sheet_yet(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD)
    response = signed_in(writer).get(reverse("change-sheet-mine", args=[writer.production.public_id]), follow=True)
    assert "Nothing to compare yet" in response.text


def test_any_sheet_can_be_asked_for_and_one_that_is_not_there_does_not_exist(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    client = signed_in(writer)
    asked = reverse("change-sheets", args=[writer.production.public_id, 1, 2])
    assert client.get(f"{asked}?whose=special-effects")["Location"] == address(writer, "special-effects")
    assert client.get(f"{asked}?whose=nobody")["Location"] == address(writer, "writing")
    for name in ("change-sheet", "change-sheet-pdf"):
        assert client.get(address(writer, "nobody", name)).status_code == 404


def test_a_character_who_left_or_was_renamed_has_one_sheet(writer: Member, signed_in: SignIn) -> None:
    old = OLD + "\nTOBIAS\nAmen.\n\nNELL\nSo be it.\n"
    new = old.replace("TOBIAS", "ANSELM").replace("NELL\nTide turns at four.\n\n", "").replace("NELL\nSo be it.\n", "")
    publish(writer, old, new)
    client = signed_in(writer)
    assert client.get(address(writer, "tobias")).status_code == 404
    assert "3 EXT. CHURCH - DAY" in scenes_of(sheet_of(client, writer, "anselm"))
    assert "1 INT. BOATHOUSE - NIGHT" in scenes_of(sheet_of(client, writer, "nell"))


@pytest.mark.parametrize("whose", ["sentry", "nell", "costume", "production"])
def test_every_sheet_says_at_its_top_which_names_changed_throughout(
    writer: Member, signed_in: SignIn, whose: str
) -> None:
    old = OLD + "\nGUARD\nHalt.\n\nNELL\nWe halted.\n\nGUARD\nHalt, I said.\n"
    publish(writer, old, old.replace("GUARD", "SENTRY"))
    client = signed_in(writer)
    page = sheet_of(client, writer, whose)
    untold = "A cue or a heading in which a name is all that changed is not on this sheet."
    assert [words_of(each) for each in page.select(".rename")] == [f"GUARD is SENTRY throughout. {untold}"]
    assert "Nothing here" not in words_of(page)
    assert "But for a name, no changed scene seems to concern them." in words_of(page)
    pdf = read_pdf(client.get(address(writer, whose, "change-sheet-pdf")).content)
    assert "GUARD is SENTRY throughout." in pdf
    assert "Nothing else that changed concerns this sheet." in pdf


def test_the_changes_screen_leads_to_the_sheet_of_whom_nothing_but_the_name_changed(
    writer: Member, cast: Member, signed_in: SignIn
) -> None:
    cast.character = "Sentry"
    cast.save()
    old = OLD + "\nGUARD\nHalt.\n\nNELL\nWe halted.\n\nGUARD\nHalt, I said.\n"
    publish(writer, old, old.replace("GUARD", "SENTRY"))
    changes = signed_in(cast).get(reverse("changes-between", args=[cast.production.public_id, 1, 2]))
    page = BeautifulSoup(changes.content, "html.parser")
    assert [words_of(own) for own in page.select(".sheet-own")] == ["For you: SENTRY, a new name"]
    assert "SENTRY a new name" in [words_of(each) for each in page.select(".sheet-links li")]


def test_an_actor_learns_of_a_name_that_she_says_otherwise(writer: Member, signed_in: SignIn) -> None:
    publish(writer, CALLED, CALLED_OTHERWISE)
    client = signed_in(writer)
    page = sheet_of(client, writer, "nell")
    assert scenes_of(page) == ["1 INT. BOATHOUSE - NIGHT"]
    assert "NELL speaks here. Speeches: one changed." in words_of(page)
    [row] = page.select(".sheet-rows .change")
    assert [words_of(name) for name in row.select("ins")] == ["added: Tilde (end of added)"] * 2
    pdf = read_pdf(client.get(address(writer, "nell", "change-sheet-pdf")).content)
    assert "was Mags? Mags! now Tilde? Tilde!" in pdf


def test_action_that_names_a_renamed_character_is_on_their_sheet_and_no_change_of_its_cautions(
    writer: Member, signed_in: SignIn
) -> None:
    publish(writer, CALLED, CALLED_OTHERWISE)
    client = signed_in(writer)
    theirs = sheet_of(client, writer, "tilde")
    assert scenes_of(theirs) == ["2 EXT. MEADOW - DAWN"]
    assert "TILDE is named here. Named in changed action." in words_of(theirs)
    assert scenes_of(sheet_of(client, writer, "stunts")) == []
    assert scenes_of(sheet_of(client, writer, "props")) == []


def test_a_sheet_tells_what_prints_to_writers_too(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW.replace("louder.", "louder. [[Too loud?]]") + "\n/* He weeps. */\n")
    page = words_of(sheet_of(signed_in(writer), writer, "writing"))
    assert "louder" in page
    assert "Too loud?" not in page
    assert "weeps" not in page


def test_the_changes_screen_leads_to_the_reader_s_own_sheet_and_counts_all(
    writer: Member, crew: Member, signed_in: SignIn
) -> None:
    publish(writer, OLD, NEW)
    page = BeautifulSoup(
        signed_in(crew).get(reverse("changes-between", args=[crew.production.public_id, 1, 2])).content, "html.parser"
    )
    own = page.select_one(".sheet-own a")
    assert own is not None
    assert (own["href"], own.get_text()) == (address(crew, "camera"), "For you: Camera, 2 scenes")
    listed = [" ".join(entry.get_text(" ").split()) for entry in page.select(".sheet-links li")]
    assert "Stunts 1 scene" in listed
    assert "NELL 2 scenes" in listed
    assert not any("Special effects" in each and " 0 " in each for each in listed)


def test_a_department_of_another_production_sees_nothing_of_it(writer: Member, signed_in: SignIn) -> None:
    publish(writer, OLD, NEW)
    stranger = make_member(make_production("Elsewhere"), Role.CREW, Department.STUNTS)
    assert signed_in(stranger).get(address(writer, "stunts")).status_code == 404


@pytest.mark.parametrize(
    ("new", "told"),
    [
        ("FADE UP:\n\n" + NEW, "3 scenes and the lines before the first"),
        ("FADE UP:\n\n" + OLD, "the lines before the first scene"),
        (NEW, "3 scenes"),
    ],
)
def test_the_lines_before_the_first_scene_are_counted_as_no_scene(
    writer: Member, signed_in: SignIn, new: str, told: str
) -> None:
    publish(writer, "FADE IN:\n\n" + OLD if "FADE" in new else OLD, new)
    client = signed_in(writer)
    page = words_of(sheet_of(client, writer, "production"))
    assert f". {told[0].upper()}{told[1:]}: all that changed is on this sheet." in page
    changes = client.get(reverse("changes-between", args=[writer.production.public_id, 1, 2]))
    listed = [words_of(entry) for entry in BeautifulSoup(changes.content, "html.parser").select(".sheet-links li")]
    assert f"Production {told}" in listed
