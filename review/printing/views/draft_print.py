"""A draft on paper: how it is to be printed, its PDF, and one character's sides.

The two PDFs answer GET alone: the log keeps each copy taken, and whoever asks for headers takes none.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_safe

from review.access import Deed, may
from review.downloads import PDF, download
from review.drafts.at_address import draft_or_404
from review.drafts.scripts import laid_out, read_script
from review.making.apart import Wanted, made_apart
from review.people.guard import members_who_may
from review.printing.acts import print_draft, print_sides
from review.printing.forms import NumbersForm, PaperSizeForm, PrintForm, SidesForm
from review.requests import INVALID
from screenplay.fountain import same_name
from screenplay.script import characters_of

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member


@require_safe
@members_who_may(Deed.READ)
def draft_print(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft = draft_or_404(member, number)
    return _ask(request, member, draft, _print_form(draft), _sides_form(member, draft))


def _pdf(request: HttpRequest, member: Member, number: int) -> Wanted:
    return _wanted(member, number, f"Draft {number} as a PDF")


def _sides(request: HttpRequest, member: Member, number: int) -> Wanted:
    return _wanted(member, number, f"Sides from draft {number}")


def _wanted(member: Member, number: int, what: str) -> Wanted:
    return Wanted(what, reverse("draft-print", args=[member.production.public_id, draft_or_404(member, number).number]))


@require_GET
@members_who_may(Deed.READ)
@made_apart(Deed.READ, _pdf)
def draft_pdf(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft = draft_or_404(member, number)
    form = _print_form(draft, request)
    if not form.is_valid():
        return _ask(request, member, draft, form, _sides_form(member, draft), status=INVALID)
    told = form.cleaned_data
    data = print_draft(
        member,
        draft,
        told["paper"],
        scene_numbers=told["scene_numbers"],
        with_notes=told["notes"],
        for_writers_too=told["for_writers_too"],
    )
    return download(data, draft.file_name("pdf"), PDF)


@require_GET
@members_who_may(Deed.READ)
@made_apart(Deed.READ, _sides)
def draft_sides(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft = draft_or_404(member, number)
    form = _sides_form(member, draft, request)
    if not form.is_valid():
        return _ask(request, member, draft, _print_form(draft), form, status=INVALID)
    told = form.cleaned_data
    data = print_sides(member, draft, told["character"], told["paper"], scene_numbers=told["scene_numbers"])
    return download(data, draft.file_name("pdf", f"sides {told['character']}"), PDF)


def _print_form(draft: Draft, request: HttpRequest | None = None) -> PrintForm:
    return PrintForm(request.GET if request else None, draft=draft, auto_id="print-%s")


def _sides_form(member: Member, draft: Draft, request: HttpRequest | None = None) -> SidesForm:
    """The form for the sides of those who speak in a scene of the draft, most words first."""
    characters = [character.name for character in characters_of(read_script(draft))]
    told = request.GET if request else None
    own = next((name for name in characters if same_name(name) == same_name(member.plays)), None)
    return SidesForm(told, draft=draft, characters=characters, own=own, auto_id="sides-%s")


def _ask(
    request: HttpRequest, member: Member, draft: Draft, form: PrintForm, sides: SidesForm, status: int = 200
) -> HttpResponse:
    context: dict[str, Any] = {
        "member": member,
        "draft": draft,
        "form": form,
        "sides": sides,
        "pages": laid_out(draft),
    }
    if may(member, Deed.PUBLISH):
        context["copies"] = {
            "text": PaperSizeForm(draft=draft, auto_id="text-%s"),
            "html": NumbersForm(draft=draft, auto_id="html-%s"),
        }
    return render(request, "printing/draft_print.html", context, status=status)
