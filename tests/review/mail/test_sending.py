"""Mail goes out by a real mail server: once, whatever refuses it, breaks off or dies; or it is said that it did not.

Sources: RFC 5321 (SMTP), RFC 5322 (the letter), RFC 8058 and RFC 2369 (the way out), RFC 3834 (automatic mail).
"""

from __future__ import annotations

import re
import uuid
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from threading import Barrier
from typing import TYPE_CHECKING, Any

import pytest
from django.db import connection
from django.utils import timezone

from review.mail.acts import choose_pace, send_again, tell_by_mail
from review.mail.delivery import line_to_mail_server
from review.mail.envelopes import LetterText, as_message
from review.mail.gathering import SETTLES, STALE, day_ended, gather
from review.mail.models import KEPT_FOR, Letter, Occasion, Pace, PieceOfNews
from review.mail.sending import HANDED_OVER, IN_HAND, NOT_KNOWN, PAUSES, send_due
from tests.factories import make_member
from tests.mail_server import body_of

if TYPE_CHECKING:
    from datetime import datetime

    from review.people.models import Member
    from tests.mail_server import MailServer

pytestmark = pytest.mark.django_db


def says(letter: Letter) -> LetterText | None:
    return LetterText("Draft 2 is up", "It is — at last — there.\n")


def letter_to(member: Member, **fields: Any) -> Letter:
    return Letter.objects.create(production=member.production, member=member, **fields)


def now_due() -> None:
    Letter.objects.update(due_at=timezone.now())


def state_of(letter: Letter) -> str:
    letter.refresh_from_db()
    return "sent" if letter.sent_at else "given up" if letter.given_up_at else "waiting"


def test_a_letter_is_whole(crew: Member, post: MailServer) -> None:
    letter = letter_to(crew)
    assert send_due(says)
    assert post.went_to == [crew.person.email]
    sent = post.letter()
    assert sent["Subject"] == "Draft 2 is up"
    assert sent["To"] == f"Bo Finch <{crew.person.email}>"
    assert sent["From"] == "Fairhand <fairhand@example.org>"
    assert sent["Message-ID"] == f"<{letter.public_id}@example.org>"
    assert abs(sent["Date"].datetime - timezone.now()) < timedelta(minutes=1)
    assert sent["Auto-Submitted"] == "auto-generated"
    assert sent.get_content_type() == "text/plain"
    assert body_of(sent) == "It is — at last — there.\n"
    assert re.fullmatch(r"<https://script\.example\.org/mail/stop/[^<>\s]+>", sent["List-Unsubscribe"])
    assert sent["List-Unsubscribe-Post"] == "List-Unsubscribe=One-Click"
    assert state_of(letter) == "sent"
    assert send_due(says)
    assert len(post.taken) == 1


def test_a_way_out_by_plain_http_is_not_said_to_be_one_click(crew: Member, post: MailServer, settings: Any) -> None:
    settings.SITE_ADDRESS = "http://192.0.2.7:8000"  # RFC 8058, 3.1: it has to be an HTTPS address
    sent = as_message(letter_to(crew), LetterText("s", "b"), timezone.now())
    assert sent["List-Unsubscribe"].startswith("<http://192.0.2.7:8000/")
    assert sent["List-Unsubscribe-Post"] is None


def test_the_way_out_stands_on_one_line_as_it_is_however_long(crew: Member, post: MailServer, settings: Any) -> None:
    """RFC 2369, 2: within angle brackets; RFC 2047, 5: and never as an encoded word."""
    settings.SITE_ADDRESS = "https://the-scripts-of-a-small-company.somewhere-far-away.example.org"
    text = LetterText("Für alle, die bei „Slack Water“ dabei sind: es gibt einen neuen Entwurf, und er ist lang", "b")
    lines = as_message(letter_to(crew), text, timezone.now()).as_bytes().split(b"\r\n")
    (way_out,) = [line for line in lines if line.startswith(b"List-Unsubscribe:")]
    assert re.fullmatch(rb"List-Unsubscribe: <https://the-scripts[\w.-]+/mail/stop/[\w.-]+/>", way_out)
    assert all(len(line) <= 78 for line in lines if line != way_out)  # RFC 5322, 2.1.1


