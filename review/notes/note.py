"""One note: leaving it, looking at it with its thread, taking it back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from review.access import Deed, members_who_may
from review.drafts.models import Draft
from review.notes import acts
from review.notes.cards import card_of, shown_draft
from review.notes.forms import NoteForm
from review.notes.models import Note

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.notes.forms import ReplyForm
    from review.people.models import Member


@require_http_methods(["GET", "POST"])
@members_who_may(Deed.NOTE)
def note_new(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    """The form for a note on lines of a draft, and what it sends."""
    draft = get_object_or_404(Draft, production_id=member.production_id, number=number)
    if request.method == "GET":
        form = NoteForm(member, draft, initial=request.GET.dict())
        return render(request, "notes/note_new.html", {"member": member, "draft": draft, "form": form})
    form = NoteForm(member, draft, request.POST)
    if not form.is_valid():
        context = {"member": member, "draft": draft, "form": form}
        return render(request, "notes/note_new.html", context, status=422)
    cleaned = form.cleaned_data
    note = acts.leave_note(
        member,
        draft,
        cleaned["span"],
        cleaned["kind"],
        cleaned["body"],
        cleaned["wording"],
        cleaned["audience"],
        form_id=cleaned["form_id"],
    )
    return redirect(script_address(member, draft, note))


@require_GET
@members_who_may(Deed.READ)
def note(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    """One note with its thread, on the draft named by `shown` or else its own."""
    found = get_object_or_404(Note.objects.visible_to(member).select_related("draft"), public_id=public_id)
    template = "notes/card.html" if request.htmx else "notes/note.html"
    return render(request, template, note_page_context(request, member, found))


@require_POST
@members_who_may(Deed.NOTE)
def note_withdraw(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    """Take back one's own note."""
    found = get_object_or_404(Note.objects.visible_to(member), public_id=public_id)
    acts.withdraw_note(member, found)
    if not request.htmx:
        messages.success(request, "Your note is withdrawn. Nobody else can read it now.")
    return answer_with_card(request, member, found)


def script_address(member: Member, draft: Draft, note: Note) -> str:
    """Where the note stands on the script screen."""
    return reverse("script", args=[member.production.public_id, draft.number]) + f"#note-{note.public_id}"


def note_page_context(
    request: HttpRequest, member: Member, note: Note, reply_form: ReplyForm | None = None
) -> dict[str, Any]:
    """What the note's page and its card need; `shown`, in the address or the form, names the draft looked at."""
    number = request.POST.get("shown") or request.GET.get("shown")
    card = card_of(member, note, shown_draft(member, note, number))
    return {"member": member, "card": card, "draft": card.draft, "reply_form": reply_form}


def answer_with_card(request: HttpRequest, member: Member, note: Note) -> HttpResponse:
    """The note's fresh card for a page that asked by htmx; otherwise the note's place on the script screen."""
    if request.htmx:
        return render(request, "notes/card.html", note_page_context(request, member, note))
    return redirect(script_address(member, shown_draft(member, note, request.POST.get("shown")), note))
