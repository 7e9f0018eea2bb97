"""The letter to whoever has forgotten their password: its link is made when it is sent, and never kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.conf import settings
from django.template.loader import render_to_string
from django.utils import timezone

from review.mail.envelopes import LetterText
from review.mail.models import ASKING_LASTS
from review.mail.site import opened_at
from review.mail.stopping import stop_address
from review.people.acts import new_password_path
from review.people.models import Person

if TYPE_CHECKING:
    from review.mail.models import Letter

STOP = "If you want no mail from here at all, not even this, open this: {}"


def new_password_letter(letter: Letter) -> LetterText | None:
    """What is written to somebody who asked for a new password, unless that was long ago."""
    about = letter.news.values_list("about", flat=True).first()
    person = Person.objects.filter(public_id=about, email=letter.address, is_active=True).first()
    if person is None or letter.created_at < timezone.now() - ASKING_LASTS:
        return None
    told = {"user": person, "password_reset_url": opened_at(new_password_path(person))}
    body = render_to_string("account/email/password_reset_key_message.txt", told).strip()
    title = render_to_string("account/email/password_reset_key_subject.txt").strip()
    subject = f"{settings.ACCOUNT_EMAIL_SUBJECT_PREFIX}{title}"
    return LetterText(subject, f"{body}\n\n-- \n{STOP.format(stop_address(letter))}\n")
