"""Revised pages: a draft on paper with an asterisk beside what changed since an earlier one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import Http404
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_safe

from review.access import Deed, may
from review.downloads import PDF, download
from review.drafts.at_address import draft_or_404
from review.making.apart import Wanted, made_apart
from review.people.guard import members_who_may
from review.printing.acts import print_revision
from review.printing.forms import RevisedForm
from review.printing.revised_pages import Revised, revised_since
from review.requests import INVALID

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member


@require_safe
@members_who_may(Deed.READ)
def revised_pages(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft, earlier = _drafts_or_404(member, number)
    asked = request.GET.get("since", "")
    since = next((each for each in earlier if str(each.number) == asked), earlier[0] if earlier else None)
    return _ask(request, member, draft, earlier, since)


def _wanted(request: HttpRequest, member: Member, number: int) -> Wanted:
    draft, _ = _drafts_or_404(member, number)
    page = reverse("revised-pages", args=[member.production.public_id, draft.number])
    return Wanted(f"Revised pages of draft {number}", page)


@require_GET
@members_who_may(Deed.READ)
@made_apart(Deed.READ, _wanted)
def revised_pages_pdf(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft, earlier = _drafts_or_404(member, number)
    if not earlier:
        raise Http404("The first draft has no revised pages.")
    form = RevisedForm(request.GET, earlier=earlier, draft=draft, auto_id="revised-%s")
    if not form.is_valid():
        return _ask(request, member, draft, earlier, earlier[0], form)
    told = form.cleaned_data
    since: Draft = told["since"]
    revised = revised_since(since, draft, told["paper"])
    if told["changed_only"] and (sentence := _why_not_alone(revised)):
        form.add_error("changed_only", sentence)
        return _ask(request, member, draft, earlier, since, form)
    data = print_revision(
        member,
        revised,
        scene_numbers=told["scene_numbers"],
        changed_only=told["changed_only"],
        tinted=told["tinted"],
    )
    return download(data, draft.file_name("pdf", f"revised since draft {since.number}"), PDF)


def _why_not_alone(revised: Revised) -> str:
    """Why changed pages alone cannot be had, "" where they can."""
    since, swap = revised.since.number, revised.swap
    if not swap.into:
        comes_out = f" Take out {revised.out_words}." if swap.out else ""
        return f"Nothing that prints changed since draft {since}: there is no such page.{comes_out}"
    if not revised.is_locked:
        return (
            f"Changed pages alone would not fit into a printed copy. {revised.why_all} So {revised.into_words} go in."
        )
    return ""


def _drafts_or_404(member: Member, number: int) -> tuple[Draft, list[Draft]]:
    """The draft, and those before it, latest first."""
    draft = draft_or_404(member, number)
    before = member.production.drafts.standing().filter(number__lt=number).select_related("production")
    return draft, list(before.order_by("-number"))


def _ask(
    request: HttpRequest,
    member: Member,
    draft: Draft,
    earlier: list[Draft],
    since: Draft | None,
    form: RevisedForm | None = None,
) -> HttpResponse:
    revised: Revised | None = revised_since(since, draft) if since else None
    if form is None and since:
        form = RevisedForm(earlier=earlier, draft=draft, since=since, auto_id="revised-%s")
    context = {
        "member": member,
        "draft": draft,
        "since": since,
        "earlier": earlier,
        "revised": revised,
        "form": form,
        "may_lock": may(member, Deed.SET_UP) and draft.production.pages_locked_at is None,
    }
    status = INVALID if form is not None and form.errors else 200
    return render(request, "printing/revised_pages.html", context, status=status)
