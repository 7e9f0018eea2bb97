"""What letters tell, of each occasion, by the acts themselves: in readers' own words, and nothing kept from them."""

from __future__ import annotations

import re
import uuid
from typing import TYPE_CHECKING

import pytest
from django.utils import timezone

from review.access import Role
from review.decisions.acts import decide
from review.decisions.undoing import undo
from review.drafts.acts import withdraw_draft
from review.mail import acts as mail
from review.mail.models import Letter, PieceOfNews
from review.notes.acts import leave_note, reply, withdraw_reply
from review.notes.models import Audience
from review.people.acts import find_invitation, invite, remove_member, withdraw_invitation
from review.people.models import Department
from review.publishing.acts import publish_draft
from review.readers.models import Reader
from review.readings.acts import Asked, add_readers, close_reading, open_reading, remind, reopen_reading, take_off
from review.readings.reader_acts import finish_reading, mark_scene
from screenplay import Span
from screenplay.intake import read_text
from tests.factories import SCRIPT, make_member, make_note, make_reading
from tests.review.letters.told_by_mail import told

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member
    from tests.mail_server import MailServer

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("post")]

LATER = SCRIPT.replace("Mist.", "Fog.")


def leave(author: Member, draft: Draft, body: str = "Whose lamp is it?", audience: str = "everyone") -> Note:
    return leave_note(author, draft, Span(6, 0, 6, 4), "idea", body, audience=audience, form_id=uuid.uuid4())


def test_a_reading_is_told_to_those_it_was_opened_for(
    writer: Member, crew: Member, cast: Member, draft: Draft, post: MailServer
) -> None:
    reading = open_reading(
        writer, draft, [crew], Asked(timezone.localdate(), "Where *does* it drag?\n\n- the **lamp**"), uuid.uuid4()
    )
    (letter,) = told(post)
    assert letter.startswith("Slack Water: Draft 1 to read\n")
    assert "Ada Wren asks you to read Draft 1" in letter
    assert "> Where does it drag?\n> – the lamp\n" in letter  # as one would type it plainly
    assert "You read on your own" in letter
    assert f"https://script.example.org/p/{writer.production.public_id}/readings/{reading.public_id}/" in letter
    add_readers(writer, reading, [crew, cast])
    assert len(told(post, cast)) == 1
    assert told(post) == []


def test_whoever_is_brought_back_is_asked_again_once(
    writer: Member, crew: Member, cast: Member, draft: Draft, post: MailServer
) -> None:
    reading = open_reading(writer, draft, [crew, cast], Asked(timezone.localdate(), ""), uuid.uuid4())
    told(post)
    for _ in range(2):
        take_off(writer, Reader.objects.get(reading=reading, member=crew))
        add_readers(writer, reading, [crew])
    (letter,) = told(post)
    assert f"Hello {crew.name}" in letter
    assert letter.count("asks you to read Draft 1") == 1


def test_a_reading_opened_again_asks_those_it_waits_for(
    writer: Member, crew: Member, cast: Member, draft: Draft, post: MailServer
) -> None:
    reading = make_reading(writer, draft, crew, cast)
    finish_reading(cast, reading)
    mark_scene(crew, reading, 1, "lost")
    close_reading(writer, reading)
    told(post)
    reopen_reading(writer, reading, timezone.localdate())
    (letter,) = told(post)
    assert f"Hello {crew.name}" in letter
    assert "You have begun, and not finished yet." in letter


def test_a_reminder_comes_once_a_day_and_not_to_whoever_has_finished(
    writer: Member, crew: Member, cast: Member, draft: Draft, post: MailServer
) -> None:
    reading = make_reading(writer, draft, crew, cast)
    finish_reading(cast, reading)
    for _ in range(2):
        remind(writer, reading)
    (letter,) = told(post)
    assert "A reminder" in letter
    assert "You have not begun yet." in letter
    remind(writer, reading)
    assert told(post) == []


def test_whoever_finished_before_the_letter_left_is_not_reminded(
    writer: Member, crew: Member, draft: Draft, post: MailServer
) -> None:
    reading = make_reading(writer, draft, crew)
    remind(writer, reading)
    finish_reading(crew, reading)
    assert told(post) == []
    assert Letter.objects.get().let_go_at is not None


