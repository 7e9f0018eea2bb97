"""A letter to a member in words: what it tells, as things stand when it is sent, and how to have fewer of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.urls import reverse

from review.letters import of_drafts, of_notes, of_paper_notes, of_readings, of_talks
from review.letters.invitations import invitation_letter
from review.letters.new_passwords import new_password_letter
from review.mail.acts import pace_of
from review.mail.envelopes import LetterText
from review.mail.models import Occasion, Pace
from review.mail.site import opened_at
from review.mail.stopping import stop_address

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from review.letters.tidings import Tidings
    from review.mail.models import Letter
    from review.people.models import Member

TOLD_BY: dict[str, Callable[[Member, str], Tidings | None]] = {
    Occasion.READING_OPENED: of_readings.opened,
    Occasion.READING_REMINDED: of_readings.reminded,
    Occasion.READING_CLOSED: of_readings.closed,
    Occasion.DRAFT_PUBLISHED: of_drafts.published,
    Occasion.REPLIED: of_notes.replied,
    Occasion.DECIDED: of_notes.decided,
    Occasion.REPLIED_ON_PAPER: of_paper_notes.replied,
    Occasion.DECIDED_ON_PAPER: of_paper_notes.decided,
    Occasion.TALK: of_talks.talk,
    Occasion.TAKEN_DOWN: of_talks.taken_down,
}
TO_NO_MEMBER: dict[str, Callable[[Letter], LetterText | None]] = {
    Occasion.INVITED: invitation_letter,
    Occasion.NEW_PASSWORD: new_password_letter,
}
FOOT = """-- 
You are told this as a member of {production}. Once a day, or not at all: {choices}
To stop these mails without signing in: {stop}
"""  # noqa: W291 - a signature begins so: RFC 3676, 4.3


def compose(letter: Letter) -> LetterText | None:
    """What a letter says now; None where nothing of its news is left to tell, or nobody to tell it to.

    What somebody may not read when it is sent, they are not told, whatever they might read when it happened.
    """
    member = letter.member
    if member is None:
        return TO_NO_MEMBER[letter.news.get().occasion](letter)
    if member.removed_at is not None or not member.person.is_active or pace_of(member.pk) == Pace.NONE:
        return None
    news = dict.fromkeys((piece.occasion, piece.about) for piece in letter.news.all())  # what came again is told once
    told = [each for occasion, about in news if (each := TOLD_BY[occasion](member, about)) is not None]
    if not told:
        return None
    title = told[0].title if len(told) == 1 else f"{len(told)} things for you"
    calendars = tuple(each.calendar for each in told if each.calendar is not None)
    return LetterText(
        f"{member.production.name}: {title}", f"{_body(member, told)}\n\n{_foot(member, letter)}", calendars
    )


def _body(member: Member, told: Sequence[Tidings]) -> str:
    if len(told) == 1:
        parts = [f"{told[0].text}\n\n{opened_at(told[0].path)}"]
    else:
        parts = [f"{number}. {each.text}\n\n{opened_at(each.path)}" for number, each in enumerate(told, 1)]
    return f"Hello {member.name},\n\n" + "\n\n\n".join(parts)


def _foot(member: Member, letter: Letter) -> str:
    choices = opened_at(reverse("mail", args=[member.production.public_id]))
    return FOOT.format(production=member.production.name, choices=choices, stop=stop_address(letter))
