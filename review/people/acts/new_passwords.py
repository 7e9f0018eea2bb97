"""The link by which somebody chooses a new password: asked for by an address, made when its mail is sent."""

from __future__ import annotations

from allauth.account.forms import default_token_generator
from allauth.account.utils import user_pk_to_url_str
from django.db import transaction
from django.urls import reverse

from review.mail.acts import mail_new_password_link
from review.people.models import Person


@transaction.atomic
def send_new_password_link(address: str) -> bool:
    """Have a link mailed to whoever signs in with this address, if anybody does; whether one is on its way now.

    Whoever asks again while it is on its way is sent that one: the person is locked, so that two who ask at the same
    moment make no two.
    """
    person = Person.objects.select_for_update(no_key=True).filter(email=address, is_active=True).first()
    return person is not None and mail_new_password_link(person.public_id, person.email)


def new_password_path(person: Person) -> str:
    """The path of a link that lets this person choose a new password, once, as long as the sign-in library has it."""
    key = default_token_generator.make_token(person)
    return reverse("account_reset_password_from_key", kwargs={"uidb36": user_pk_to_url_str(person), "key": key})
