"""The People screen: who is in, who is invited, and the writer's ways to let people in and keep them out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.db.models import Q
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from review.access import Deed, Role, may
from review.people import acts
from review.people.forms import InviteForm, MembershipForm
from review.people.fresh_links import link_of_invitation, link_to_sign_in, links_shown_before
from review.people.guard import members_who_may
from review.people.models import Department, Invitation, Member
from review.people.secrecy import holds_a_secret, is_this_machine
from review.requests import INVALID

if TYPE_CHECKING:
    from collections.abc import Sequence

    from django.db.models import QuerySet
    from django.http import HttpRequest, HttpResponse

    from review.people.fresh_links import FreshLink


@require_safe
@members_who_may(Deed.READ)
def people(request: HttpRequest, member: Member) -> HttpResponse:
    return _show(request, member, InviteForm())


@require_POST
@members_who_may(Deed.INVITE)
@holds_a_secret
def invite(request: HttpRequest, member: Member) -> HttpResponse:
    """Answers with the page itself rather than a redirect: the link on it can be shown this once."""
    form = InviteForm(request.POST)
    before = links_shown_before(request, member, request.POST.getlist("shown"))
    if not form.is_valid():
        return _show(request, member, form, before, status=INVALID)
    told, address = form.cleaned_data, form.cleaned_data.get("address", "")
    invitation, token = acts.invite(
        member, told["name"], told["role"], told["department"], told["form_id"], told["character"], address
    )
    if token is None:
        messages.info(
            request,
            f"{invitation.name} was invited by this form already. The link was shown then; if it is lost, withdraw "
            "the invitation and make another.",
        )
        return _show(request, member, InviteForm(), before)
    if address:
        messages.success(request, f"{invitation.name} is sent the link by mail. It stands here too.")
    return _show(request, member, InviteForm(), [link_of_invitation(request, invitation, token), *before])


@require_POST
@members_who_may(Deed.INVITE)
def withdraw_invitation(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    invitation = get_object_or_404(Invitation, production=member.production, public_id=public_id)
    acts.withdraw_invitation(member, invitation)
    messages.success(request, f"The invitation for {invitation.name} no longer lets anyone in.")
    return redirect("people", member.production.public_id)


@require_POST
@members_who_may(Deed.INVITE)
def remove_member(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    other = get_object_or_404(Member, production=member.production, public_id=public_id)
    try:
        acts.remove_member(member, other)
    except acts.Refused as refusal:
        messages.error(request, str(refusal))
    else:
        if other == member:
            messages.success(request, f"You have left {member.production.name}. What you wrote stays.")
            return redirect("productions")
        messages.success(request, f"{other.name} can no longer open this production. What they wrote stays.")
    return redirect("people", member.production.public_id)


@require_POST
@members_who_may(Deed.INVITE)
def change_role(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    other = get_object_or_404(Member, production=member.production, public_id=public_id, removed_at=None)
    form = MembershipForm(request.POST)
    if not form.is_valid():
        for sentences in form.errors.values():
            messages.error(request, " ".join(map(str, sentences)))
        return redirect("people", member.production.public_id)
    try:
        is_new = acts.change_role(member, other, form.role_wanted)
    except acts.Refused as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, _in_words(other.name, form.role_wanted) if is_new else "Nothing has changed.")
    return redirect("people", member.production.public_id)


def _in_words(name: str, found: acts.RoleInProduction) -> str:
    role, department = Role(found.role).label, Department(found.department).label
    role_in_words = role if role == department else f"{role}, {department}"
    return f"{name} is {role_in_words} now" + (f" and plays {found.character}." if found.character else ".")


@require_POST
@members_who_may(Deed.INVITE)
@holds_a_secret
def make_sign_in_link(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    other = get_object_or_404(Member, production=member.production, public_id=public_id, removed_at=None)
    try:
        token = acts.make_sign_in_link(member, other)
    except acts.Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("people", member.production.public_id)
    return _show(request, member, InviteForm(), [link_to_sign_in(request, member, other, token)])


def _show(
    request: HttpRequest, member: Member, form: InviteForm, fresh: Sequence[FreshLink] = (), status: int = 200
) -> HttpResponse:
    may_invite = may(member, Deed.INVITE)
    members = list(member.production.members.filter(removed_at=None).select_related("person"))
    invitations = Invitation.objects.filter(production=member.production).select_related("invited_by__person")
    context = {
        "member": member,
        "members": members,
        "can_be_changed": _can_be_changed(member, members) if may_invite else [],
        "can_be_linked": acts.members_to_make_links_for(member) if may_invite else frozenset(),
        "may_invite": may_invite,
        "roles": Role.choices,
        "departments": Department.choices,
        "may_watch": may(member, Deed.WATCH),
        "may_set_up": may(member, Deed.SET_UP),
        "form": form,
        "open_invitations": _open(invitations) if may_invite else [],
        "is_this_machine": is_this_machine(request.get_host()),
        "past_invitations": _past(invitations) if may_invite else [],
        "fresh": fresh,
    }
    return render(request, "people/people.html", context, status=status)


def _can_be_changed(by: Member, members: Sequence[Member]) -> list[Member]:
    """Whom a writer may give another role, or let go: of themselves only where another writer stays."""
    another = any(each.is_writer for each in members if each != by)
    return [each for each in members if another or each != by]


def _is_open() -> Q:
    return Q(used_at=None, withdrawn_at=None, expires_at__gt=timezone.now())


def _open(invitations: QuerySet[Invitation]) -> list[Invitation]:
    return list(invitations.filter(_is_open()))


def _past(invitations: QuerySet[Invitation]) -> list[Invitation]:
    return list(invitations.exclude(_is_open())[:50])
