"""The way out of every letter: one button, and for mail programs one request, that stop it and do nothing else."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib.auth.decorators import login_not_required
from django.shortcuts import render
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods

from review.mail.acts import stop_mail
from review.mail.stopping import letter_of
from review.people.secrecy import holds_a_secret

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

NOT_FOUND = 404


@require_http_methods(["GET", "HEAD", "POST"])
@login_not_required
@csrf_exempt  # RFC 8058, 3.2: a mail program posts it, from no page of ours and with no cookie
@holds_a_secret
def mail_stop(request: HttpRequest, token: str) -> HttpResponse:
    """Opening it changes nothing, for programs open what mails lead to. What is posted is answered at once, and leads
    nowhere (RFC 8058, 3.1)."""
    letter = letter_of(token)
    if letter is None:
        return render(request, "letters/mail_stop.html", {"state": "unknown"}, status=NOT_FOUND)
    if request.method == "POST":
        stop_mail(letter)
    state = "stopped" if request.method == "POST" else "asked"
    return render(request, "letters/mail_stop.html", {"state": state, "letter": letter})
