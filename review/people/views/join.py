"""Where an invitation leads: the invited person says who they are, and is in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.contrib.auth import logout
from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import PermissionDenied
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from review.people import acts
from review.people.forms import JoinForm
from review.people.models import Person
from review.people.secrecy import holds_a_secret
from review.people.sessions import NOT_BY_LINK_JOINED, is_by_link, sign_in
from review.requests import INVALID

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Invitation, Member

GONE = {"used", "expired", "withdrawn"}


@require_http_methods(["GET", "HEAD", "POST"])
@login_not_required
@holds_a_secret
def join(request: HttpRequest, token: str) -> HttpResponse:
    """For whoever holds the link, once."""
    try:
        invitation = acts.find_invitation(token)
        if request.method == "POST" and "someone-else" in request.POST:
            logout(request)
            return redirect("join", token)
        if isinstance(request.user, Person):
            return _join_signed_in(request, request.user, invitation, token)
        return _join_newly(request, invitation, token)
    except acts.LinkRefused as refusal:
        return _turn_away(request, token, refusal.state)


def _turn_away(request: HttpRequest, token: str, state: str) -> HttpResponse:
    """Say why the link lets nobody in; whoever joined by it and opens it again is simply led back."""
    if isinstance(request.user, Person) and (production := acts.joined_by(request.user, token)):
        return redirect("home", production.public_id)
    status = 410 if state in GONE else 404
    return render(request, "people/link_refused.html", {"kind": "invitation", "state": state}, status=status)


def _join_signed_in(request: HttpRequest, person: Person, invitation: Invitation, token: str) -> HttpResponse:
    """Someone who is signed in joins as themselves, by one button."""
    if person.open_memberships.filter(production=invitation.production).exists():
        return _already_in(request, invitation)
    if request.method != "POST":
        context = {"invitation": invitation, "by_link": is_by_link(request)}
        return render(request, "people/join_signed_in.html", context)
    if is_by_link(request):
        raise PermissionDenied(NOT_BY_LINK_JOINED)
    try:
        return _welcome(request, acts.join_as(person, token))
    except acts.AlreadyMember:
        return _already_in(request, invitation)


def _already_in(request: HttpRequest, invitation: Invitation) -> HttpResponse:
    messages.info(request, "You are in this production already. The invitation is still unused.")
    return redirect("home", invitation.production.public_id)


def _join_newly(request: HttpRequest, invitation: Invitation, token: str) -> HttpResponse:
    sent = request.POST if request.method == "POST" else None
    form = JoinForm(invitation.production.name, sent, initial={"name": invitation.name})
    known = False
    if form.is_valid():
        told = form.cleaned_data
        try:
            member = acts.accept_invitation(token, told["name"], told["email"], told["password"])
        except acts.AddressTaken:
            known = True
            form.add_error("email", "This address is somebody’s here.")
        else:
            sign_in(request, member.person)
            return _welcome(request, member)
    context = {"form": form, "invitation": invitation, "address_is_known": known}
    return render(request, "people/join.html", context, status=INVALID if form.errors else 200)


def _welcome(request: HttpRequest, member: Member) -> HttpResponse:
    begin = " Start with the script." if member.production.drafts.current() else ""
    messages.success(request, f"You are in, {member.name}.{begin}")
    return redirect("home", member.production.public_id)
