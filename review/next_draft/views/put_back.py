"""Taking the working text away to edit it elsewhere, and putting it back: only what differs is taken over."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.contrib import messages
from django.shortcuts import redirect, render
from django.utils.formats import date_format
from django.utils.timezone import localtime
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from review.access import Deed
from review.downloads import download, file_name
from review.drafts.texts import hash_text
from review.next_draft.addressed import closed, not_open, open_or_404
from review.next_draft.forms import Origin, PutBackForm
from review.notes.forms import line_feeds
from review.people.guard import members_who_may
from review.requests import CONFLICT, INVALID
from review.rewriting import acts
from review.rewriting.models import WorkingIsClosed
from review.rewriting.taking_over import ReadsOtherwise, take_over
from screenplay import merge
from screenplay.comparing import word_changes
from screenplay.next_draft import Conflict, Merged, keep_line_ends

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.requests import Request
    from review.rewriting.models import DownloadedText, WorkingDraft
    from screenplay.comparing import WordChange

DRAFT = "draft"
OURS, THEIRS, OTHER = "ours", "theirs", "other"
CHANGED_MEANWHILE = "The working draft was changed meanwhile. Nothing is taken over yet: look at what differs now."


@dataclass(frozen=True, slots=True)
class Choice:
    """A conflict with the writer's choice so far: `chosen` is ours, theirs, other or nothing yet."""

    ordinal: int
    conflict: Conflict
    chosen: str
    other: str

    @property
    def changes_here(self) -> tuple[WordChange, ...]:
        return word_changes(line_feeds(self.conflict.base), line_feeds(self.conflict.ours))

    @property
    def changes_there(self) -> tuple[WordChange, ...]:
        return word_changes(line_feeds(self.conflict.base), line_feeds(self.conflict.theirs))

    @property
    def text(self) -> str | None:
        """What is to stand in the conflict's place; None while nothing is chosen."""
        return {OURS: self.conflict.ours, THEIRS: self.conflict.theirs, OTHER: self.other}.get(self.chosen)


@require_GET
@members_who_may(Deed.REWRITE)
def working_download(request: Request, member: Member) -> HttpResponse:
    """The working text as a Fountain file, kept as the text that it is merged by when it is put back.

    It answers GET alone: whoever asks for headers takes nothing away.
    """
    working = open_or_404(member)
    try:
        text = acts.take_working_text(member, working)
    except WorkingIsClosed:
        return closed(request, member)
    name = file_name(f"{member.production.name} working draft", "fountain")
    return download(text.encode(), name, "text/plain; charset=utf-8")


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.REWRITE)
def working_put_back(request: Request, member: Member) -> HttpResponse:
    """Put an edited text back. What both texts changed is asked about first, and nothing is stored until it is said."""
    working = member.production.working_drafts.open_now()
    if working is None:
        return closed(request, member) if request.method == "POST" else not_open(request, member)
    origins = _origins(member, working)
    if request.method != "POST":
        return _ask(request, member, working, PutBackForm(origins))
    form = PutBackForm(origins, request.POST, request.FILES)
    if not form.is_valid():
        return _ask(request, member, working, form, status=INVALID)
    base = next(origin for origin in origins if origin.key == form.cleaned_data["since"])
    edited = keep_line_ends(base.text, form.cleaned_data["edited"], working.base.usual_line_end)
    return _merge(request, member, working, base, edited)


@require_POST
@members_who_may(Deed.REWRITE)
def working_catch_up(request: Request, member: Member) -> HttpResponse:
    """Take over what a draft changed that was put up after the working draft was begun, and go on from that one."""
    working, current = member.production.working_drafts.open_now(), member.production.drafts.current()
    if working is None or current is None:
        return closed(request, member)
    base = Origin(DRAFT, str(working.base), working.base.text)
    theirs = keep_line_ends(base.text, current.text, working.base.usual_line_end)
    return _merge(request, member, working, base, theirs, onto=current)


def _merge(
    request: Request, member: Member, working: WorkingDraft, base: Origin, edited: str, onto: Draft | None = None
) -> HttpResponse:
    ours = working.joined_text()
    merged = merge(base.text, ours, edited)
    choices = _choices(request, merged)
    shown: dict[str, Any] = {"base": base, "edited": edited, "choices": choices, "seen": hash_text(ours), "onto": onto}
    if request.POST.get("seen") and request.POST["seen"] != shown["seen"]:
        return _choose(request, member, working, shown, CONFLICT, CHANGED_MEANWHILE)
    settled = [choice.text for choice in choices]
    if None in settled:
        sentence = "Say for each place which text is to stand." if request.POST.get("seen") else ""
        return _choose(request, member, working, shown, INVALID, sentence)
    try:
        told = take_over(member, working, merged.settled([text or "" for text in settled]), shown["seen"], onto)
    except ReadsOtherwise:
        return _choose(request, member, working, shown, CONFLICT, CHANGED_MEANWHILE)
    except WorkingIsClosed:
        return closed(request, member)
    none_taken = "The text here stands as it was" if choices else "Nothing differed"
    messages.success(request, f"{told.in_words or none_taken}. Each scene keeps its earlier texts.")
    return redirect("working", member.production.public_id)


def _choices(request: Request, merged: Merged) -> list[Choice]:
    """The conflicts, with what the form said of each."""
    return [
        Choice(
            ordinal,
            conflict,
            request.POST.get(f"choice-{ordinal}", ""),
            keep_line_ends(conflict.base or conflict.ours or conflict.theirs, request.POST.get(f"other-{ordinal}", "")),
        )
        for ordinal, conflict in enumerate(merged.conflicts, 1)
    ]


def _ask(request: Request, member: Member, working: WorkingDraft, form: PutBackForm, status: int = 200) -> HttpResponse:
    context = {"member": member, "working": working, "form": form}
    return render(request, "next_draft/put_back.html", context, status=status)


def _choose(
    request: Request, member: Member, working: WorkingDraft, shown: dict[str, Any], status: int, sentence: str
) -> HttpResponse:
    context = {"member": member, "working": working, "sentence": sentence, **shown}
    return render(request, "next_draft/put_back_choose.html", context, status=status)


def _origins(member: Member, working: WorkingDraft) -> list[Origin]:
    """What an edited text may have been made from: the texts taken away, one's own and the latest first, and the draft
    that the working draft was begun from."""
    downloads = working.downloads.select_related("taken_by__person")
    ordered = sorted(downloads, key=lambda download: download.taken_by_id != member.pk)
    begun_from = working.begun_from
    taken = [Origin(download.public_id, _taken(member, download), download.text) for download in ordered]
    return [*taken, Origin(DRAFT, f"{begun_from}, as it was put up", begun_from.text)]


def _taken(member: Member, download: DownloadedText) -> str:
    who = "you" if download.taken_by_id == member.pk else download.taken_by.name
    return f"the text {who} took away on {date_format(localtime(download.taken_at), 'j F Y, H:i')}"
