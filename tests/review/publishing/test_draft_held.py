"""A chosen text is shown as the draft it would be before it goes up, and held until then."""

from __future__ import annotations

import uuid
from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.core.exceptions import PermissionDenied
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from review import demo
from review.access import Role
from review.changes.reading_order import changes_between
from review.decisions.acts import decide
from review.drafts.acts import withdraw_draft
from review.drafts.models import Draft
from review.log import Act
from review.notes.acts import leave_note
from review.notes.fates import fates_since_before
from review.notes.then_and_now import NextText
from review.publishing.acts import LetGoMeanwhile, hold_draft, let_go, publish_draft, publish_held
from review.publishing.first_look import counted, first_look
from review.publishing.models import HELD_FOR, HeldDraft
from screenplay import Span
from screenplay.intake import read_text
from tests.factories import SCRIPT, make_member, make_note
from tests.putting_up import choose, preset
from tests.review.locked_film import GROWN, WHOLE, lock_all, put_up

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]

NEXT = SCRIPT.replace("Tide turns at four.", "The tide turns at five.").replace("Mist. The skiff is gone.\n\n", "")


@pytest.fixture
def client(writer: Member, signed_in: SignIn) -> Client:
    return signed_in(writer)


@pytest.fixture
def first(writer: Member) -> Draft:
    return publish_draft(writer, read_text(SCRIPT))[0]


def shown(client: Client, address: str, at: str = "main") -> str:
    found = BeautifulSoup(client.get(address).content, "html.parser").select_one(at)
    return " ".join(found.get_text(" ").split()) if found else ""


def held_of(client: Client, writer: Member, text: str) -> str:
    return choose(client, writer, text=text)["Location"]


def test_fountain_is_shown_before_it_is_up(client: Client, writer: Member) -> None:
    file = SimpleUploadedFile("slack.fountain", (SCRIPT + "\nAn [[unclosed thought.\n").encode())
    address = choose(client, writer, file=file)["Location"]
    assert not Draft.objects.exists()
    assert not Act.objects.filter(verb=Act.Verb.PUBLISHED_DRAFT).exists()
    assert shown(client, address, ".tally") == "Page 1 Scenes 2 Characters 2 Line to look at 1"
    assert "unclosed thought" in shown(client, address, ".remarks")
    assert "slack.fountain" in shown(client, address)


def test_its_scenes_and_first_pages_are_shown_as_they_were_read(client: Client, writer: Member) -> None:
    address = held_of(client, writer, f"Title: Slack Water\n\n{SCRIPT}\n" + "Rain on the water.\n\n" * 150)
    page = BeautifulSoup(client.get(address).content, "html.parser")
    scenes = [" ".join(row.get_text(" ").split()) for row in page.select(".scenes-table tbody tr")]
    assert scenes[0].startswith("1 INT. BOATHOUSE - NIGHT NELL, TOBIAS 1 ")
    assert [row.split()[1] for row in scenes] == ["INT.", "EXT."]
    assert page.select(".scenes-table a") == []
    assert [leaf["aria-label"] for leaf in page.select(".writing-leaf")] == ["Title page", "Page 1", "Page 2", "Page 3"]
    assert "Tide turns at four." in page.select(".writing-leaf")[1].text
    assert page.select(".writing-leaf [id]") == []


def test_where_no_scene_was_found_it_says_what_a_heading_is(client: Client, writer: Member) -> None:
    assert "No scenes were found. A scene begins with" in shown(
        client, held_of(client, writer, "Rain.\n\nMore rain.\n")
    )


def test_it_says_what_changed_and_how_many_notes_keep_their_lines(
    client: Client, writer: Member, crew: Member, first: Draft
) -> None:
    for line in (6, 9, 17):
        make_note(crew, first, line)
    told = shown(client, held_of(client, writer, NEXT), ".report-fates")
    assert "Since draft 1" in told
    assert "Scenes: 2 reworded. Lines: 1 reworded, 1 gone." in told
    assert "2 of 3 notes keep their lines" in told
    assert "1 kept 0 moved 1 reworded 1 gone" in told