def test_a_refused_recipient_is_given_up_and_the_others_get_theirs(
    crew: Member, cast: Member, post: MailServer, caplog: pytest.LogCaptureFixture
) -> None:
    post.refuses[crew.person.email] = f"550 5.1.1 <{crew.person.email}>: nobody of this name"
    refused, taken = letter_to(crew), letter_to(cast)
    assert send_due(says)
    assert (state_of(refused), state_of(taken)) == ("given up", "sent")
    assert "nobody of this name" in refused.why
    assert "@" not in refused.why
    assert "@" not in caplog.text


def test_what_is_not_taken_now_is_taken_later(crew: Member, post: MailServer) -> None:
    """By the same Message-ID, and after pauses that grow."""
    post.answers = ["451 4.3.0 Try again later", "452 4.3.1 Full"]
    letter, pauses = letter_to(crew), []
    for _ in range(2):
        before = timezone.now()
        send_due(says)
        assert state_of(letter) == "waiting"
        pauses.append(letter.due_at - before)
        send_due(says)
        now_due()
    assert post.taken == []
    assert pauses[0] < 2 * PAUSES[0] < pauses[1]
    send_due(says)
    assert post.letter()["Message-ID"].startswith(f"<{letter.public_id}@")
    assert state_of(letter) == "sent"


def test_pauses_grow_to_some_days_and_then_it_is_given_up(crew: Member, post: MailServer) -> None:
    """RFC 5321, 4.5.4.1: it should be tried for four or five days."""
    assert list(PAUSES) == sorted(PAUSES)
    assert timedelta(days=3.5) < sum(PAUSES, timedelta()) < timedelta(days=5)
    letter = letter_to(crew, tries=len(PAUSES))
    post.answers = ["451 Later"]
    send_due(says)
    assert state_of(letter) == "given up"


def test_while_the_mail_server_is_away_everything_waits(
    crew: Member, cast: Member, post: MailServer, settings: Any, caplog: pytest.LogCaptureFixture
) -> None:
    settings.EMAIL_PORT, there = 1, settings.EMAIL_PORT  # nothing listens there
    settings.EMAIL_HOST_PASSWORD = "quillstone"
    letters = [letter_to(crew), letter_to(cast)]
    assert not send_due(says)
    assert [state_of(letter) for letter in letters] == ["waiting", "waiting"]
    assert "could not be reached" in caplog.text
    assert "@" not in caplog.text
    assert "quillstone" not in caplog.text
    settings.EMAIL_PORT, settings.EMAIL_HOST_PASSWORD = there, ""
    now_due()
    assert send_due(says)
    assert sorted(post.went_to) == sorted([crew.person.email, cast.person.email])


def test_a_line_that_breaks_before_the_text_left_is_tried_again(crew: Member, post: MailServer) -> None:
    post.breaks_off_at = "RCPT"
    letter = letter_to(crew)
    assert not send_due(says)
    assert state_of(letter) == "waiting"
    post.breaks_off_at = ""
    now_due()
    send_due(says)
    assert len(post.taken) == 1
    assert state_of(letter) == "sent"


def test_a_line_that_breaks_after_the_text_left_is_not_tried_again_by_itself(
    writer: Member, crew: Member, post: MailServer
) -> None:
    """RFC 1047 tells how such a letter would arrive twice."""
    post.breaks_off_at = "DATA"
    letter = letter_to(crew)
    assert not send_due(says)
    assert (state_of(letter), letter.why) == ("given up", NOT_KNOWN)
    post.breaks_off_at = ""
    send_due(says)
    assert len(post.taken) == 1
    assert send_again(writer, letter)
    assert not send_again(writer, letter)
    send_due(says)
    assert len({sent["Message-ID"] for sent in post.taken}) == 1
    assert len(post.taken) == 2


