"""One world paper: its paragraphs with what was said on each, its pictures, and the forms to say something."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from review.access import Deed, may
from review.decisions.acts import NeedsReason
from review.notes.forms import kept_key
from review.notes.pace import TooFast
from review.papers.finding import paper_or_404
from review.papers.forms import PaperDecisionForm, PaperNoteForm, PaperReplyForm
from review.papers.note_acts import (
    NoParagraph,
    PaperDecidedMeanwhile,
    decide_paper_note,
    leave_paper_note,
    put_paper_note_back,
    reply_to_paper_note,
    withdraw_paper_note,
    withdraw_paper_reply,
)
from review.papers.note_models import PaperNote, PaperReply
from review.papers.shown import show_paper
from review.people.guard import members_who_may
from review.requests import CONFLICT, INVALID, TOO_MANY, lead_on

if TYPE_CHECKING:
    from review.papers.models import PaperPicture, PaperReaders, PaperVersion, WorldPaper
    from review.people.models import Member
    from review.requests import Request

NO_REASON = "Say why you decline it: the reader who wrote it will want to know."
MEANWHILE = "Somebody decided this note meanwhile, as it stands here now. What you wrote was not stored."
NO_PARAGRAPH = "This version has no such paragraph. Choose one of those below."


@require_safe
@members_who_may(Deed.READ)
def paper(request: Request, member: Member, public_id: str) -> HttpResponse:
    found = paper_or_404(member, public_id)
    return _show(request, member, found, _version(found, request.GET.get("version", "")))


@require_safe
@members_who_may(Deed.READ)
def paper_picture(request: Request, member: Member, public_id: str, name: str) -> HttpResponse:
    """A picture, to whoever may read its paper; nothing in it is run, and it is kept nowhere on the way."""
    found = paper_or_404(member, public_id)
    picture: PaperPicture = get_object_or_404(found.pictures, name=name)
    response = HttpResponse(bytes(picture.content), content_type=picture.media_type)
    response["X-Content-Type-Options"] = "nosniff"
    response["Content-Security-Policy"] = "default-src 'none'; sandbox"
    response["Content-Disposition"] = "inline"
    response["Cache-Control"] = "private, no-store"
    return response


@require_POST
@members_who_may(Deed.NOTE)
def paper_note_new(request: Request, member: Member, public_id: str) -> HttpResponse:
    found = paper_or_404(member, public_id)
    version = _version(found, request.POST.get("version", ""))
    form = PaperNoteForm(request.POST)
    if not form.is_valid():
        return _show(request, member, found, version, note_form=form, status=INVALID)
    told = form.cleaned_data
    words = (told["paragraph"], told["kind"], told["body"], told["audience"], told["form_id"])
    try:
        note = leave_paper_note(member, version, *words)
    except NoParagraph:
        form.add_error(None, NO_PARAGRAPH)
        return _show(request, member, found, version, note_form=form, status=INVALID)
    except TooFast as why:
        form.add_error(None, str(why))
        return _show(request, member, found, version, note_form=form, status=TOO_MANY)
    if note.came_otherwise:
        return _show(request, member, found, version, note_form=form.renewed(), status=CONFLICT)
    _tell_of_what_came_again(request, note, "You left this note already")
    return _back(request, found, note)


@require_POST
@members_who_may(Deed.NOTE)
def paper_reply_new(request: Request, member: Member, public_id: str) -> HttpResponse:
    note = _note_or_404(member, public_id)
    found = note.version.paper
    form = PaperReplyForm(request.POST)
    if not form.is_valid():
        return _show(request, member, found, _version(found), reply_form=form, at=note.pk, status=INVALID)
    try:
        reply = reply_to_paper_note(member, note, form.cleaned_data["body"], form.cleaned_data["form_id"])
    except TooFast as why:
        form.add_error(None, str(why))
        return _show(request, member, found, _version(found), reply_form=form, at=note.pk, status=TOO_MANY)
    if reply.came_otherwise:
        return _show(request, member, found, _version(found), reply_form=form.renewed(), at=note.pk, status=CONFLICT)
    _tell_of_what_came_again(request, reply, "You sent this reply already")
    return _back(request, found, note)


@require_POST
@members_who_may(Deed.DECIDE)
def paper_decide(request: Request, member: Member, public_id: str) -> HttpResponse:
    note = _note_or_404(member, public_id)
    found = note.version.paper
    form = PaperDecisionForm(request.POST)
    if not form.is_valid():
        return _show(request, member, found, _version(found), decision_form=form, at=note.pk, status=INVALID)
    told = form.cleaned_data
    try:
        decide_paper_note(member, note, told["outcome"], told["reason"], told["seen"], told["form_id"])
    except PaperDecidedMeanwhile:
        form.add_error(None, MEANWHILE)
        return _show(request, member, found, _version(found), decision_form=form, at=note.pk, status=CONFLICT)
    except NeedsReason:
        form.add_error("reason", NO_REASON)
        return _show(request, member, found, _version(found), decision_form=form, at=note.pk, status=INVALID)
    return _back(request, found, note)


@require_POST
@members_who_may(Deed.NOTE)
def paper_note_withdraw(request: Request, member: Member, public_id: str) -> HttpResponse:
    note = _note_or_404(member, public_id)
    withdraw_paper_note(member, note)
    messages.success(request, "Your note is withdrawn. Nobody else can read it now.")
    return _back(request, note.version.paper, note)


@require_POST
@members_who_may(Deed.NOTE)
def paper_note_put_back(request: Request, member: Member, public_id: str) -> HttpResponse:
    note = _note_or_404(member, public_id, with_withdrawn=True)
    put_paper_note_back(member, note)
    messages.success(request, "Your note is back, as it was.")
    return _back(request, note.version.paper, note)


@require_POST
@members_who_may(Deed.NOTE)
def paper_reply_withdraw(request: Request, member: Member, public_id: str) -> HttpResponse:
    visible = PaperReply.objects.visible_to(member).select_related("note__version__paper__production")
    reply: PaperReply = get_object_or_404(visible, public_id=public_id)
    withdraw_paper_reply(member, reply)
    return _back(request, reply.note.version.paper, reply.note)


def _show(
    request: Request, member: Member, found: WorldPaper, version: PaperVersion, status: int = 200, **forms: Any
) -> HttpResponse:
    """The paper; `forms` holds one that was filled in and could not be taken, and `at` the key of its note."""
    context = {
        "member": member,
        "shown": show_paper(member, found, version),
        "versions": list(found.versions.select_related("put_up_by__person").defer("text")),
        "empty_note": PaperNoteForm(),
        "kept_key": kept_key(member, "paper", found.public_id),
        "readers": _readers(member, found),
        "may_write": may(member, Deed.WRITE_PAPERS),
        "note_at": _paragraph(forms.get("note_form")),
        "may_note": may(member, Deed.NOTE) and found.withdrawn_at is None,
        **forms,
    }
    return render(request, "papers/paper.html", context, status=status)


def _readers(member: Member, found: WorldPaper) -> list[PaperReaders]:
    """Whom it is for beside writers, as these alone are told."""
    if not may(member, Deed.WRITE_PAPERS):
        return []
    return list(found.readers.select_related("member__person").order_by("pk"))


def _paragraph(form: PaperNoteForm | None) -> int | None:
    """The paragraph that a note was meant for, where its form says so."""
    return None if form is None else form.cleaned_data.get("paragraph")


def _version(found: WorldPaper, named: str = "") -> PaperVersion:
    """The version of a number; the latest where none is named."""
    versions = found.versions.order_by("-number")
    if named:
        if not (named.isascii() and named.isdigit() and len(named) < 10):
            raise Http404("No such version")
        versions = versions.filter(number=int(named))
    version: PaperVersion | None = versions.first()
    if version is None:
        raise Http404("No such version")
    return version


def _note_or_404(member: Member, public_id: str, *, with_withdrawn: bool = False) -> PaperNote:
    visible = PaperNote.objects.visible_to(member).select_related("version__paper__production")
    note: PaperNote = get_object_or_404(visible if with_withdrawn else visible.standing(), public_id=public_id)
    return note


def _tell_of_what_came_again(request: Request, said: PaperNote | PaperReply, sentence: str) -> None:
    if said.came_again:
        ending = ". It counts once." if said.withdrawn_at is None else ", and have withdrawn it since."
        messages.info(request, sentence + ending)


def _back(request: Request, found: WorldPaper, note: PaperNote) -> HttpResponse:
    """Leads to where the note stands."""
    address = reverse("paper", args=[found.production.public_id, found.public_id])
    return lead_on(request, f"{address}#note-{note.public_id}")