def test_accepted_wordings_of_the_working_draft_that_a_file_lacks_are_named(
    client: Client, writer: Member, crew: Member, first: Draft
) -> None:
    reworded, cut = make_note(crew, first, 9, wording="The tide turns at four."), make_note(crew, first, 17, wording="")
    for note in (reworded, cut):
        decide(writer, note, "accepted", "", 0, uuid.uuid4(), with_wording=True)
    without = SCRIPT.replace("He didn't wait.", "He did not wait.")
    told = shown(client, held_of(client, writer, without), "[aria-labelledby=lacked]")
    assert told.startswith("2 accepted wordings of the working draft are not in this text")
    assert "from Bo Finch The tide turns at four." in told
    assert "Its lines were cut there, and stand here as before." in told

    with_one = without.replace("Tide turns at four.", "The tide turns at four.")
    told = shown(client, held_of(client, writer, with_one), "[aria-labelledby=lacked]")
    assert told.startswith("1 accepted wording of the working draft is not in this text")
    assert "The tide turns at four." not in told

    with_both = with_one.replace("Mist. The skiff is gone.\n\n", "").replace("NELL", "ADA")
    assert shown(client, held_of(client, writer, with_both), "[aria-labelledby=lacked]") == ""


def test_scenes_that_come_and_go_are_counted(client: Client, writer: Member, first: Draft) -> None:
    text = SCRIPT[: SCRIPT.index("EXT. SLIPWAY")] + "INT. CHANDLERY - DAY\n\nRope by the fathom. Nobody buys.\n"
    assert "Scenes: 1 cut, 1 added." in shown(client, held_of(client, writer, text), ".report-fates")


def test_the_scenes_and_lines_told_beforehand_are_those_that_changes_then_shows(writer: Member, crew: Member) -> None:
    """Scenes that were split, merged and moved among them, and lines before the first, which are no scene."""
    folder = Path(demo.__file__).parent
    texts = [(folder / f"{which}-draft.fountain").read_text("utf-8") for which in ("first", "second")]
    first = publish_draft(writer, read_text(texts[0]))[0]
    since = first_look(writer, NextText.of(writer.production, f"Fog.\n\n{texts[1]}")).since
    second = publish_draft(writer, read_text(f"Fog.\n\n{texts[1]}"))[0]
    changes = changes_between(first, second, with_source=True)
    assert since is not None
    assert since.scenes == [(word, count) for count, word in changes.scene_counts]
    fates = {told.split()[0] for told, _ in since.scenes}
    assert {"split", "merged", "moved", "renamed", "reworded", "cut", "added"} <= fates
    assert since.lines == [(word, count) for count, word in changes.line_counts]
    assert since.moved_with_scenes == changes.moved_with_scenes > 0


@pytest.mark.parametrize("text", [NEXT, SCRIPT + "\nAnd out.\n", "EXT. MOOR - DAY\n\nA fox.\n"])
def test_what_is_said_of_the_notes_beforehand_is_what_then_happens(
    writer: Member, crew: Member, first: Draft, text: str
) -> None:
    for line in (6, 9, 13, 17, 20):
        leave_note(crew, first, Span(line, 0, line, 4), "idea", "Hm.", form_id=uuid.uuid4())
    publish_draft(writer, read_text(SCRIPT.replace("Mist. The skiff is gone.", "Fog, and no skiff.")))
    look = first_look(writer, NextText.of(writer.production, text))
    draft, _ = publish_draft(writer, read_text(text))
    notes = writer.production.notes.visible_to(writer).not_withdrawn()
    assert look.since is not None
    assert look.since.notes == counted(fates_since_before(notes, draft))


def test_the_held_text_survives_a_reload_and_a_closed_window(client: Client, writer: Member, first: Draft) -> None:
    address = held_of(client, writer, NEXT)
    assert shown(client, address) == shown(client, address)
    upload = reverse("draft-upload", args=[writer.production.public_id])
    assert f'href="{address}"' in client.get(upload).text
    client.post(address, preset(client.get(address)))
    assert Draft.objects.get(number=2).text == NEXT
    assert f'href="{address}"' not in client.get(upload).text


def test_nothing_of_it_is_kept_once_it_is_let_go(client: Client, writer: Member, first: Draft) -> None:
    address = held_of(client, writer, NEXT)
    response = client.post(address, {"let_go": "on"}, follow=True)
    assert "nothing was put up" in response.text
    assert not HeldDraft.objects.exists()
    assert client.get(address).status_code == 404
    assert Draft.objects.count() == 1


def test_a_text_that_another_window_let_go_is_not_put_up_and_a_sentence_says_so(
    client: Client, writer: Member, first: Draft
) -> None:
    address = held_of(client, writer, NEXT)
    fields = preset(client.get(address))
    held = HeldDraft.objects.get()
    assert [let_go(writer, held), let_go(writer, held)] == [True, False]
    for sent in (fields, {"let_go": "on"}):
        assert "this text is not held any more" in client.post(address, sent, follow=True).text
    with pytest.raises(LetGoMeanwhile):
        publish_held(writer, held, "", "", {}, 1)
    assert Draft.objects.count() == 1