@pytest.mark.parametrize(
    ("handed_over", "lasts", "becomes"), [(False, IN_HAND, "sent"), (True, HANDED_OVER, "given up")]
)
def test_a_sender_that_dies_leaves_no_letter_that_is_sent_twice(
    crew: Member, post: MailServer, handed_over: bool, lasts: timedelta, becomes: str
) -> None:
    now = timezone.now()
    died_at = now if handed_over else None
    letter = letter_to(crew, claim=uuid.uuid4(), claimed_until=now + lasts, handed_over_at=died_at)
    send_due(says)
    assert (state_of(letter), post.taken) == ("waiting", [])  # it may be at work still
    Letter.objects.update(claimed_until=now - timedelta(seconds=1))
    send_due(says)
    assert state_of(letter) == becomes
    assert len(post.taken) == (0 if handed_over else 1)


def test_a_sender_whose_letter_another_took_meanwhile_sends_nothing(crew: Member, post: MailServer) -> None:
    letter = letter_to(crew)

    def slowly(asked: Letter) -> LetterText | None:
        Letter.objects.update(claim=uuid.uuid4())  # as another does after this one's time is up
        return says(asked)

    send_due(slowly)
    assert (state_of(letter), post.taken) == ("waiting", [])


def test_one_letter_that_cannot_be_written_holds_up_no_other(
    crew: Member, cast: Member, post: MailServer, caplog: pytest.LogCaptureFixture
) -> None:
    broken, whole = letter_to(crew), letter_to(cast)

    def writes(letter: Letter) -> LetterText | None:
        if letter.member == crew:
            raise ArithmeticError
        return says(letter)

    assert send_due(writes)
    assert (state_of(broken), state_of(whole)) == ("waiting", "sent")
    assert "could not be written" in caplog.text


@pytest.mark.parametrize("end", ["\r\n", "\n", "\r", "\x0b", "\x0c", "\x85", "\u2028"])
def test_no_header_begins_within_a_name_or_a_title(crew: Member, post: MailServer, end: str) -> None:
    crew.person.name = f"Bo{end}Bcc: everybody@example.org"
    crew.person.save()
    letter = letter_to(crew)
    send_due(lambda _: LetterText(f"Slack{end}Bcc: all@example.org{end}\0{end}Water", "Words."))
    assert post.went_to == [crew.person.email]
    assert post.letter()["Bcc"] is None
    assert len(post.letter()["Subject"].splitlines()) == 1
    assert body_of(post.letter()).strip() == "Words."
    assert state_of(letter) == "sent"


def test_an_address_of_a_domain_beyond_ascii_travels_as_dns_has_it(crew: Member, post: MailServer) -> None:
    crew.person.email = "bo@bücher.example"  # RFC 3492, 7.1, and RFC 5891 have this example
    crew.person.save()
    letter_to(crew)
    send_due(says)
    assert post.went_to == ["bo@xn--bcher-kva.example"]


# When news becomes a letter.


def news_for(member: Member, *moments: datetime) -> None:
    for ordinal, moment in enumerate(moments):
        PieceOfNews.objects.create(
            production=member.production, member=member, occasion=Occasion.REPLIED, about=f"reply-{ordinal}", at=moment
        )


def letters_of_news(now: datetime) -> list[int]:
    gather(now)
    return [letter.news.count() for letter in Letter.objects.order_by("pk")]


def test_what_happens_in_a_row_comes_in_one_letter(crew: Member, cast: Member) -> None:
    now = timezone.now()
    news_for(crew, now - 3 * SETTLES, now - 2 * SETTLES, now - SETTLES)
    news_for(cast, now - SETTLES, now)  # it goes on
    assert letters_of_news(now) == [3]
    assert letters_of_news(now + SETTLES) == [3, 2]


def test_what_goes_on_and_on_is_told_all_the_same(crew: Member) -> None:
    now = timezone.now()
    news_for(crew, *(now - timedelta(seconds=30 * ago) for ago in range(21)))
    assert letters_of_news(now) == [21]