def test_a_closing_tells_what_became_of_ones_notes_once(
    writer: Member, crew: Member, cast: Member, draft: Draft, post: MailServer
) -> None:
    reading = make_reading(writer, draft, crew, cast)
    declined, _waits = leave(crew, draft), leave(crew, draft, "And the net?")
    decide(writer, declined, "declined", "It is *hers*.", 0, uuid.uuid4())
    told(post)
    close_reading(writer, reading)
    (mine,) = told(post, crew)
    assert "> Whose lamp is it?\nDeclined: It is hers." in mine
    assert "One of your notes is not decided yet." in mine
    assert "And the net?" not in mine
    reopen_reading(writer, reading, timezone.localdate())
    close_reading(writer, reading)
    assert told(post) == []


def test_a_draft_tells_what_became_of_ones_notes_once(
    writer: Member, crew: Member, cast: Member, draft: Draft, post: MailServer
) -> None:
    accepted, parked = leave(crew, draft), leave(crew, draft, "Cut the net.")
    decision = decide(writer, accepted, "accepted", "Yes.", 0, uuid.uuid4())
    decide(writer, parked, "parked", "", 0, uuid.uuid4())
    told(post)
    for _ in range(2):
        publish_draft(writer, read_text(LATER), answers={decision.pk: True})
    both = told(post)
    (mine,), (other,) = ([letter for letter in both if f"Hello {who.name}" in letter] for who in (crew, cast))
    assert len(both) == 2
    assert "Ada Wren put up Draft 2." in mine
    assert "> Whose lamp is it?\nWritten in, draft 2: Yes." in mine
    assert "> Cut the net.\nParked." in mine
    assert "Whose lamp" not in other
    assert "mends a net" not in mine  # no line of the script


def test_a_draft_that_was_withdrawn_before_the_letter_left_is_not_told(
    writer: Member, crew: Member, draft: Draft, post: MailServer
) -> None:
    second, _ = publish_draft(writer, read_text(LATER))
    withdraw_draft(writer, second, "The wrong file.")
    assert told(post) == []


def test_a_reply_is_told_to_whom_it_answers(
    writer: Member, crew: Member, cast: Member, draft: Draft, post: MailServer
) -> None:
    note = leave(crew, draft)
    reply(cast, note, "The *ferry’s*.", uuid.uuid4())
    (mine,) = told(post)
    assert "Cleo Marsh replied to your note:\n\n> The ferry’s." in mine
    assert "> Whose lamp is it?" in mine
    reply(writer, note, "Nell’s.", uuid.uuid4())
    assert len(told(post, crew, cast)) == 2
    taken_back = reply(crew, note, "Mine.", uuid.uuid4())
    withdraw_reply(crew, taken_back)
    assert told(post) == []


def test_a_decision_is_told_as_it_stands(writer: Member, crew: Member, draft: Draft, post: MailServer) -> None:
    note = leave(crew, draft)
    decide(writer, note, "declined", "Never.", 0, uuid.uuid4())
    decide(writer, note, "parked", "Perhaps later.", 1, uuid.uuid4())
    (letter,) = told(post)
    assert letter.startswith("Slack Water: Your note is parked\n")
    assert "> Perhaps later." in letter
    assert "Never." not in letter
    decide(writer, note, "reopened", "", 2, uuid.uuid4())
    (letter,) = told(post)
    assert "Your note was opened again, by Ada Wren." in letter
    decide(writer, leave(writer, draft), "accepted", "", 0, uuid.uuid4())
    assert told(post) == []
    decide(writer, make_note(crew, draft, said_by="Gwen Tarn"), "accepted", "", 0, uuid.uuid4())
    assert told(post) == []  # it is not theirs who brought it in


def test_of_a_decision_that_was_taken_back_only_whoever_heard_of_it_is_told(
    writer: Member, crew: Member, draft: Draft, post: MailServer
) -> None:
    note = leave(crew, draft)
    undo(writer, decide(writer, note, "parked", "", 0, uuid.uuid4()), uuid.uuid4())
    assert told(post) == []
    heard_of = decide(writer, note, "parked", "", 2, uuid.uuid4())
    assert "is parked" in told(post)[0]
    undo(writer, heard_of, uuid.uuid4())
    assert "was opened again" in told(post)[0]


