"""The working text taken away, edited elsewhere and put back: what differs is taken over, and nothing is guessed."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from review.access import Role
from review.drafts.texts import hash_text
from review.log import Act
from review.people.models import Department
from review.productions.models import lock_production
from review.rewriting.acts import begin_working
from review.rewriting.models import DownloadedText
from review.rewriting.scene_acts import cut_scene, save_scene
from review.rewriting.taking_over import take_over
from screenplay import compare
from tests.factories import make_draft, make_member
from tests.review.next_draft.taken_elsewhere import TEXT, address, put_back, rewrite_here, take_away, versions

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member
    from review.productions.models import Production
    from review.rewriting.models import WorkingDraft
    from screenplay import Screenplay
    from screenplay.comparing import Comparison

pytestmark = pytest.mark.django_db


def test_what_is_downloaded_is_the_working_text(client: Client, writer: Member, working: WorkingDraft) -> None:
    response = client.get(address(writer, "working-download"))
    assert response.content.decode() == TEXT == working.joined_text()
    assert response["Content-Disposition"].startswith("attachment")


def test_what_differs_is_worked_out_before_anybody_waits_for_it(
    writer: Member, working: WorkingDraft, monkeypatch: pytest.MonkeyPatch
) -> None:
    done: list[str] = []

    def compared(old: Screenplay, new: Screenplay) -> Comparison:
        done.append("compared")
        return compare(old, new)

    def locked(production: int) -> Production:
        done.append("locked")
        return lock_production(production)

    monkeypatch.setattr("review.rewriting.taking_over.compare", compared)
    monkeypatch.setattr("review.productions.models.lock_production", locked)
    take_over(writer, working, TEXT.replace("Fog", "Mist"), hash_text(TEXT))
    assert done == ["compared", "locked"]
    assert versions(working) == [1, 1, 2, 1]


def test_putting_back_what_was_taken_away_changes_nothing(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    before = versions(working)
    put_back(client, writer, take_away(client, writer))
    assert (working.joined_text(), versions(working)) == (TEXT, before)


@pytest.fixture
def with_two_headings(writer: Member, working: WorkingDraft) -> WorkingDraft:
    """A scene into which a second heading was typed, saved by itself and not by the button."""
    scene = working.scenes.get(ordinal=2)
    text = f"{scene.text}INT. SHED - DAY\r\n\r\nNets on hooks.\r\n\r\n"
    save_scene(writer, scene, text, scene.version, uuid.uuid4(), as_typed=True)
    assert working.scenes.count() == 4
    return working


def test_putting_back_a_scene_with_two_headings_unchanged_changes_nothing(
    client: Client, writer: Member, with_two_headings: WorkingDraft
) -> None:
    taken = take_away(client, writer)
    before = versions(with_two_headings)
    for _ in range(2):
        response = client.get(put_back(client, writer, taken).url)
        assert "Nothing differed" in response.content.decode()
    assert (with_two_headings.joined_text(), versions(with_two_headings)) == (taken, before)


@pytest.mark.parametrize("words", ["Fog over the posts.", "Nets on hooks.", "Dark, and a stove."])
def test_a_change_beside_or_in_a_scene_with_two_headings_doubles_nothing(
    client: Client, writer: Member, with_two_headings: WorkingDraft, words: str
) -> None:
    edited = take_away(client, writer).replace(words, "Other words.")
    response = client.get(put_back(client, writer, edited).url)
    assert "1 scene changed." in response.content.decode()
    assert with_two_headings.joined_text() == edited
    assert [scene.text[:9] for scene in with_two_headings.scenes.order_by("position")][1:] == [
        "INT. FERR",
        "EXT. PIER",
        "INT. SHED",
        "INT. HUT ",
    ]


def test_a_heading_typed_before_the_first_scene_is_doubled_neither(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    lead = working.scenes.get(ordinal=0)
    save_scene(writer, lead, "FADE IN:\n\nEXT. SEA - DAWN\n\nSwell.\n", 1, uuid.uuid4(), as_typed=True)
    edited = take_away(client, writer).replace("Fog", "Haar")
    put_back(client, writer, edited)
    assert working.joined_text() == edited
    assert working.scenes.count() == 5


def test_only_the_scene_that_differs_is_written(client: Client, writer: Member, working: WorkingDraft) -> None:
    put_back(client, writer, take_away(client, writer).replace("Fog", "Haar"))
    assert working.joined_text() == TEXT.replace("Fog", "Haar")
    assert versions(working) == [1, 1, 2, 1]
    assert Act.objects.filter(verb=Act.Verb.PUT_BACK_TEXT).count() == 1


def test_what_was_changed_here_meanwhile_stays(client: Client, writer: Member, working: WorkingDraft) -> None:
    taken = take_away(client, writer)
    rewrite_here(writer, working, "Rain", "Hail")
    put_back(client, writer, taken.replace("Fog", "Haar"))
    assert working.joined_text() == TEXT.replace("Fog", "Haar").replace("Rain", "Hail")


def test_a_file_is_put_back_as_well_as_pasted_text(client: Client, writer: Member, working: WorkingDraft) -> None:
    edited = take_away(client, writer).replace("Fog", "Haar").replace("\r\n", "\n")
    since = DownloadedText.objects.get().public_id
    file = SimpleUploadedFile("edited.fountain", edited.encode())
    client.post(address(writer), {"file": file, "since": since})
    assert working.joined_text() == TEXT.replace("Fog", "Haar")


def test_a_scene_cut_elsewhere_is_cut_with_its_words_kept(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    taken = take_away(client, writer)
    put_back(client, writer, taken[: taken.index("EXT. PIER")] + taken[taken.index("INT. HUT") :])
    assert "Fog" not in working.joined_text()
    assert working.scenes.exclude(cut_at=None).get().text.startswith("EXT. PIER")


def test_a_scene_added_elsewhere_is_a_new_scene(client: Client, writer: Member, working: WorkingDraft) -> None:
    put_back(client, writer, take_away(client, writer).replace("INT. HUT", "INT. STORE - DAY\n\nRope.\n\nINT. HUT"))
    assert [scene.text[:10] for scene in working.scenes.order_by("position")][1:] == [
        "INT. FERRY",
        "EXT. PIER ",
        "INT. STORE",
        "INT. HUT -",
    ]
    assert versions(working) == [1, 1, 1, 1, 1]


def test_a_scene_cut_here_stays_cut(client: Client, writer: Member, working: WorkingDraft) -> None:
    taken = take_away(client, writer)
    cut_scene(writer, working.scenes.get(ordinal=2))
    put_back(client, writer, taken.replace("Rain", "Hail"))
    assert "Fog" not in working.joined_text()
    assert "Hail" in working.joined_text()


def test_a_scene_moved_elsewhere_and_rewritten_here_stands_there_as_it_reads_here(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    taken = take_away(client, writer)
    pier, hut = taken.index("EXT. PIER"), taken.index("INT. HUT")
    moved = f"{taken[:pier]}{taken[hut:]}\r\n{taken[pier:hut]}"
    rewrite_here(writer, working, "Fog over", "Sleet over")
    put_back(client, writer, moved)
    assert working.joined_text() == moved.replace("Fog", "Sleet")
    assert [scene.ordinal for scene in working.scenes.order_by("position")] == [0, 1, 3, 2]


def test_a_scene_moved_elsewhere_with_the_section_above_it_leaves_what_was_written_here_above_the_section(
    client: Client, writer: Member
) -> None:
    text = TEXT.replace("EXT. PIER", "# Act Two\r\n\r\nEXT. PIER")
    working = begin_working(writer, make_draft(writer, text), uuid.uuid4())
    taken = take_away(client, writer)
    act, hut = taken.index("# Act"), taken.index("INT. HUT")
    rewrite_here(writer, working, "Rain on the deck.", "Rain on the deck.\r\n\r\nGulls.")
    assert put_back(client, writer, taken[act:hut] + taken[:act] + taken[hut:]).status_code == 302
    written = text[:act].replace("deck.", "deck.\r\n\r\nGulls.")
    assert working.joined_text() == text[act:hut] + written + text[hut:]


def test_nothing_chosen_is_said(client: Client, writer: Member, working: WorkingDraft) -> None:
    take_away(client, writer)
    assert put_back(client, writer, "").status_code == 422
    assert working.joined_text() == TEXT


def test_a_text_that_another_writer_took_away_is_put_back_by_it(
    client: Client, writer: Member, working: WorkingDraft, signed_in: Callable[[Member], Client]
) -> None:
    other = make_member(writer.production, Role.WRITER, Department.WRITING, "Idris Fell")
    take_away(signed_in(other), other)
    assert "the text Idris Fell took away on" in client.get(address(writer)).content.decode()
    theirs = DownloadedText.objects.get().public_id
    client.post(address(writer), {"text": TEXT.replace("Fog", "Haar"), "since": theirs})
    assert working.joined_text() == TEXT.replace("Fog", "Haar")


def test_a_file_made_from_the_draft_itself_is_put_back_by_that(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    rewrite_here(writer, working, "Fog over", "Sleet over")
    client.post(address(writer), {"text": TEXT.replace("INT. HUT", "INT. SHED"), "since": "draft"})
    assert working.joined_text() == TEXT.replace("Fog over", "Sleet over").replace("INT. HUT", "INT. SHED")


def test_a_text_made_from_none_of_these_is_refused(client: Client, writer: Member, working: WorkingDraft) -> None:
    told = client.post(address(writer), {"text": TEXT.replace("Fog", "Haar"), "since": "elsewhere"})
    assert told.status_code == 422
    assert working.joined_text() == TEXT


def test_a_scene_that_went_into_another_is_merged_and_not_cut(
    client: Client, writer: Member, working: WorkingDraft
) -> None:
    """Taken over are the words of each under the heading that stands."""
    taken = take_away(client, writer)
    folded = taken.replace("EXT. PIER - DAY\r\n\r\n", "")
    assert folded != taken
    response = client.get(put_back(client, writer, folded).url)
    assert "1 scene merged." in response.content.decode()
    assert working.joined_text() == folded
