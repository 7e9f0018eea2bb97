"""The notes screen: what readers said, in script order, and what became of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from review.access import Deed, may
from review.cards.note_cards import note_cards
from review.drafts.scripts import laid_out, read_script
from review.notes.models import Note
from review.notes_screen.filters import filter_notes, note_rows
from review.notes_screen.note_pages import note_pages
from review.notes_screen.shared_lines import by_character, by_scene, meeting_notes
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request

FRAGMENTS = {"notes-screen": "notes_screen/notes_list.html", "note-states": "notes_screen/states.html"}


@require_safe
@members_who_may(Deed.READ)
def notes(request: Request, member: Member) -> HttpResponse:
    """The notes that the member may read, narrowed as the address asks, as they stand in the current draft."""
    draft = member.production.drafts.current()
    if draft is None:
        context = {"member": member, "may_publish": may(member, Deed.PUBLISH)}
        return render(request, "notes_screen/notes_none.html", context)
    rows = note_rows(member, draft)
    standing = [row for row in rows if not row.is_withdrawn]
    filtered = filter_notes(member, rows, request.GET, meeting_notes(standing))
    asked = request.GET
    pages = note_pages(laid_out(draft), filtered.rows, at=asked.get("at", ""), number=asked.get("page", ""))
    page = pages.shown.rows
    wanted = Note.objects.visible_to(member).filter(pk__in=[row.pk for row in page])
    cards = {card.note.pk: card for card in note_cards(member, wanted, draft)}
    context = {
        "member": member,
        "draft": draft,
        "may_decide": may(member, Deed.DECIDE),
        "notes_in_all": len(rows),
        "filtered": filtered,
        "page": page,
        "pages": pages,
        "characters": by_character(read_script(draft), page, cards),
        "scenes": by_scene(laid_out(draft), page, cards),
        "gone": [cards[row.pk] for row in page if row.first_line is None],
    }
    fragment = FRAGMENTS.get(request.htmx.target or "") if request.htmx else None
    return render(request, fragment or "notes_screen/notes.html", context)


def note_on_screen(member: Member, note: Note) -> str:
    """Where any note of the production is found on the notes screen."""
    address = reverse("notes", args=[member.production.public_id])
    return f"{address}?state=all&author=all&at={note.public_id}#note-{note.public_id}"
