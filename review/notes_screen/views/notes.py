"""The notes screen: what readers said, in script order, and what became of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.core.paginator import Paginator
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from review.access import Deed, may
from review.cards.note_cards import note_cards
from review.drafts.scripts import laid_out, read_script
from review.notes.models import Note
from review.notes_screen.filters import filter_notes, note_rows
from review.notes_screen.shared_lines import by_character, by_scene, meeting_notes
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.notes_screen.filters import NoteRow
    from review.people.models import Member
    from review.requests import Request

NOTES_A_PAGE = 60
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
    page = Paginator(filtered.rows, NOTES_A_PAGE).get_page(_page_asked_for(request, filtered.rows))
    wanted = Note.objects.visible_to(member).filter(pk__in=[row.pk for row in page])
    cards = {card.note.pk: card for card in note_cards(member, wanted, draft)}
    context = {
        "member": member,
        "draft": draft,
        "may_decide": may(member, Deed.DECIDE),
        "notes_in_all": len(rows),
        "filtered": filtered,
        "page": page,
        "characters": by_character(read_script(draft), page, cards),
        "scenes": by_scene(laid_out(draft), list(page), cards),
        "gone": [cards[row.pk] for row in page if row.first_line is None],
    }
    fragment = FRAGMENTS.get(request.htmx.target or "") if request.htmx else None
    return render(request, fragment or "notes_screen/notes.html", context)


def _page_asked_for(request: Request, rows: tuple[NoteRow, ...]) -> int | str:
    """The page with the note that `at` names, else the one that `page` counts."""
    at = request.GET.get("at", "")
    places = [place for place, row in enumerate(rows) if row.public_id == at]
    return places[0] // NOTES_A_PAGE + 1 if places else request.GET.get("page", "1")


def note_on_screen(member: Member, note: Note) -> str:
    """Where any note of the production is found on the notes screen."""
    address = reverse("notes", args=[member.production.public_id])
    return f"{address}?state=all&author=all&at={note.public_id}#note-{note.public_id}"
