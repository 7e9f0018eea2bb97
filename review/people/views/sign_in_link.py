"""Where a sign-in link leads: one button, so that a link previewed by a mail program is not used up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib.auth.decorators import login_not_required
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from review.people import acts
from review.people.landing import landing_of_link
from review.people.secrecy import from_this_machine, holds_a_secret
from review.people.sessions import sign_in_by_link
from review.people.views.join import GONE

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse


@require_http_methods(["GET", "HEAD", "POST"])
@login_not_required
@holds_a_secret
def sign_in_link(request: HttpRequest, token: str) -> HttpResponse:
    """For whoever holds the link; one for this machine only is refused from any other."""
    here = from_this_machine(request)
    try:
        if request.method == "POST":
            used = acts.use_sign_in_link(token, from_this_machine=here)
            sign_in_by_link(request, used)
            return redirect(landing_of_link(used))
        link = acts.find_sign_in_link(token, from_this_machine=here)
    except acts.LinkRefused as refusal:
        status = {"unknown": 404, "elsewhere": 403}.get(refusal.state, 410 if refusal.state in GONE else 404)
        return render(
            request, "people/link_refused.html", {"kind": "sign-in link", "state": refusal.state}, status=status
        )
    return render(request, "people/sign_in_link.html", {"link": link})