def test_several_things_come_in_one_letter(writer: Member, crew: Member, draft: Draft, post: MailServer) -> None:
    for body in ("One.", "Two."):
        decide(writer, leave(crew, draft, body), "accepted", "", 0, uuid.uuid4())
    (letter,) = told(post)
    assert letter.startswith("Slack Water: 2 things for you\n")
    assert "1. Your note is accepted" in letter
    assert "> Two." in letter


def test_whoever_reads_alone_is_told_nothing_of_what_others_say(
    writer: Member, crew: Member, cast: Member, draft: Draft, post: MailServer
) -> None:
    """Whether it was said before they began, while they read, or waits in the queue when they begin."""
    mine, seen = leave(crew, draft), leave(cast, draft, "heronglass")
    reply(cast, mine, "quillstone", uuid.uuid4())  # and it waits to be sent
    reply(crew, seen, "Mine.", uuid.uuid4())
    reading = open_reading(writer, draft, [crew, cast], Asked(timezone.localdate(), ""), uuid.uuid4())
    reply(writer, seen, "marrowlight", uuid.uuid4())
    mark_scene(cast, reading, 1, "lost", "saltwhistle")
    reply(writer, mine, "A writer’s word.", uuid.uuid4())
    finish_reading(cast, reading)
    words = "\n".join(told(post, crew))
    assert "A writer’s word." in words
    assert not re.search("heronglass|quillstone|marrowlight|saltwhistle|Cleo", words)
    other = make_reading(writer, draft, crew)  # which is blind and open, when the first is closed
    close_reading(writer, reading)
    (closed,) = told(post, crew)
    assert "open to all" not in closed
    assert not re.search("heronglass|quillstone|marrowlight|saltwhistle|Cleo", closed)
    finish_reading(crew, other)
    reply(cast, mine, "lanternslide", uuid.uuid4())
    assert "lanternslide" in "".join(told(post, crew))


def test_a_note_for_the_writer_alone_goes_to_its_author_and_writers_alone(
    writer: Member, crew: Member, draft: Draft, post: MailServer
) -> None:
    second = make_member(writer.production, Role.WRITER, Department.WRITING, "Wil Harrow")
    note = leave(crew, draft, "The lamp frightens me.", Audience.WRITER)
    reply(second, note, "Me too.", uuid.uuid4())
    reply(crew, note, "Then cut it.", uuid.uuid4())
    second.role = Role.CREW  # before the letter left
    second.save()
    assert told(post, second) == []
    publish_draft(writer, read_text(LATER))
    letters = told(post)
    assert len(letters) == 2
    assert "frightens" not in "".join(letters)


def test_whoever_was_removed_is_told_nothing(writer: Member, crew: Member, draft: Draft, post: MailServer) -> None:
    decide(writer, make_note(crew, draft), "accepted", "", 0, uuid.uuid4())
    remove_member(writer, crew)
    assert told(post) == []


def test_an_invitation_goes_out_with_a_link_of_its_own(writer: Member, post: MailServer) -> None:
    """Neither the link that is shown nor the one that is mailed is kept, and either lets the one person in."""
    invitation, shown = invite(writer, "Ida", "crew", "art", uuid.uuid4(), address="ida@example.org")
    (letter,) = told(post)
    link = re.search(r"https://script\.example\.org/join/(\S+)/", letter)
    assert link
    assert find_invitation(link.group(1)) == find_invitation(shown or "") == invitation
    assert link.group(1) not in str(Letter.objects.values_list()) + str(PieceOfNews.objects.values_list())
    assert Letter.objects.get().address == ""


def test_an_invitation_that_was_withdrawn_meanwhile_does_not_go_out(writer: Member, post: MailServer) -> None:
    invitation, _ = invite(writer, "Ida", "crew", "art", uuid.uuid4(), address="ida@example.org")
    withdraw_invitation(writer, invitation)
    assert told(post) == []


def test_whoever_said_no_to_an_invitation_by_mail_is_written_to_no_more(writer: Member, post: MailServer) -> None:
    invite(writer, "Ida", "crew", "art", uuid.uuid4(), address="ida@example.org")
    told(post)
    mail.stop_mail(Letter.objects.get())
    assert mail.wants_no_mail("Ida@example.org")
    invite(writer, "Ida", "crew", "art", uuid.uuid4(), address="IDA@example.org")
    assert told(post) == []
