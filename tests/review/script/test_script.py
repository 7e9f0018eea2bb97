"""The script screen: what it shows to whom, and at what cost."""

from __future__ import annotations

import gzip
from functools import partial
from typing import TYPE_CHECKING

from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from review.access import Role
from review.decisions.models import Outcome
from review.notes.acts import withdraw_note
from review.notes.carrying import carry_notes
from review.notes.models import Audience
from tests.drawn_lines import pieces
from tests.factories import SCRIPT, make_decisions, make_draft, make_member, make_note, make_notes, make_production
from tests.review.script.on_screen import address, cards, look, look_at_page, marks, one, second_draft

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.productions.models import Production

    SignedIn = Callable[[Member], Client]


def test_each_printed_line_has_an_address_and_its_words_their_offsets(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    page = look(signed_in(crew), draft)
    assert one(page, "#L6").get_text() == "NELL mends a net by one lamp."
    assert list(pieces(one(page, "#L13"))) == [(0, "Then we go at "), (15, "three"), (21, ".")]
    assert one(page, "#L13 i").get_text() == "three"


def test_the_title_page_stands_apart_and_pages_are_numbered(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    page = look(signed_in(crew), draft)
    assert "Slack Water" in one(page, "#page-title").get_text()
    assert one(page, "#page-1 .page-number").get_text() == "Page 1."


def test_the_scenes_are_listed_with_their_lengths_and_pages(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    links = look(signed_in(crew), draft).select("#scenes a")
    assert [link["href"] for link in links] == ["#L4", "#L15"]
    assert " ".join(links[0].get_text().split()) == "1 INT. BOATHOUSE - NIGHT 2/8 p. 1"


def test_a_script_s_own_marks_are_text_and_never_markup(signed_in: SignedIn, crew: Member, writer: Member) -> None:
    draft = make_draft(writer, "INT. <b>A</b> - DAY\n\n<script>alert(1)</script> & <!--3-->\n")
    page = look(signed_in(crew), draft)
    assert one(page, "#L3").get_text() == "<script>alert(1)</script> & <!--3-->"


def test_a_scene_number_stands_in_both_margins(signed_in: SignedIn, crew: Member, writer: Member) -> None:
    draft = make_draft(writer, "INT. A - DAY #7A#\n\nRain.\n")
    page = look(signed_in(crew), draft)
    assert [number.get_text() for number in page.select("#L1 .margin-number")] == ["7A", "7A"]


def test_speeches_side_by_side_have_a_side_each(signed_in: SignedIn, crew: Member, writer: Member) -> None:
    draft = make_draft(writer, "INT. A - DAY\n\nNELL\nGo.\n\nTOBIAS ^\nStay.\n")
    sides = look(signed_in(crew), draft).select(".dual .side")
    assert [[line["id"] for line in side.select("[id]")] for side in sides] == [["L3", "L4"], ["L6", "L7"]]


def test_a_line_over_two_pages_has_one_address(signed_in: SignedIn, crew: Member, writer: Member) -> None:
    draft = make_draft(writer, "Rain.\n\n" * 24 + "The tide turns, and turns again. " * 40 + "\n")
    page = look(signed_in(crew), draft)
    assert len(page.select("#L49")) == len(page.select("[data-of='49']")) == 1


def test_a_script_that_prints_nothing_says_so(signed_in: SignedIn, crew: Member, writer: Member) -> None:
    draft = make_draft(writer, "[[only a thought]]\n")
    page = look(signed_in(crew), draft)
    assert "Nothing to print" in page.get_text()
    assert "No scene headings" in page.get_text()


def test_the_page_says_where_a_note_stands_and_its_card_comes_for_its_page(
    signed_in: SignedIn, crew: Member, writer: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 8, 9)
    page = look(signed_in(crew), draft)
    assert marks(page) == [[note.public_id, "8.0-9.19", "8", "om"]]
    assert not page.select("[data-note]")
    one(cards(signed_in(crew), draft, "1"), f"[data-margin='notes-on-page-1'] #note-{note.public_id}")
    assert not cards(signed_in(crew), draft, "title").select("[data-note]")


def test_a_note_s_own_address_brings_its_card_along(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    note, other = make_note(crew, draft, 8), make_note(crew, draft, 9)
    page = look(signed_in(crew), draft, f"?note={note.public_id}")
    one(page, f"#notes-on-page-1 #note-{note.public_id}")
    assert not page.select(f"#note-{other.public_id}")


def test_a_note_on_a_line_that_is_not_printed_stands_at_the_line_before(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    note = make_note(crew, draft, 7, first_char=0, last_char=0)
    assert marks(look(signed_in(crew), draft)) == [[note.public_id, "7.0-7.0", "6", "om"]]


def test_a_note_for_the_writer_is_seen_by_its_author_and_the_writer_alone(
    signed_in: SignedIn, crew: Member, cast: Member, writer: Member, draft: Draft
) -> None:
    make_note(crew, draft, 6, body="For you only", audience=Audience.WRITER)
    for reader, sees in ((crew, True), (writer, True), (cast, False)):
        page = look(signed_in(reader), draft)
        assert bool(marks(page)) is sees
        assert ("1 note, 1 open" in page.get_text()) is sees
        assert ("no notes yet" in page.get_text()) is not sees
        assert ("For you only" in cards(signed_in(reader), draft, "1").get_text()) is sees


def test_a_withdrawn_note_is_not_shown(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    note = make_note(crew, draft, 6)
    withdraw_note(crew, note)
    assert not marks(look(signed_in(crew), draft))
    assert not cards(signed_in(crew), draft, "1").select("[data-note]")


def test_a_note_is_shown_once_however_many_drafts_it_was_carried_to(
    signed_in: SignedIn, crew: Member, writer: Member, draft: Draft
) -> None:
    make_note(crew, draft, 6)
    drafts = [draft, second_draft(writer), make_draft(writer, SCRIPT + "\nMore.\n", 3)]
    carry_notes(drafts[2])
    for each in drafts:
        assert len(marks(look(signed_in(crew), each))) == 1
        assert len(cards(signed_in(crew), each, "1", "gone").select("[data-note]")) == 1


def test_a_later_draft_s_note_is_not_on_the_earlier_draft(
    signed_in: SignedIn, crew: Member, writer: Member, draft: Draft
) -> None:
    make_note(crew, second_draft(writer), 6)
    page = look(signed_in(crew), draft)
    assert not marks(page)
    assert "This is an earlier draft." in page.get_text()


def test_the_current_script_is_the_latest_draft(
    signed_in: SignedIn, crew: Member, writer: Member, draft: Draft
) -> None:
    latest = second_draft(writer)
    response = signed_in(crew).get(reverse("script-current", args=[crew.production.public_id]))
    assert response.headers["Location"] == address(latest)


def test_other_drafts_are_a_link_away(signed_in: SignedIn, crew: Member, writer: Member, draft: Draft) -> None:
    latest = second_draft(writer)
    links = [link["href"] for link in look(signed_in(crew), draft).select(".other-drafts a")]
    assert address(latest) in links


def test_without_a_draft_the_writer_is_led_to_put_one_up(
    signed_in: SignedIn, crew: Member, writer: Member, production: Production
) -> None:
    current = reverse("script-current", args=[production.public_id])
    upload = reverse("draft-upload", args=[production.public_id])
    assert upload in signed_in(writer).get(current).content.decode()
    told = signed_in(crew).get(current).content.decode()
    assert "No draft yet" in told
    assert upload not in told


def test_it_is_closed_to_strangers_and_to_members_removed(
    signed_in: SignedIn, client: Client, crew: Member, draft: Draft
) -> None:
    stranger = make_member(make_production("Another"))
    assert signed_in(stranger).get(address(draft)).status_code == 404
    assert client.get(address(draft)).status_code == 302
    session = signed_in(crew)
    crew.removed_at = draft.created_at
    crew.save()
    assert session.get(address(draft)).status_code == 404


def test_a_draft_of_another_production_is_not_found_under_this_one(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    other = make_member(make_production("Another"), Role.WRITER)
    make_draft(other, number=5)
    missing = reverse("script", args=[crew.production.public_id, 5])
    assert signed_in(crew).get(missing).status_code == 404


def test_it_only_answers_get(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    assert signed_in(crew).post(address(draft)).status_code == 405


def test_fifty_notes_cost_no_more_queries_than_five(
    signed_in: SignedIn, crew: Member, cast: Member, writer: Member, draft: Draft
) -> None:
    latest = second_draft(writer)
    client = signed_in(writer)

    def queries_with(more: int) -> list[int]:
        lines = [6 + ordinal % 4 for ordinal in range(more)]
        for author, on in ((cast, lines[::2]), (crew, lines[1::2])):
            make_decisions(writer, make_notes(author, draft, on, wording="Other words."), Outcome.PARKED)
        latest.placements.all().delete()
        carry_notes(latest)
        counts = []
        for see in (
            partial(look, client, latest),
            partial(cards, client, latest, "1", "gone"),
            partial(look_at_page, client, latest, "1"),
        ):
            with CaptureQueriesContext(connection) as queries:
                see()
            counts.append(len(queries))
        return counts

    look(client, latest)
    assert queries_with(5) == queries_with(45)


def test_the_pages_cross_a_slow_line_compressed(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    plain = signed_in(crew).get(address(draft))
    packed = signed_in(crew).get(address(draft), headers={"accept-encoding": "gzip"})

    assert "Content-Encoding" not in plain.headers
    assert packed.headers["Content-Encoding"] == "gzip"
    assert len(packed.content) < len(plain.content) / 2
    assert "NELL mends a net by one lamp." in gzip.decompress(packed.content).decode()


def test_what_a_browser_has_is_not_sent_again_until_something_changed(
    signed_in: SignedIn, crew: Member, draft: Draft
) -> None:
    client = signed_in(crew)
    first = client.get(address(draft))
    assert first.headers["Cache-Control"] == "private, no-cache"
    again = client.get(address(draft), headers={"if-none-match": first.headers["ETag"]})
    assert (again.status_code, again.content) == (304, b"")
    make_note(crew, draft, 6)
    changed = client.get(address(draft), headers={"if-none-match": first.headers["ETag"]})
    assert changed.status_code == 200
    assert changed.headers["ETag"] != first.headers["ETag"]


def test_nor_is_it_with_a_note_s_card_beside_its_lines(signed_in: SignedIn, writer: Member, draft: Draft) -> None:
    at = f"{address(draft)}?note={make_note(writer, draft, 6).public_id}"
    client = signed_in(writer)
    first = client.get(at)
    assert first.context["leaves"].count("<article") == 1
    assert client.get(at, headers={"if-none-match": first.headers["ETag"]}).status_code == 304


def test_two_people_are_never_told_that_they_have_each_other_s_page(
    signed_in: SignedIn, crew: Member, cast: Member, draft: Draft
) -> None:
    etag = signed_in(crew).get(address(draft)).headers["ETag"]
    assert signed_in(cast).get(address(draft), headers={"if-none-match": etag}).status_code == 200


def test_no_word_of_the_address_stands_in_the_page(signed_in: SignedIn, crew: Member, draft: Draft) -> None:
    """As the compressed page holds a token: see review/script/unchanged.py."""
    note = make_note(crew, draft, 6)
    page = signed_in(crew).get(address(draft, f"?note={note.public_id}&notes=guess1&x=guess2"))
    assert b"guess" not in page.content
