"""Withdrawing a draft that was put up by mistake, and putting it up again: what each does, and the doing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from review.access import Deed
from review.drafts import acts
from review.drafts.at_address import draft_or_404
from review.people.guard import members_who_may
from review.publishing.forms import WithdrawForm
from review.publishing.withdrawing import goes_with
from review.requests import INVALID

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.PUBLISH)
def draft_withdraw(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    """Says what withdrawing a draft does, and withdraws it; of one that is withdrawn, what went with it."""
    draft = draft_or_404(member, number, withdrawn_too=True)
    if request.method != "POST":
        return _show(request, member, draft, WithdrawForm())
    form = WithdrawForm(request.POST)
    if not form.is_valid():
        return _show(request, member, draft, form, status=INVALID)
    is_new = acts.withdraw_draft(member, draft, form.cleaned_data["reason"])
    if is_new:
        messages.success(request, f"Draft {draft.number} is withdrawn. No reader sees it any more.")
    else:
        messages.info(request, f"Draft {draft.number} was withdrawn already.")
    return redirect("drafts", member.production.public_id)


@require_POST
@members_who_may(Deed.PUBLISH)
def draft_put_up_again(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    """Puts a withdrawn draft up again, with all that went with it."""
    draft = draft_or_404(member, number, withdrawn_too=True)
    if acts.put_up_again(member, draft):
        messages.success(request, f"Draft {draft.number} is up again, with the notes that were left on it.")
    return redirect("drafts", member.production.public_id)


def _show(request: HttpRequest, member: Member, draft: Draft, form: WithdrawForm, status: int = 200) -> HttpResponse:
    context = {
        "member": member,
        "draft": draft,
        "form": form,
        "goes": goes_with(draft),
        "is_current": member.production.drafts.current() == draft,
    }
    return render(request, "publishing/draft_withdraw.html", context, status=status)
