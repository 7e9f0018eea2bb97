"""Setting by hand where a note stands in the current draft."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from review.access import Deed
from review.cards.note_cards import card_of
from review.decisions import acts
from review.drafts.printed_lines import lines_as_read
from review.drafts.scripts import compare_drafts, laid_out, read_script
from review.notes.carrying import last_position_before
from review.notes.models import Note, Subject
from review.notes.page_names import on_page, page_name
from review.notes.subjects import heading_of
from review.notes_screen.forms import PlaceForm
from review.notes_screen.line_suggestions import lines_with, suggest_lines
from review.notes_screen.views.notes import note_on_screen
from review.people.guard import members_who_may
from review.requests import CONFLICT, INVALID

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.cards.note_card import NoteCard
    from review.drafts.models import Draft
    from review.people.models import Member
    from review.requests import Request
    from screenplay import Span

FRAGMENTS = {"place-choice": "notes_screen/place_choice.html", "place-found": "notes_screen/place_found.html"}


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.DECIDE)
def place(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Show where a note stood and the current draft's lines, and set its place among them.

    A form sent with `look` only shows the lines it names.
    """
    note = get_object_or_404(Note.objects.visible_to(member).select_related("draft"), public_id=public_id)
    draft = member.production.drafts.current()
    if draft is None or draft.number <= note.draft.number:
        raise Http404("A note stands where its author put it in its own draft")
    if request.method != "POST":
        form = PlaceForm(note, draft, request.GET if "first_line" in request.GET else None)
        return _show(request, member, note, draft, form)
    form = PlaceForm(note, draft, request.POST)
    if not form.is_valid():
        return _show(request, member, note, draft, form, status=CONFLICT if form.is_outdated else INVALID)
    if "look" in request.POST:
        return _show(request, member, note, draft, form)
    span = form.cleaned_data["span"]
    character = form.cleaned_data["character"]
    placed = acts.place_note(member, note, draft, span, character)
    messages.success(request, f"Set: in {draft} the note {_where(draft, note, span, placed.character)}.")
    return redirect(note_on_screen(member, note))


def _where(draft: Draft, note: Note, span: Span | None, character: str) -> str:
    if span is None:
        return "has no lines"
    if note.subject == Subject.CHARACTER:
        return f"is on {character}"
    if note.subject == Subject.SCENE:
        return f"is on {heading_of(read_script(draft), span.first_line)}"
    return f"stands on {on_page(page_name(laid_out(draft), span.first_line, span.last_line))}"


def _show(
    request: Request, member: Member, note: Note, draft: Draft, form: PlaceForm, status: int = 200
) -> HttpResponse:
    earlier, stood = last_position_before(note, draft)
    script = read_script(draft)
    lines_before, lines = lines_as_read(read_script(earlier)), lines_as_read(script)
    numbered = [(at, line, str(kind)) for at, (line, kind) in enumerate(zip(lines, script.kinds, strict=True), 1)]
    words = request.GET.get("words", "").strip()
    chosen = form.cleaned_data.get("span") if form.is_valid() else None
    card = card_of(member, note, draft)
    stood_on, suggested = card.printed_lines, []
    if note.subject == Subject.LINES:
        first, last = stood.first_line, stood.last_line
        stood_on = "\n".join(lines_before[first - 1 : last])
        suggested = suggest_lines(first, last, note.wording, compare_drafts(earlier, draft), lines_before, lines)
    context: dict[str, Any] = {
        "member": member,
        "draft": draft,
        "card": card,
        "earlier": earlier,
        "stood": stood,
        "stood_on": stood_on,
        "form": form,
        "chosen": chosen,
        "chosen_lines": numbered[chosen.first_line - 1 : chosen.last_line] if chosen else [],
        "choices": _choices(note, draft),
        "chosen_subject": _chosen_subject(card),
        "words": words,
        "found": lines_with(words, lines),
        "suggested": suggested,
        "script_lines": numbered,
    }
    fragment = FRAGMENTS.get(request.htmx.target or "") if request.htmx else None
    return render(request, fragment or "notes_screen/place.html", context, status=status)


def _choices(note: Note, draft: Draft) -> list[tuple[str, str, str]]:
    """What a note on a scene or a character can be on: the form's value, the name, and where that is."""
    if note.subject == Subject.SCENE:
        return [
            (str(scene.first_line), f"{scene.number or scene.ordinal} {scene.heading}", f"Page {scene.page_label or 1}")
            for scene in laid_out(draft).scenes
        ]
    if note.subject == Subject.CHARACTER:
        return [
            (one.name, one.name, f"{one.speeches} speech{'' if one.speeches == 1 else 'es'}")
            for one in laid_out(draft).characters
        ]
    return []


def _chosen_subject(card: NoteCard) -> str:
    """The form's value of the scene or the character that a note is on."""
    if card.subject == Subject.CHARACTER:
        return card.stands.name
    return str(card.stands.span.first_line) if card.stands.span else ""
