"""The way out that every letter carries: an address that stops the mail and does nothing else.

It needs no session and lasts, so it opens nothing: it is signed, and names the letter alone.
"""

from __future__ import annotations

from django.core.signing import BadSignature, Signer
from django.urls import reverse

from review.mail.models import Letter
from review.mail.site import opened_at


def _signer() -> Signer:
    return Signer(salt="review.mail.stopping", sep=".")


def stop_address(letter: Letter) -> str:
    """The address by which whoever has the letter stops the mail."""
    return opened_at(reverse("mail-stop", args=[_signer().sign(letter.public_id)]))


def letter_of(token: str) -> Letter | None:
    """The letter whose way out this is; None where the token is no such thing."""
    try:
        public_id = _signer().unsign(token)
    except BadSignature:
        return None
    letters = Letter.objects.select_related("member__person", "production")
    return letters.filter(public_id=public_id).first()
