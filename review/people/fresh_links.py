"""Links that were just made, each with a message ready to send. They are shown once: of a link only its hash is kept.

Whoever invites several people one after another has all their links side by side: the page that shows one sends its
token along with the next form, and from that alone it is shown again.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.template.loader import render_to_string
from django.urls import reverse

from review.people.acts import LinkRefused, find_invitation
from review.people.by_hand import opens_mail
from review.people.models import INVITATION_LASTS, SIGN_IN_LINK_LASTS

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.http import HttpRequest

    from review.people.models import Invitation, Member

MOST_SHOWN = 20
DAYS, HOURS = INVITATION_LASTS.days, int(SIGN_IN_LINK_LASTS.total_seconds() // 3600)


@dataclass(frozen=True, slots=True)
class FreshLink:
    """A link for somebody: what it does, and the message that brings it. `token` is "" where it is not sent along."""

    name: str
    address: str
    lasts: str
    subject: str
    message: str
    token: str = ""

    @property
    def mail(self) -> str:
        return opens_mail(self.subject, self.message)


def link_of_invitation(request: HttpRequest, invitation: Invitation, token: str) -> FreshLink:
    address = request.build_absolute_uri(reverse("join", args=[token]))
    message = render_to_string(
        "people/invitation_message.txt",
        {"invitation": invitation, "address": address, "expires": invitation.expires_at},
    )
    return FreshLink(
        name=invitation.name,
        address=address,
        lasts=f"Lets one person in, once, within {DAYS} days.",
        subject=invitation.production.name,
        message=message.strip(),
        token=token,
    )


def link_to_sign_in(request: HttpRequest, by: Member, member: Member, token: str) -> FreshLink:
    address = request.build_absolute_uri(reverse("sign-in-link", args=[token]))
    message = render_to_string(
        "people/sign_in_message.txt", {"by": by, "member": member, "address": address, "hours": HOURS}
    )
    return FreshLink(
        name=member.name,
        address=address,
        lasts=f"Signs {member.name} in, once, within {HOURS} hours.",
        subject=member.production.name,
        message=message.strip(),
    )


def links_shown_before(request: HttpRequest, by: Member, tokens: Iterable[str]) -> list[FreshLink]:
    """The links of these tokens that still let somebody into this production, in their order."""
    shown = []
    for token in list(dict.fromkeys(tokens))[:MOST_SHOWN]:
        try:
            invitation = find_invitation(token)
        except LinkRefused:
            continue
        if invitation.production_id == by.production_id:
            shown.append(link_of_invitation(request, invitation, token))
    return shown
