"""Calling a talk, changing it, and calling it off."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from review.access import Deed
from review.mail.site import mail_is_on
from review.notes.forms import kept_key
from review.people.acts import Refused
from review.people.guard import members_who_may
from review.requests import CONFLICT, INVALID, lead_on
from review.talks import acts
from review.talks.finding import talk_or_404
from review.talks.forms import TalkForm

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.db.models import QuerySet
    from django.http import HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.requests import Request
    from review.talks.models import Talk

CHANGED = (
    "Another writer has changed this talk meanwhile. Yours is in the form, and not kept yet: keep it in the place of "
    "theirs if you like."
)

CALLED_ALREADY = "You sent this already. This is the talk that it called, as it stands by now; nothing was changed."


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.TALK)
def talk_new(request: Request, member: Member) -> HttpResponse:
    """The form for a talk about the current draft, and what it sends."""
    draft = member.production.drafts.current()
    form = TalkForm(_members(member), request.POST if request.method == "POST" else None)
    if draft is None or not form.is_bound:
        return _show(request, member, draft, form, INVALID if form.is_bound else 200)
    if not form.is_valid():
        return _show(request, member, draft, form, INVALID)
    try:
        talk = acts.call_talk(member, draft, form.chosen, form.when, form.cleaned_data["form_id"])
    except Refused as refusal:
        form.add_error(None, str(refusal))
        return _show(request, member, draft, form, INVALID)
    if talk.came_again:
        messages.info(request, CALLED_ALREADY)
    else:
        messages.success(request, f"The talk is called. {_told()}")
    return lead_on(request, _address(talk))


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.TALK)
def talk_change(request: Request, member: Member, public_id: str) -> HttpResponse:
    talk = talk_or_404(member, public_id)
    if request.method != "POST":
        return _show(request, member, talk.draft, TalkForm.of(talk, _members(member)), talk=talk)
    form = TalkForm(_members(member), request.POST)
    if not form.is_valid():
        return _show(request, member, talk.draft, form, INVALID, talk)
    were = list(talk.members.all())
    try:
        changed = acts.change_talk(member, talk, form.chosen, form.when, form.cleaned_data["seen"])
    except acts.TalkChangedMeanwhile:
        again = request.POST.copy()
        again["seen"] = str(talk_or_404(member, public_id).sequence)
        form.data = again
        messages.error(request, CHANGED)
        return _show(request, member, talk.draft, form, CONFLICT, talk)
    except Refused as refusal:
        form.add_error(None, str(refusal))
        return _show(request, member, talk.draft, form, INVALID, talk)
    messages.success(request, f"Changed. {_told()}{_not_asked_now(were, form)}" if changed else "Nothing has changed.")
    return lead_on(request, _address(talk))


@require_POST
@members_who_may(Deed.TALK)
def talk_call_off(request: Request, member: Member, public_id: str) -> HttpResponse:
    talk = talk_or_404(member, public_id)
    off = acts.call_off(member, talk)
    messages.success(request, f"The talk is called off. {_told()}" if off else "It was called off already.")
    return redirect(_address(talk))


def _address(talk: Talk) -> str:
    return reverse("talk", args=[talk.production.public_id, talk.public_id])


def _told() -> str:
    if mail_is_on():
        return "Those who are asked are told by mail, with the date for their calendars."
    return "This server sends no mail: a message to send yourself stands below."


def _not_asked_now(were: Iterable[Member], form: TalkForm) -> str:
    """Whom the writer has to tell that they are not asked any more, where no mail does."""
    names = [each.name for each in were if each not in form.chosen]
    return f" {', '.join(names)}: not asked any more, tell them too." if names and not mail_is_on() else ""


def _members(member: Member) -> QuerySet[Member]:
    return member.production.members.filter(removed_at=None).select_related("person")


def _show(
    request: Request,
    member: Member,
    draft: Draft | None,
    form: TalkForm,
    status: int = 200,
    talk: Talk | None = None,
) -> HttpResponse:
    context = {
        "member": member,
        "draft": draft,
        "form": form,
        "talk": talk,
        "address": request.path,
        "kept_key": kept_key(member, "talk", talk.public_id if talk else "new"),
    }
    return render(request, "talks/talk_new.html", context, status=status)
