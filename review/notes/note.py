"""One note: leaving it, looking at it with its thread, taking it back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe
from django_htmx.http import HttpResponseClientRedirect, reswap, retarget, trigger_client_event

from review.access import Deed, members_who_may
from review.notes import acts
from review.notes.cards import card_of, shown_draft
from review.notes.forms import LinesForm, NoteForm
from review.notes.models import Note, Subject
from review.notes.script import margin_of
from review.notes.subjects import cue_of

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.drafts.models import Draft
    from review.notes.forms import ReplyForm
    from review.people.models import Member
    from review.requests import Request


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.NOTE)
def note_new(request: Request, member: Member, number: int) -> HttpResponse:
    """The form for a note on lines of a draft, and what it sends. `look` shows the form on other lines.

    `about`, in the address, chooses a scene or a character beforehand; a character alone stands for their first cue.
    """
    draft = get_object_or_404(member.production.drafts, number=number)
    if request.method != "POST":
        return _form_on_lines(request, member, draft)
    form = NoteForm(request.POST, author=member, draft=draft)
    if "look" in request.POST:
        form.is_valid()
        return _show_form(request, form.looked_at() if form.span else form, 200 if form.span else 422)
    if not form.is_valid():
        return _show_form(request, form, 422)
    left = _leave(member, draft, form)
    if not form.repeats(left):
        return _show_form(request, form.renewed(), 409)
    return _answer_new_note(request, member, draft, left)


def _form_on_lines(request: Request, member: Member, draft: Draft) -> HttpResponse:
    about = request.GET.get("about", Subject.LINES)
    if "from" not in request.GET and (cue := cue_of(draft, about)):
        return _show_form(request, NoteForm.on_lines(member, draft, cue, about=about))
    lines = LinesForm(request.GET if "from" in request.GET else None, draft=draft)
    if lines.is_valid() and lines.span:
        return _show_form(request, NoteForm.on_lines(member, draft, lines.span, about=about))
    form = NoteForm(author=member, draft=draft)
    return _show_form(request, form, 422 if lines.is_bound else 200, lines=lines)


def _show_form(request: Request, form: NoteForm, status: int = 200, lines: LinesForm | None = None) -> HttpResponse:
    template = "notes/note_form.html" if request.htmx else "notes/note_new.html"
    beside = "beside" in request.POST if request.method == "POST" else bool(request.htmx)
    context = {
        "member": form.author,
        "draft": form.draft,
        "form": form,
        "lines": lines or form,
        "beside": beside,
    }
    return render(request, template, context, status=status)


def _leave(member: Member, draft: Draft, form: NoteForm) -> Note:
    said = form.cleaned_data
    return acts.leave_note(
        member,
        draft,
        said["span"],
        said["kind"],
        said["body"],
        said["wording"],
        said["audience"],
        subject=said["subject"],
        character=said["character"],
        form_id=said["form_id"],
    )


@require_safe
@members_who_may(Deed.READ)
def note(request: Request, member: Member, public_id: str) -> HttpResponse:
    """One note with its thread, on the draft named by `shown` or else its own."""
    found = get_object_or_404(Note.objects.visible_to(member).select_related("draft__production"), public_id=public_id)
    template = "notes/card.html" if request.htmx else "notes/note.html"
    return render(request, template, note_page_context(request, member, found))


@require_POST
@members_who_may(Deed.NOTE)
def note_withdraw(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Take back one's own note."""
    found = get_object_or_404(Note.objects.visible_to(member), public_id=public_id)
    acts.withdraw_note(member, found)
    if not request.htmx:
        messages.success(request, "Your note is withdrawn. Nobody else can read it now.")
    return answer_with_card(request, member, found)


def _answer_new_note(request: Request, member: Member, draft: Draft, left: Note) -> HttpResponse:
    """The new card for its margin on the script screen; for the form's own page, the note's place on that screen."""
    if not request.htmx:
        return redirect(script_address(member, draft, left))
    card = card_of(member, left, draft)
    margin = margin_of(draft, card)
    if "beside" not in request.POST or margin is None:
        return HttpResponseClientRedirect(script_address(member, draft, left))
    response = render(request, "notes/card.html", {"member": member, "card": card, "draft": draft})
    retarget(response, f"#{margin}")
    reswap(response, "beforeend")
    return trigger_client_event(response, "noteLeft", {"note": left.public_id}, after="settle")


def script_address(member: Member, draft: Draft, note: Note) -> str:
    """Where the note stands on the script screen."""
    return reverse("script", args=[member.production.public_id, draft.number]) + f"#note-{note.public_id}"


def note_page_context(
    request: Request, member: Member, note: Note, reply_form: ReplyForm | None = None
) -> dict[str, Any]:
    """What the note's page and its card need; `shown`, in the address or the form, names the draft looked at."""
    number = request.POST.get("shown") or request.GET.get("shown")
    card = card_of(member, note, shown_draft(member, note, number))
    return {"member": member, "card": card, "draft": card.draft, "reply_form": reply_form}


def answer_with_card(request: Request, member: Member, note: Note) -> HttpResponse:
    """The note's fresh card for a page that asked by htmx; otherwise the note's place on the script screen."""
    if request.htmx:
        return render(request, "notes/card.html", note_page_context(request, member, note))
    return redirect(script_address(member, shown_draft(member, note, request.POST.get("shown")), note))
