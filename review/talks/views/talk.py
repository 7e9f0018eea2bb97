"""One talk: for whoever is asked its date and its people; for writers what there is to talk over, taking down what is
said, and deciding on the spot."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.contrib.messages import get_messages
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST, require_safe

from review.access import Deed, may
from review.downloads import PDF, download, file_name
from review.drafts.scripts import read_script
from review.mail.site import mail_is_on
from review.making.apart import Wanted, made_apart
from review.notes.forms import kept_key
from review.notes.lines import whole_span
from review.notes.models import Subject
from review.notes.pace import TooFast
from review.notes.taking_down import take_down
from review.people.by_hand import MessageByHand, message_by_hand
from review.people.guard import members_who_may
from review.requests import CONFLICT, INVALID, TOO_MANY, lead_on
from review.talks.agenda import CardsApart, agenda, said_in
from review.talks.agenda_pdf import print_agenda
from review.talks.calendars import PUBLISH, calendar_of
from review.talks.finding import talk_or_404
from review.talks.forms import TakeDownForm
from review.talks.scenes_talked_of import line_choices, scene_choices
from screenplay.script import scene_span

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.drafts.models import Draft
    from review.notes.models import Note
    from review.people.models import Member
    from review.requests import Request
    from review.talks.models import Talk

CALENDAR = "text/calendar; charset=utf-8"
AT_THE_FORM = "at-the-form"  # of a message: it is told where the reader is, and not at the head of the page


@require_safe
@members_who_may(Deed.READ)
def talk(request: Request, member: Member, public_id: str) -> HttpResponse:
    return _show(request, member, talk_or_404(member, public_id))


@require_POST
@members_who_may(Deed.TALK)
def talk_taken_down(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Write down what somebody says, in their name, and go on with the same scene; asked for its `lines`, show those of
    the scene to choose from."""
    found = talk_or_404(member, public_id)
    offered = (_speakers(member), scene_choices(found.draft))
    lines = line_choices(found.draft, request.POST.get("scene", ""))
    if "lines" in request.POST:
        form = TakeDownForm(*offered, lines=lines, initial=request.POST.dict() | {"first": "", "last": ""})
        return _show(request, member, found, form=form)
    form = TakeDownForm(*offered, request.POST, lines)
    if not form.is_valid():
        return _show(request, member, found, INVALID, form)
    said = form.cleaned_data
    words = (said["kind"], said["body"])
    subject, span = Subject.SCENE, scene_span(read_script(found.draft), said["scene"])
    if form.lines:
        subject, span = Subject.LINES, whole_span(found.draft.text, *form.lines)
    try:
        note = take_down(
            member, form.author, found.draft, span, *words, subject=subject, form_id=said["form_id"], talk=found
        )
    except TooFast as refusal:
        form.add_error(None, str(refusal))
        return _show(request, member, found, TOO_MANY, form)
    if note.came_otherwise:
        return _show(request, member, found, CONFLICT, form.renewed())
    if note.came_again:
        messages.info(request, _became_of(note), extra_tags=AT_THE_FORM)
    else:
        told = f"Written down in the name of {note.author_name}, who can correct it."
        messages.success(request, told, extra_tags=AT_THE_FORM)
    page = reverse("talk", args=[member.production.public_id, found.public_id])
    return lead_on(request, f"{page}?scene={said['scene']}#take-down")


@require_safe
@members_who_may(Deed.READ)
def talk_calendar(request: Request, member: Member, public_id: str) -> HttpResponse:
    """The talk for a calendar: RFC 5545."""
    found = talk_or_404(member, public_id)
    data = calendar_of(found, PUBLISH).encode()
    return download(data, file_name(f"{found.production.name} talk draft {found.draft.number}", "ics"), CALENDAR)


def _agenda_to_print(request: Request, member: Member, public_id: str) -> Wanted:
    found = talk_or_404(member, public_id)
    page = reverse("talk", args=[found.production.public_id, found.public_id])
    return Wanted("The agenda as a PDF", page)


@require_GET
@members_who_may(Deed.TALK)
@made_apart(Deed.TALK, _agenda_to_print)
def talk_agenda(request: Request, member: Member, public_id: str) -> HttpResponse:
    """The agenda as a PDF, without what is for the writer's eyes only unless its address says otherwise."""
    found = talk_or_404(member, public_id)
    data = print_agenda(member, found, for_writers_too=request.GET.get("for_writers_too") == "on")
    return download(data, file_name(f"{found.production.name} agenda draft {found.draft.number}", "pdf"), PDF)


def _became_of(note: Note) -> str:
    """What is said of a note that was taken down before."""
    ending = "who can correct it." if note.withdrawn_at is None else "and was withdrawn since."
    return f"That was written down already in the name of {note.author_name}, {ending}"


def _speakers(member: Member) -> list[Member]:
    """In whose name something can be taken down: everybody on the production but the writer who does it, who leaves
    notes of their own."""
    others = member.production.members.filter(removed_at=None).exclude(pk=member.pk)
    return list(others.select_related("person"))


def _empty_form(request: Request, member: Member, draft: Draft) -> TakeDownForm:
    """For the scene that the address names, if it does."""
    scene = request.GET.get("scene", "")
    lines = line_choices(draft, scene)
    return TakeDownForm(_speakers(member), scene_choices(draft), lines=lines, initial={"scene": scene})


def _by_hand(request: Request, member: Member, found: Talk) -> MessageByHand:
    """What a writer tells those who are asked, where no mail does: how the talk stands now."""
    name, title = (
        ("off", "A message that it is off") if found.called_off_at else ("called", "A message to those who are asked")
    )
    return message_by_hand(
        request,
        member,
        name,
        title,
        found.members.all(),
        leads_to=reverse("talk", args=[found.production.public_id, found.public_id]),
        template=f"talks/{name}_message.txt",
        talk=found,
    )


def _show(
    request: Request, member: Member, found: Talk, status: int = 200, form: TakeDownForm | None = None
) -> HttpResponse:
    is_led = may(member, Deed.TALK)
    told = agenda(member, found) if is_led else None
    if told and request.htmx and request.htmx.target == "talk-sum":
        return render(request, "talks/sum.html", {"member": member, "talk": found, "agenda": told})
    waiting = list(get_messages(request))
    context = {
        "messages": [each for each in waiting if each.extra_tags != AT_THE_FORM],
        "told_at_the_form": [each for each in waiting if each.extra_tags == AT_THE_FORM],
        "member": member,
        "talk": found,
        "draft": found.draft,
        "agenda": told,
        "said": CardsApart.of(said_in(member, found, told)),
        "kept_key": kept_key(member, "taken-down", found.public_id),
        "form": form or (_empty_form(request, member, found.draft) if is_led else None),
        "is_mailed": mail_is_on(),
        "by_hand": _by_hand(request, member, found) if is_led and not mail_is_on() and not found.is_past else None,
    }
    return render(request, "talks/talk.html", context, status=status)
