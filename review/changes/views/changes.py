"""What changed between two drafts."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from django.http import Http404
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe
from django.views.decorators.http import require_safe

from review.access import Deed, may
from review.changes.change_sheets import change_sheets, whose_of
from review.changes.notes_at_changes import notes_across_drafts, notes_at_changes
from review.changes.reading_order import changes_between as find_changes
from review.changes.rendered import Showing, are_there, body_pieces
from review.drafts.at_address import no_such_draft
from review.drafts.scripts import lengths
from review.making.apart import Wanted, made_apart
from review.making.progress import tell
from review.notes.models import Note
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.http import HttpRequest, HttpResponse

    from review.changes.notes_at_changes import NoteAtChange
    from review.changes.rendered import RenderedPiece
    from review.drafts.models import Draft
    from review.people.models import Member
    from review.requests import Request

STEPS = 3  # of setting out changes for the first time


@require_safe
@members_who_may(Deed.READ)
def changes(request: HttpRequest, member: Member) -> HttpResponse:
    """Leads to the two drafts asked for, else to the latest two; with one draft or none there is nothing to compare."""
    drafts = list(member.production.drafts.standing().defer("text").order_by("-number"))
    numbers = {draft.number for draft in drafts}
    old, new = (_number(request.GET.get(name, "")) for name in ("old", "new"))
    if {old, new} <= numbers:
        return redirect("changes-between", member.production.public_id, min(old, new), max(old, new))
    if len(drafts) > 1:
        return redirect("changes-between", member.production.public_id, drafts[1].number, drafts[0].number)
    context = {"member": member, "only": drafts[0] if drafts else None, "may_publish": may(member, Deed.PUBLISH)}
    return render(request, "changes/changes_none.html", context)


def _wanted(request: Request, member: Member, old: int, new: int) -> Wanted | None:
    """The changes that were never set out, for which two drafts have to be read and compared."""
    if request.method != "GET" or old >= new:
        return None
    before, after = _two_drafts_or_404(member, old, new)
    showing, with_source = Showing.asked_for(request.GET), may(member, Deed.PUBLISH)
    if are_there(member.production, before, after, showing, with_source=with_source):
        return None
    return Wanted(f"Changes from draft {old} to draft {new}", reverse("drafts", args=[member.production.public_id]))


def _two_drafts_or_404(member: Member, old: int, new: int) -> tuple[Draft, Draft]:
    drafts = member.production.drafts.standing().select_related("production").defer("text")
    by_number = {draft.number: draft for draft in drafts.numbered(old, new)}
    if old >= new or len(by_number) < 2:
        raise no_such_draft(member, old, new)
    return by_number[old], by_number[new]


@require_safe
@members_who_may(Deed.READ)
@made_apart(Deed.READ, _wanted, leads_back=True)
def changes_between(request: HttpRequest, member: Member, old: int, new: int) -> HttpResponse:
    """The changes from the older of two drafts to the newer, whichever way round they were asked for."""
    if old > new:
        return redirect("changes-between", member.production.public_id, new, old)
    drafts = list(member.production.drafts.standing().defer("text"))
    by_number = {draft.number: draft for draft in drafts}
    before, after = by_number.get(old), by_number.get(new)
    if before is None or after is None:
        raise no_such_draft(member, old, new)
    context = {"member": member, "drafts": drafts, "before": before, "after": after}
    if before == after:
        return render(request, "changes/changes_same.html", context)
    showing = Showing.asked_for(request.GET)
    return render(request, "changes/changes.html", context | _told(member, before, after, showing))


@require_safe
@members_who_may(Deed.READ)
def changes_stretch(request: Request, member: Member, old: int, new: int, anchor: str) -> HttpResponse:
    """The lines of an unchanged stretch, for the page on which it is opened; by itself it leads to them there."""
    before, after = _two_drafts_or_404(member, old, new)
    found = find_changes(before, after, with_source=may(member, Deed.PUBLISH))
    if (stretch := found.folded.get(anchor)) is None:
        raise Http404("No such lines")
    if not request.htmx:
        page = reverse("changes-between", args=[member.production.public_id, old, new])
        return redirect(f"{page}?script=whole#{stretch.rows[0].anchor}")
    side_by_side = Showing.asked_for(request.GET).side_by_side
    return render(request, "changes/change_rows.html", {"rows": stretch.rows, "side_by_side": side_by_side})


def _told(member: Member, before: Draft, after: Draft, showing: Showing) -> dict[str, object]:
    with_source = may(member, Deed.PUBLISH)
    tell("The two drafts are read and compared", 0, STEPS)
    found = find_changes(before, after, with_source=with_source)
    length_of = lengths([before, after])
    standing = notes_across_drafts(member, before, after)
    notes = notes_at_changes(standing, found)
    tell("What changed is set out", 1, STEPS)
    pieces = body_pieces(member.production, before, after, showing, with_source=with_source)
    shown = {piece.beside for piece in pieces}
    tell("The change sheets are written", 2, STEPS)
    sheets = change_sheets(before, after, standing)
    own = whose_of(member, before, after)
    return {
        "changes": found,
        "length_before": length_of[before.pk],
        "length_after": length_of[after.pk],
        "notes": notes,
        "answered": [each for each in notes if each.across.answered_in],
        "mine": [each for each in notes if each.across.note.is_of(member)],
        "mine_in_all": Note.objects.of(member).filter(draft__number__lte=after.number).not_withdrawn().count(),
        "elsewhere": [each for each in notes if each.beside not in shown],
        "showing": showing,
        "sheets": [sheet for sheet in sheets if sheet.entries or sheet.has_new_name],
        "own_sheet": next(sheet for sheet in sheets if sheet.whose.slug == own.slug),
        "body": _with_notes(member, after, pieces, notes),
    }


def _with_notes(
    member: Member, after: Draft, pieces: Iterable[RenderedPiece], notes: Iterable[NoteAtChange]
) -> SafeString:
    """The changed scenes with the notes that this member may read beside them; the scenes alone are kept for others."""
    beside: dict[str, list[NoteAtChange]] = defaultdict(list)
    for note in notes:
        beside[note.beside].append(note)
    told = []
    for piece in pieces:
        told.append(piece.html)
        if found := beside.get(piece.beside):
            context = {"member": member, "after": after, "notes": found}
            told.append(render_to_string("changes/changes_beside.html", context))
    return mark_safe("".join(told))  # noqa: S308 - all of it was rendered by templates


def _number(text: str) -> int:
    """A draft's number out of an address, 0 for anything else."""
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else 0
