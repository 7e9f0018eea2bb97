"""Finding a word in a draft's script and in its notes; and which of its lines changed since the draft before."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from review.access import Deed
from review.drafts.at_address import draft_or_404
from review.drafts.drawn_pages import draw_pages
from review.drafts.scripts import compare_drafts
from review.people.guard import members_who_may
from review.script.found import MOST_LETTERS, MOST_PLACES, lines_with, notes_with
from review.script.note_marks import note_marks
from screenplay.next_draft import marks_between

if TYPE_CHECKING:
    from review.people.models import Member
    from review.requests import Request


@require_safe
@members_who_may(Deed.READ)
def script_find(request: Request, member: Member, number: int) -> HttpResponse:
    """The places where `word` stands, in the script and in the notes that the member may read."""
    draft = draft_or_404(member, number, with_text=False)
    word = " ".join(request.GET.get("word", "").split())[:MOST_LETTERS]
    drawn = draw_pages(draft)
    context = {
        "member": member,
        "draft": draft,
        "word": word,
        "lines": lines_with(word, drawn) if word else [],
        "notes": notes_with(member, word, note_marks(member, draft, drawn)) if word else [],
        "most": MOST_PLACES,
    }
    return render(request, "script/found.html" if request.htmx else "script/script_find.html", context)


@require_safe
@members_who_may(Deed.READ)
def script_changed(request: Request, member: Member, number: int) -> HttpResponse:
    """The numbers of the lines that are revised since the draft before, apart by spaces; none of the first draft."""
    draft = draft_or_404(member, number, with_text=False)
    before = member.production.drafts.standing().filter(number__lt=number).order_by("-number").first()
    lines = sorted(marks_between(compare_drafts(before, draft)).in_lines) if before else []
    return HttpResponse(" ".join(map(str, lines)), content_type="text/plain; charset=utf-8")
