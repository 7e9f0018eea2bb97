"""A production's home."""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from review import log
from review.decisions.acts import decide, place_note, record_decision
from review.decisions.states import URGENCY
from review.notes.acts import leave_note, reply
from review.notes.models import Audience, Fate, Note, NoteKind, Reply
from review.people import acts
from review.people.models import Member
from review.publishing.acts import publish_draft
from review.readings.acts import Asked, open_reading
from review.rewriting.wording_models import WrittenIn
from screenplay import Span
from screenplay.intake import read_text
from tests.factories import SCRIPT, make_decisions, make_draft, make_next_draft, make_note, make_notes

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.drafts.models import Draft

    SignIn = Callable[[Member], Client]

Verb = log.Act.Verb

pytestmark = pytest.mark.django_db


def leave(author: Member, draft: Draft, audience: str = Audience.EVERYONE, kind: str = NoteKind.QUESTION) -> Note:
    """A note on line 6, unlike those that are there."""
    body = f"Why? {Note.objects.count()}"
    return leave_note(author, draft, Span(6, 0, 6, 4), kind, body, audience=audience, form_id=uuid.uuid4())


class Home:
    """What a member's home shows, by its parts."""

    def __init__(self, client: Client, member: Member) -> None:
        response = client.get(reverse("home", args=[member.production.public_id]))
        assert response.status_code == 200
        self.page = BeautifulSoup(response.text, "html.parser")

    def part(self, name: str) -> str:
        found = self.page.select_one(f"[aria-labelledby={name}]")
        return " ".join(found.text.split()) if found else ""

    @property
    def text(self) -> str:
        return " ".join(self.page.text.split())

    @property
    def links(self) -> list[str]:
        return [str(link["href"]) for link in self.page.select("main a")]


def test_who_plays_somebody_that_the_script_has_under_no_such_name_is_told_so_and_who_can_set_it_right(
    signed_in: SignIn, writer: Member, cast: Member, draft: Draft
) -> None:
    client = signed_in(cast)
    assert "Nobody speaks under" not in Home(client, cast).text, "for they play nobody"
    Member.objects.filter(pk=cast.pk).update(character="TOBIAS WICK")
    home = Home(client, cast)
    assert (
        "Nobody speaks under TOBIAS WICK in draft 1, so that no part is shown as yours: Ada Wren can say under People"
        " which of the script’s names you play."
    ) in home.text
    assert "Your part" not in home.text
    make_draft(writer, draft.text, number=2)
    whole = "in draft 2, so that no part is shown as yours and “What changed for you” is the sheet of the whole cast:"
    assert whole in Home(client, cast).text
    Member.objects.filter(pk=cast.pk).update(character="Tobias")
    home = Home(client, cast)
    assert "Nobody speaks under" not in home.text
    assert "Your part" in home.text
    make_draft(writer, draft.text.replace("TOBIAS (O.S.)", "NELL"), number=3)
    told = Home(client, cast).text
    assert "Nobody speaks under Tobias in draft 3, so that no part is shown as yours: Ada Wren" in told


def test_before_the_first_draft_the_writer_is_led_to_putting_it_up(signed_in: SignIn, writer: Member) -> None:
    home = Home(signed_in(writer), writer)
    assert "There is no draft yet" in home.text
    assert "a Fountain file, plain text or a PDF" in home.text
    assert home.links == [reverse("draft-upload", args=[writer.production.public_id])]


def test_before_the_first_draft_a_reader_is_told_that_it_will_be_here(signed_in: SignIn, crew: Member) -> None:
    home = Home(signed_in(crew), crew)
    assert "The writer has not put one up." in home.text
    assert home.links == []


def test_a_writer_with_a_draft_that_nobody_noted_is_led_to_inviting(
    signed_in: SignIn, writer: Member, draft: Draft
) -> None:
    assert "Nobody has left a note yet." in Home(signed_in(writer), writer).part("for-writer")


