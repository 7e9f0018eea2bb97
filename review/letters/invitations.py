"""The letter that invites: its link is made when it is sent, so that no link that lets somebody in is ever kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.template.loader import render_to_string
from django.urls import reverse

from review.mail.envelopes import LetterText
from review.mail.site import opened_at
from review.mail.stopping import stop_address
from review.people.acts import make_mailed_link
from review.people.models import Invitation

if TYPE_CHECKING:
    from review.mail.models import Letter

STOP = "If you want no mail from here, open this: {}"


def invitation_letter(letter: Letter) -> LetterText | None:
    """What is written to somebody who is invited, as long as their invitation is open."""
    about = letter.news.values_list("about", flat=True).first()
    invitation = Invitation.objects.select_related("production", "invited_by__person").filter(public_id=about).first()
    token = make_mailed_link(invitation) if invitation else None
    if invitation is None or token is None:
        return None
    told = {
        "invitation": invitation,
        "address": opened_at(reverse("join", args=[token])),
        "expires": invitation.expires_at,
    }
    body = render_to_string("people/invitation_message.txt", told).strip()
    title = f"{invitation.production.name}: {invitation.invited_by.name} asks you to read the script"
    return LetterText(title, f"{body}\n\n-- \n{STOP.format(stop_address(letter))}\n")