def test_nobody_lets_go_or_puts_up_what_another_holds_nor_lets_go_what_is_up(
    client: Client, writer: Member, first: Draft
) -> None:
    held = hold_draft(writer, read_text(NEXT))
    second = make_member(writer.production, Role.WRITER)
    assert not let_go(second, held)
    with pytest.raises(LetGoMeanwhile):
        publish_held(second, held, "", "", {}, 1)
    assert Draft.objects.get() == first
    publish_held(writer, held, "", "", {}, 1)
    assert not let_go(writer, held)
    assert HeldDraft.objects.exists()


def test_choosing_another_lets_the_first_go(client: Client, writer: Member, first: Draft) -> None:
    before = held_of(client, writer, NEXT)
    after = held_of(client, writer, NEXT + "\nAnd out.\n")
    assert (client.get(before).status_code, client.get(after).status_code) == (404, 200)


def test_what_is_held_too_long_is_dropped(writer: Member) -> None:
    other = make_member(writer.production, Role.WRITER)
    old = hold_draft(other, read_text(NEXT))
    HeldDraft.objects.filter(pk=old.pk).update(created_at=old.created_at - HELD_FOR - timedelta(minutes=1))
    held = hold_draft(writer, read_text(SCRIPT))
    assert list(HeldDraft.objects.all()) == [held]


def test_a_text_once_up_is_held_no_longer_and_its_form_finds_the_draft(
    client: Client, writer: Member, first: Draft
) -> None:
    address = held_of(client, writer, NEXT)
    fields = preset(client.get(address)) | {"label": "Second"}
    leads_to = [client.post(address, fields)["Location"] for _ in range(2)]
    assert leads_to == [reverse("draft-report", args=[writer.production.public_id, 2])] * 2
    assert Draft.objects.count() == 2
    held = HeldDraft.objects.get()
    assert (held.text, held.published_as) == ("", Draft.objects.get(label="Second"))


def test_a_form_sent_again_after_the_withdrawal_puts_up_nothing(client: Client, writer: Member, first: Draft) -> None:
    address = held_of(client, writer, NEXT)
    fields = preset(client.get(address))
    client.post(address, fields)
    withdraw_draft(writer, Draft.objects.get(number=2), "The wrong file.")
    again = client.post(address, fields)
    assert again["Location"] == reverse("drafts", args=[writer.production.public_id])
    assert Draft.objects.count() == 2


def test_another_draft_that_came_up_meanwhile_is_shown_first(client: Client, writer: Member, first: Draft) -> None:
    address = held_of(client, writer, NEXT)
    fields = preset(client.get(address))
    publish_draft(writer, read_text(SCRIPT + "\nAnd out.\n"))
    response = client.post(address, fields)
    assert response.status_code == 409
    assert "Another draft came up" in response.text
    assert "Since draft&nbsp;2" in response.text
    assert Draft.objects.count() == 2
    assert client.post(address, preset(response)).status_code == 302


def test_what_one_writer_holds_is_nobody_elses(client: Client, writer: Member, signed_in: SignIn, first: Draft) -> None:
    address = held_of(client, writer, NEXT)
    other = make_member(writer.production, Role.WRITER)
    assert signed_in(other).get(address).status_code == 404
    assert "still held" not in signed_in(other).get(reverse("draft-upload", args=[writer.production.public_id])).text


def test_a_reader_holds_nothing(crew: Member) -> None:
    with pytest.raises(PermissionDenied):
        hold_draft(crew, read_text(SCRIPT))
    assert not HeldDraft.objects.exists()


def test_the_working_draft_is_shown_in_the_same_way(client: Client, writer: Member, crew: Member, first: Draft) -> None:
    make_note(crew, first, 6)
    client.post(reverse("working-begin", args=[writer.production.public_id]), follow=True)
    scene = writer.production.working_drafts.get().scenes.get(position=2)
    scene.write(writer, scene.text.replace("Mist.", "Fog."))
    told = shown(client, reverse("working-publish", args=[writer.production.public_id]))
    for words in ("Page 1", "Lines: 1 reworded.", "1 of 1 note keeps its lines"):
        assert words in told


def test_where_pages_are_locked_it_says_which_are_swapped(client: Client, writer: Member) -> None:
    put_up(writer, WHOLE)
    lock_all(writer)
    told = shown(client, held_of(client, writer, GROWN), ".report-fates")
    assert "take out page 2; put in pages 2 and 2A." in told
    assert "It is 1 page longer." in told
