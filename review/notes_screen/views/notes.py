"""The notes screen: what readers said, in the groups and the order asked for, and what became of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from review.access import Deed, may
from review.cards.came_to import CameTo, what_they_came_to
from review.cards.filters import filter_notes
from review.cards.meeting import meeting_notes, sharing_lines
from review.cards.note_cards import note_cards
from review.cards.note_rows import note_rows
from review.decisions.states import UNDECIDED
from review.decisions.undoing import last_to_undo
from review.drafts.scripts import laid_out, read_script
from review.notes.models import Note
from review.notes_screen.arrangement import (
    GROUPINGS,
    ORDERS,
    Arrangement,
    NoteOrder,
    arrange,
    arrangement,
    count_replies,
)
from review.notes_screen.looks import choose_look, look_of
from review.notes_screen.models import Look
from review.notes_screen.near_duplicates import near_duplicates
from review.notes_screen.note_pages import note_pages
from review.notes_screen.notes_on_lines import grouped_on_lines
from review.notes_screen.said_in_words import said_in_words
from review.people.guard import members_who_may
from review.requests import page_asked_for

if TYPE_CHECKING:
    from collections.abc import Mapping

    from django.http import HttpResponse

    from review.cards.filters import FilteredNotes
    from review.decisions.models import Decision
    from review.drafts.models import Draft
    from review.people.models import Member
    from review.requests import Request


@require_safe
@members_who_may(Deed.READ)
def notes(request: Request, member: Member) -> HttpResponse:
    """The notes that the member may read, narrowed and arranged as the address asks, as they stand in the current
    draft."""
    draft = member.production.drafts.current()
    if draft is None:
        context = {"member": member, "may_publish": may(member, Deed.PUBLISH)}
        return render(request, "notes_screen/notes_none.html", context)
    rows = note_rows(member, draft)
    standing = [row for row in rows if not row.is_withdrawn]
    filtered = filter_notes(member, rows, request.GET, meeting_notes(standing))
    how = arrangement(request.GET)
    last = last_to_undo(member) if may(member, Deed.DECIDE) else None
    context = {
        "member": member,
        "draft": draft,
        "may_decide": may(member, Deed.DECIDE),
        "notes_in_all": len(rows),
        "filtered": filtered,
        "how": how,
        "said": said_in_words(filtered, how),
        "left": filtered.state.count_of(UNDECIDED),
        "last": last,
    }
    if request.htmx and request.htmx.target == "note-states":
        context["last_came_to"] = what_they_came_to(member, [last])[last.note_id].words if last else ""
        return render(request, "notes_screen/states_again.html", context)
    look = look_of(member, len(rows))
    alike = near_duplicates(member, draft, standing)
    context |= {"look": look} | _shown(request, member, draft, filtered, how, look, alike, last)
    whole = not request.htmx or request.htmx.target != "notes-screen"
    return render(request, "notes_screen/notes.html" if whole else "notes_screen/notes_list.html", context)


def _shown(
    request: Request,
    member: Member,
    draft: Draft,
    filtered: FilteredNotes,
    how: Arrangement,
    look: str,
    alike: Mapping[int, tuple[int, ...]],
    last: Decision | None,
) -> dict[str, Any]:
    """The page of notes that is asked for, with its cards, in the member's look; `alike` say much the same as another,
    and `last` was decided last: these may be on another page."""
    script = laid_out(draft)
    replies = count_replies(member) if how.order is NoteOrder.REPLIES else {}
    groups = arrange(script, filtered.rows, how, replies, safety_first=may(member, Deed.DECIDE))
    pages = note_pages(groups, at=request.GET.get("at", ""), number=request.GET.get("page", ""))
    page = pages.shown
    keys = {key for row in page.rows for key in alike.get(row.pk, (row.pk,))}
    keys |= {last.note_id} if last else set()
    wanted = Note.objects.visible_to(member).filter(pk__in=keys)
    cards = {card.note.pk: card for card in note_cards(member, wanted, draft)}
    beside = read_script(draft) if look == Look.PAGES else None
    meeting = sharing_lines(filtered.rows) if how.meets_lines else None
    return {
        "page": page.rows,
        "pages": pages,
        "looks": Look.choices,
        "groupings": GROUPINGS,
        "orders": ORDERS,
        "groups": grouped_on_lines(page.groups, cards, alike, meeting=meeting, beside=beside),
        "last_came_to": CameTo(last, cards[last.note_id].overtaken).words if last else "",
        "gone": sum(row.first_line is None for row in page.rows),
    }


@require_POST
@members_who_may(Deed.READ)
def notes_look(request: Request, member: Member) -> HttpResponse:
    """Choose how one likes to look at the notes; a look that nobody knows changes nothing."""
    if (look := request.POST.get("look", "")) in Look.values:
        choose_look(member, Look(look))
    return redirect(page_asked_for(request) or reverse("notes", args=[member.production.public_id]))


def note_on_screen(member: Member, note: Note) -> str:
    """Where any note of the production is found on the notes screen."""
    address = reverse("notes", args=[member.production.public_id])
    return f"{address}?state=all&author=all&at={note.public_id}#note-{note.public_id}"
