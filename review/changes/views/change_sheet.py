"""Change sheets: what changed between two drafts for one department or one character, on a screen and as a PDF.

The PDF answers GET alone: the log keeps each copy taken, and whoever asks for headers takes none.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_safe

from review.access import Deed
from review.changes.change_sheet_pdf import print_change_sheet
from review.changes.change_sheets import are_worked_out, change_sheet, everyone, whose_of
from review.changes.notes_at_changes import notes_across_drafts
from review.downloads import PDF, download, file_name
from review.drafts.at_address import no_such_draft
from review.drafts.list_language import language_sense
from review.making.apart import Wanted, made_apart
from review.notes.models import Audience
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from django.http import HttpRequest

    from review.changes.recipients import Recipient
    from review.drafts.models import Draft
    from review.people.models import Member


@require_safe
@members_who_may(Deed.READ)
def change_sheet_mine(request: HttpRequest, member: Member) -> HttpResponse:
    """Leads to the reader's own sheet for the latest two drafts; with fewer, to where that is said."""
    numbers = list(member.production.drafts.standing().order_by("-number").values_list("number", flat=True)[:2])
    if len(numbers) < 2:
        return redirect("changes", member.production.public_id)
    return redirect("change-sheets", member.production.public_id, numbers[1], numbers[0])


def _sheet_to_work_out(request: HttpRequest, member: Member, old: int, new: int, whose: str) -> Wanted | None:
    return _to_work_out(request, member, old, new)


def _to_work_out(request: HttpRequest, member: Member, old: int, new: int) -> Wanted | None:
    """The sheets of two drafts that were never compared."""
    if request.method != "GET" or are_worked_out(*_drafts_or_404(member, old, new)):
        return None
    page = reverse("drafts", args=[member.production.public_id])
    return Wanted(f"Change sheets from draft {old} to draft {new}", page)


@require_safe
@members_who_may(Deed.READ)
@made_apart(Deed.READ, _to_work_out, leads_back=True)
def change_sheets(request: HttpRequest, member: Member, old: int, new: int) -> HttpResponse:
    """Leads to the sheet asked for by `whose`, else to the reader's own."""
    before, after = _drafts_or_404(member, old, new)
    asked = request.GET.get("whose", "")
    slug = next((each.slug for each in everyone(before, after) if each.slug == asked), "")
    slug = slug or whose_of(member, before, after).slug
    return redirect("change-sheet", member.production.public_id, before.number, after.number, slug)


@require_safe
@members_who_may(Deed.READ)
@made_apart(Deed.READ, _sheet_to_work_out, leads_back=True)
def sheet(request: HttpRequest, member: Member, old: int, new: int, whose: str) -> HttpResponse:
    before, after = _drafts_or_404(member, old, new)
    found = everyone(before, after)
    of = _whose_or_404(found, whose)
    for_writers_too = _for_writers_too(request)
    notes = notes_across_drafts(member, before, after)
    for_everyone = [each for each in notes if each.note.audience != Audience.WRITER]
    told = change_sheet(of, before, after, notes if for_writers_too else for_everyone, reader=member)
    context = {
        "member": member,
        "before": before,
        "after": after,
        "sheet": told,
        "for_writers_too": for_writers_too,
        "may_choose_audience": for_writers_too or len(for_everyone) < len(notes),
        "notes_sense": told.sense_of_audiences(for_writers_too=for_writers_too),
        "departments": [each for each in found if each.department],
        "characters": [each for each in found if not each.department],
        "language_sense": language_sense(after),
        "is_own": of.slug == whose_of(member, before, after).slug,
    }
    return render(request, "changes/change_sheet.html", context)


def _wanted(request: HttpRequest, member: Member, old: int, new: int, whose: str) -> Wanted:
    before, after = _drafts_or_404(member, old, new)
    page = reverse("change-sheet", args=[member.production.public_id, before.number, after.number, whose])
    return Wanted(f"Change sheet, draft {old} to {new}", page)


@require_GET
@members_who_may(Deed.READ)
@made_apart(Deed.READ, _wanted)
def sheet_pdf(request: HttpRequest, member: Member, old: int, new: int, whose: str) -> HttpResponse:
    before, after = _drafts_or_404(member, old, new)
    of = _whose_or_404(everyone(before, after), whose)
    data = print_change_sheet(member, of, before, after, for_writers_too=_for_writers_too(request))
    words = f"{member.production.name} changes {before.number} to {after.number} {of.name}"
    return download(data, file_name(words, "pdf"), PDF)


def _for_writers_too(request: HttpRequest) -> bool:
    """Whether the sheet is asked for with the notes for the writer's eyes only: it may be handed on, so it is without
    them unless its address says otherwise."""
    return request.GET.get("for_writers_too") == "on"


def _drafts_or_404(member: Member, old: int, new: int) -> tuple[Draft, Draft]:
    """Two drafts, the older first; a draft has no changes from itself."""
    found = member.production.drafts.standing().select_related("production").defer("text").numbered(old, new)
    drafts = sorted(found, key=lambda draft: draft.number)
    if len(drafts) != 2:
        raise no_such_draft(member, old, new)
    return drafts[0], drafts[1]


def _whose_or_404(found: list[Recipient], slug: str) -> Recipient:
    for each in found:
        if each.slug == slug:
            return each
    raise Http404("No such sheet")
