"""The Mail screen: how a member wants it, and for writers which mail did not arrive, and why."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from review.access import Deed, may
from review.letters.composing import TO_NO_MEMBER
from review.letters.forms import PaceForm
from review.mail import acts
from review.mail.models import Letter, Occasion, Pace
from review.mail.site import mail_is_on
from review.people.guard import members_who_may
from review.requests import INVALID

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request

MOST_SHOWN = 50
CHOSEN = {
    Pace.AT_ONCE: "Mail comes to you at once from now on.",
    Pace.DAILY: "Mail comes to you once a day from now on.",
    Pace.NONE: "No more mail comes to you from this production.",
}


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.READ)
def mail(request: Request, member: Member) -> HttpResponse:
    """What one is told by mail, and the choice of when."""
    form = PaceForm(request.POST if request.method == "POST" else None, initial={"pace": acts.pace_of(member.pk)})
    if request.method == "POST" and form.is_valid():
        pace = Pace(form.cleaned_data["pace"])
        is_new = acts.choose_pace(member, pace)
        messages.success(request, CHOSEN[pace] if is_new else "Nothing has changed.")
        return redirect("mail", member.production.public_id)
    may_send_again = may(member, Deed.SEND_AGAIN)
    context = {
        "member": member,
        "form": form,
        "is_on": mail_is_on(),
        "may_send_again": may_send_again,
        "given_up": _given_up(member) if may_send_again else [],
        "late": _late(member) if may_send_again else [],
        "occasions": [label for value, label in Occasion.choices if value not in TO_NO_MEMBER],
    }
    return render(request, "letters/mail.html", context, status=INVALID if form.errors else 200)


def _given_up(member: Member) -> list[Letter]:
    letters = Letter.objects.filter(production=member.production).exclude(given_up_at=None)
    return list(letters.select_related("member__person").prefetch_related("news").order_by("-given_up_at")[:MOST_SHOWN])


def _late(member: Member) -> list[Letter]:
    """Those that were not taken yet, and are tried again."""
    letters = Letter.objects.waiting().filter(production=member.production, tries__gt=0)
    return list(letters.select_related("member__person").prefetch_related("news")[:MOST_SHOWN])


@require_POST
@members_who_may(Deed.SEND_AGAIN)
def mail_again(request: Request, member: Member, public_id: str) -> HttpResponse:
    letter = get_object_or_404(Letter, production=member.production, public_id=public_id)
    if acts.send_again(member, letter):
        messages.success(request, "It is on its way again.")
    else:
        messages.info(request, "This one is not waiting for you any more: nothing was sent again.")
    return redirect("mail", member.production.public_id)