def test_a_day_comes_in_one_letter(crew: Member) -> None:
    choose_pace(crew, Pace.DAILY)
    hour = day_ended(timezone.now())
    news_for(crew, hour - timedelta(hours=20), hour - timedelta(hours=2))
    assert letters_of_news(hour - timedelta(seconds=1)) == []
    news_for(make_member(crew.production), hour - timedelta(hours=2))
    assert sorted(letters_of_news(hour)) == [1, 2]
    PieceOfNews.objects.create(
        production=crew.production, member=crew, occasion=Occasion.DECIDED, about="late", at=hour - timedelta(seconds=1)
    )  # in an act that had not ended yet
    assert sorted(letters_of_news(hour + timedelta(hours=1))) == [1, 2]


def test_whoever_wants_none_gets_none_and_what_is_stale_is_not_told(crew: Member, cast: Member) -> None:
    now = timezone.now()
    choose_pace(crew, Pace.NONE)
    news_for(crew, now - 2 * SETTLES)
    news_for(cast, now - STALE - SETTLES)
    assert letters_of_news(now) == []
    choose_pace(crew, Pace.AT_ONCE)
    assert letters_of_news(now) == []


def test_the_same_is_told_once(crew: Member, post: MailServer) -> None:
    for _ in range(2):
        tell_by_mail([crew], Occasion.READING_CLOSED, "the-reading")
    assert PieceOfNews.objects.count() == 1


def test_without_a_mail_server_nothing_waits(crew: Member, settings: Any) -> None:
    settings.EMAIL_HOST = ""
    tell_by_mail([crew], Occasion.READING_CLOSED, "the-reading")
    assert not PieceOfNews.objects.exists()
    assert send_due(says)


@pytest.mark.django_db(transaction=True)
def test_of_several_senders_at_once_one_sends_each_letter(writer: Member, post: MailServer) -> None:
    """And one makes a letter of the news."""
    members = [make_member(writer.production) for _ in range(6)]
    for member in members:
        news_for(member, timezone.now() - 2 * SETTLES)
    together = Barrier(3)

    def sends() -> None:
        try:
            together.wait(timeout=10)
            send_due(says)
        finally:
            connection.close()

    with ThreadPoolExecutor(3) as threads:
        for done in [threads.submit(sends) for _ in range(3)]:
            done.result(timeout=30)
    assert sorted(post.went_to) == sorted(member.person.email for member in members)
    assert Letter.objects.exclude(sent_at=None).count() == len(members)


def test_a_line_is_closed_whatever_happens_on_it(post: MailServer) -> None:
    with pytest.raises(ArithmeticError), line_to_mail_server() as line:
        raise ArithmeticError
    assert line.sock is None


def test_letters_that_ended_long_ago_are_cleared_with_their_news_when_another_goes_out(
    crew: Member, post: MailServer
) -> None:
    long_ago = timezone.now() - KEPT_FOR - timedelta(days=1)
    for ending in ("sent_at", "given_up_at", "let_go_at"):
        old = letter_to(crew, due_at=long_ago, **{ending: long_ago})
        tell_by_mail([crew], Occasion.REPLIED, ending)
        PieceOfNews.objects.filter(about=ending).update(letter=old)
    tell_by_mail([crew], Occasion.REPLIED, "never told")
    PieceOfNews.objects.filter(about="never told").update(let_go_at=long_ago)
    lately = letter_to(crew, sent_at=long_ago + timedelta(days=2))
    tell_by_mail([crew], Occasion.REPLIED, "lately")
    PieceOfNews.objects.filter(about="lately").update(letter=lately)
    assert send_due(says)
    assert Letter.objects.count() == 4
    waits = letter_to(crew, due_at=long_ago)
    assert send_due(says)
    assert set(Letter.objects.all()) == {lately, waits}
    assert [piece.about for piece in PieceOfNews.objects.all()] == ["lately"]
    assert len(post.went_to) == 1