def test_a_writer_sees_what_is_to_decide_by_kind_safety_first(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    for kind in (NoteKind.PRAISE, NoteKind.QUESTION, NoteKind.QUESTION, NoteKind.SAFETY):
        make_note(crew, draft, kind=kind)
    decide(writer, make_note(crew, draft, kind=NoteKind.IDEA), "accepted", "", 0, uuid.uuid4())
    make_note(crew, draft, kind=NoteKind.PROBLEM, withdrawn_at=timezone.now())
    home = Home(signed_in(writer), writer)
    assert "4 notes to decide Safety 1 Question 2 Praise 1" in home.part("for-writer")
    assert any("kind=safety" in link and "state=undecided" in link for link in home.links)


def test_every_kind_has_its_place_in_the_order_of_what_is_urgent() -> None:
    assert sorted(URGENCY) == sorted(NoteKind)


def test_a_writer_sees_how_many_undecided_notes_stand_on_lines_that_are_gone(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    second = make_draft(writer, SCRIPT.replace("He didn't wait.", "Gone."), 2)
    for note in (make_note(crew, draft, 6), make_note(crew, draft, 9)):
        note.placements.create(draft=second, fate=Fate.GONE)
    decided = make_note(crew, draft, 9)
    decided.placements.create(draft=second, fate=Fate.GONE)
    decide(writer, decided, "accepted", "", 0, uuid.uuid4())
    assert "2 of them stand on lines that are gone in this draft" in Home(signed_in(writer), writer).part("for-writer")


def test_a_writer_with_everything_decided_is_led_to_the_next_draft(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    decide(writer, make_note(crew, draft), "accepted", "", 0, uuid.uuid4())
    home = Home(signed_in(writer), writer)
    assert "Every note has its decision." in home.part("for-writer")
    assert reverse("draft-upload", args=[writer.production.public_id]) in home.links


def test_a_writer_sees_how_many_have_not_come_yet(signed_in: SignIn, writer: Member, draft: Draft) -> None:
    for name in ("Ida", "Sunniva"):
        acts.invite(writer, name, "crew", "art", uuid.uuid4())
    withdrawn, _ = acts.invite(writer, "Odd", "crew", "art", uuid.uuid4())
    acts.withdraw_invitation(writer, withdrawn)
    assert "2 people have not used the invitation yet" in Home(signed_in(writer), writer).part("for-writer")


def test_a_reader_without_notes_is_told_how_to_begin(signed_in: SignIn, crew: Member, draft: Draft) -> None:
    home = Home(signed_in(crew), crew)
    assert "You have left none yet." in home.part("for-reader")
    assert home.part("for-writer") == ""
    assert home.links.count(reverse("script", args=[crew.production.public_id, 1])) == 1


def test_a_reader_sees_what_became_of_their_own_notes(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    mine, waiting, theirs = make_note(crew, draft, 6), make_note(crew, draft, 9), make_note(cast, draft, 9)
    decide(writer, mine, "parked", "After the *recce*.", 0, uuid.uuid4())
    decide(writer, mine, "accepted", "The slip *floods*.", 1, uuid.uuid4())
    decide(writer, theirs, "declined", "Not hers.", 0, uuid.uuid4())
    reply(cast, waiting, "Me too.", uuid.uuid4())
    reply(crew, waiting, "My own word.", uuid.uuid4())
    second = make_draft(writer, SCRIPT.replace("Tide", "Water"), 2)
    mine.placements.create(draft=second, fate=Fate.REWORDED, first_line=6, first_char=0, last_line=6, last_char=4)
    told = Home(signed_in(crew), crew).part("for-reader")
    assert "You left 2 notes; 1 waits for the writer. Others wrote 1 reply to them." in told
    assert "The lines of 1 changed in this draft." in told
    assert "Accepted NELL mends a net by one lamp. Now reads NELL The slip floods." in told
    assert "Parked" not in told
    assert "Not hers." not in told


def test_a_note_that_was_decided_several_times_is_one_note_lately(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    first, second = leave(crew, draft), leave(crew, draft)
    for ordinal, outcome in enumerate(("accepted", "parked", "accepted")):
        decide(writer, first, outcome, "", ordinal, uuid.uuid4())
    home = Home(signed_in(crew), crew)
    assert "Ada Wren decided a note" in home.part("lately")
    assert reverse("note", args=[crew.production.public_id, first.public_id]) in home.links
    decide(writer, second, "accepted", "", 0, uuid.uuid4())
    assert "Ada Wren decided 2 notes" in Home(signed_in(crew), crew).part("lately")


def test_what_happened_lately_is_told_in_words_the_latest_first(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    notes = [leave(crew, draft) for _ in range(3)]
    reply(writer, notes[0], "Because.", uuid.uuid4())
    decide(writer, notes[0], "accepted", "", 0, uuid.uuid4())
    lately = Home(signed_in(crew), crew).part("lately")
    assert lately.index("Ada Wren decided a note") < lately.index("Ada Wren replied to a note")
    assert lately.index("Ada Wren replied to a note") < lately.index("Bo Finch left 3 notes")


def test_what_is_told_of_the_past_stands_where_it_happened(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    leave(crew, draft)
    with log.happened_at(timezone.now() - timedelta(days=3)):
        leave(writer, draft)
    lately = Home(signed_in(crew), crew).part("lately")
    assert lately.index("Bo Finch left a note") < lately.index("Ada Wren left a note")


def test_a_note_for_the_writer_alone_is_betrayed_to_nobody_by_what_happened_lately(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    """Nor are the replies to it, the decision on it, and its being placed."""
    secret = leave(crew, draft, Audience.WRITER)
    reply(writer, secret, "Between us.", uuid.uuid4())
    decide(writer, secret, "accepted", "", 0, uuid.uuid4())
    place_note(writer, secret, make_draft(writer, SCRIPT.replace("Tide", "Water"), 2), Span(6, 0, 6, 4))
    assert Home(signed_in(cast), cast).part("lately") == "Lately Nothing so far."
    for member in (crew, writer):
        lately = Home(signed_in(member), member).part("lately")
        for told in ("left a note", "replied to a note", "decided a note", "set a note’s place"):
            assert told in lately


def test_a_crowd_of_secret_notes_leaves_room_for_what_may_be_told(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    leave(writer, draft)
    secret = [make_note(crew, draft, audience=Audience.WRITER).public_id for _ in range(130)]
    log.record_each(crew.person, Verb.LEFT_NOTE, draft.production, secret, draft=1)
    assert "Ada Wren left a note" in Home(signed_in(cast), cast).part("lately")


def test_it_asks_the_database_no_more_often_for_fifty_notes_than_for_five(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    clients = {member.name: (signed_in(member), member) for member in (writer, crew, cast)}

    def queries() -> dict[str, int]:
        counts = {}
        for who, (client, member) in clients.items():
            with CaptureQueriesContext(connection) as captured:
                Home(client, member)
            counts[who] = len(captured)
        return counts

    def add(count: int) -> None:
        """With what the log keeps of each."""
        notes = make_notes(crew, draft, [6] * count, kind=NoteKind.QUESTION)
        secret = make_notes(crew, draft, [6] * count, audience=Audience.WRITER)
        replies = Reply.objects.bulk_create(Reply(note=note, author=cast, body="Yes.") for note in notes)
        for note, said, decision, kept in zip(notes, replies, make_decisions(writer, notes), secret, strict=True):
            log.record(crew.person, Verb.LEFT_NOTE, draft.production, note.public_id, draft=1)
            log.record(cast.person, Verb.REPLIED, draft.production, said.public_id, note=note.public_id)
            record_decision(writer, decision)
            log.record(crew.person, Verb.LEFT_NOTE, draft.production, kept.public_id, draft=1)

    add(5)
    few = queries()
    add(45)
    assert queries() == few
    assert {who: count for who, count in few.items() if count > 18} == {}


def test_a_reader_sees_in_one_look_what_became_of_each_of_their_notes(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    answered, accepted, declined, reopened, _ = (leave(crew, draft) for _ in range(5))
    for note, outcome in [(answered, "accepted"), (accepted, "accepted"), (declined, "declined"), (reopened, "parked")]:
        decide(writer, note, outcome, "So be it.", 0, uuid.uuid4())
    decide(writer, reopened, "reopened", "", 1, uuid.uuid4())
    WrittenIn.objects.create(decision=answered.decisions.get(), draft=make_draft(writer, "x", 2), said_by=writer)
    page = BeautifulSoup(signed_in(crew).get(reverse("home", args=[crew.production.public_id])).text, "html.parser")
    ends = page.select('[aria-label="What became of them"] a')
    assert [" ".join(end.text.split()) for end in ends] == ["Written in 1", "Answered 1", "Declined 1", "Undecided 2"]
    assert "2 wait for the writer" in " ".join(page.text.split())
    tags = [tag.text for tag in page.select(".home-answer .tag")]
    assert tags == ["Written in, draft 2", "Declined", "Answered"]
    ways = [str(end["href"]).partition("?")[2] for end in ends]
    assert ways == [f"author=me&state={state}" for state in ("written", "answered", "declined", "undecided")]


def test_a_reader_sees_what_the_lines_of_a_decided_note_read_now(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    for line in (4, 6, 9, 17):
        decide(writer, make_note(crew, draft, line), "accepted", "", 0, uuid.uuid4())
    text = SCRIPT.replace("Tide turns at four.", "The tide turns at five.").replace("Mist. The skiff is gone.\n", "")
    make_next_draft(writer, text.replace("BOATHOUSE - NIGHT", "BOATHOUSE - NIGHT #1#"))
    client = signed_in(crew)
    page = BeautifulSoup(client.get(reverse("home", args=[crew.production.public_id])).text, "html.parser")
    assert [" ".join(row.text.split()) for row in page.select(".home-answer")] == [
        "Accepted Mist. The skiff is gone. These lines are gone in draft 2.",
        "Accepted Tide turns at four. Now reads The tide turns at five.",
        "Accepted NELL mends a net by one lamp.",
        "Accepted INT. BOATHOUSE - NIGHT",
    ]


def test_a_reader_is_told_of_lines_changed_in_this_draft_and_not_of_those_that_changed_before(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    make_note(crew, draft, 9)
    changed = SCRIPT.replace("Tide turns at four.", "The tide turns at five.")
    make_next_draft(writer, changed)
    assert "The lines of 1 changed in this draft." in Home(signed_in(crew), crew).part("for-reader")
    make_next_draft(writer, changed + "\nAnd out.\n")
    assert "changed in this draft" not in Home(signed_in(crew), crew).part("for-reader")


def test_a_note_opened_again_waits_for_the_writer_and_is_told_as_such(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    note = leave(crew, draft)
    decide(writer, note, "accepted", "", 0, uuid.uuid4())
    decide(writer, note, "reopened", "", 1, uuid.uuid4())
    home = Home(signed_in(writer), writer)
    assert "1 note to decide" in home.part("for-writer")
    assert "accepted note" not in home.part("for-writer")
    assert "Ada Wren opened a note again" in home.part("lately")


def test_the_changes_count_a_reader_s_notes_among_as_many_as_home_does(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    for line in (6, 9, 17):
        make_note(crew, draft, line)
    make_next_draft(writer, SCRIPT.replace("Tide turns at four.", "The tide turns at five."))
    client = signed_in(crew)
    assert "You left 3 notes" in Home(client, crew).part("for-reader")
    changes = client.get(reverse("changes-between", args=[crew.production.public_id, 1, 2])).text
    headings = [" ".join(found.text.split()) for found in BeautifulSoup(changes, "html.parser").select("main h2")]
    assert "Your notes here 1 of your 3" in headings


def test_a_reader_is_led_to_what_changed_for_them_and_a_writer_to_all_of_it(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft
) -> None:
    make_draft(writer, SCRIPT.replace("Mist.", "Fog."), number=2)
    at_home = reverse("home", args=[writer.production.public_id])
    for member, name in ((crew, "change-sheet-mine"), (writer, "changes")):
        page = signed_in(member).get(at_home).content.decode()
        assert f'class="button" href="{reverse(name, args=[writer.production.public_id])}"' in page


def test_what_happened_lately_leads_to_where_it_happened(
    signed_in: SignIn, writer: Member, crew: Member, cast: Member, draft: Draft
) -> None:
    note = leave(crew, draft)
    answer = reply(cast, note, "I too.", uuid.uuid4())
    decide(writer, note, "parked", "", 0, uuid.uuid4())
    second, _ = publish_draft(writer, read_text(SCRIPT.replace("four", "five")))
    leave(crew, draft)
    last = leave(crew, draft)
    reading = open_reading(writer, second, [crew], Asked(timezone.localdate(), ""), uuid.uuid4(), is_blind=False)
    production = writer.production.public_id
    at = reverse("note", args=[production, note.public_id])
    expected = {
        "opened a reading": reverse("reading", args=[production, reading.public_id]),
        "left 2 notes": f"{reverse('notes', args=[production])}?state=all&author=all&sort=newest"
        f"&at={last.public_id}#note-{last.public_id}",
        "put up draft 2": reverse("script", args=[production, 2]),
        "decided a note": at,
        "replied to a note": f"{at}#reply-{answer.public_id}",
        "left a note": at,
    }
    client = signed_in(crew)
    links = {
        link.text: str(link["href"])
        for link in BeautifulSoup(client.get(reverse("home", args=[production])).text, "html.parser").select(
            ".home-happening a"
        )
    }
    assert links == expected
    assert all(client.get(address).status_code == 200 for address in links.values())
