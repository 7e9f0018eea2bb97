"""What members are told by mail by now."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.utils import timezone

from review.letters.composing import compose
from review.mail.gathering import SETTLES
from review.mail.models import PieceOfNews
from review.mail.sending import send_due
from tests.mail_server import body_of

if TYPE_CHECKING:
    from review.people.models import Member
    from tests.mail_server import MailServer


def told(post: MailServer, *whose: Member) -> list[str]:
    """What these members are told by now, or all, letter by letter: subject and body."""
    PieceOfNews.objects.update(at=timezone.now() - SETTLES)
    assert send_due(compose)
    addresses = {member.person.email for member in whose}
    letters = zip(post.taken, post.went_to, strict=True)
    found = [f"{letter['Subject']}\n{body_of(letter)}" for letter, to in letters if not whose or to in addresses]
    post.taken.clear()
    post.went_to.clear()
    return found
