"""Writing a world paper: putting one up, its next version, whom it is for, and its pictures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from review.access import Deed, Role
from review.notes.forms import kept_key
from review.papers.acts import (
    NameTaken,
    NewVersionMeanwhile,
    PaperAsked,
    PaperChangedMeanwhile,
    TooManyPictures,
    add_picture,
    put_up_paper,
    put_up_version,
)
from review.papers.finding import paper_or_404
from review.papers.forms import PictureForm, WorldPaperForm, about_paper
from review.people.guard import members_who_may
from review.requests import CONFLICT, INVALID, lead_on

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.papers.models import WorldPaper
    from review.people.models import Member
    from review.requests import Request

MEANWHILE = (
    "Another version went up while you wrote. Nothing was stored, and what you wrote is still here: look at the latest "
    "version in another window, take over what you want of it, and put yours up again."
)
SAID_OTHERWISE = (
    "Somebody changed the title, or whom it is for, while you wrote. Nothing was stored, and what you wrote is still "
    "here. By now it is called “{}” and is for {}, besides writers. Send it again if yours is to stand."
)
UP_ALREADY = "You put this paper up already. Here it is: it counts once."
WITHDRAWN_SINCE = "You put this paper up already, and it was withdrawn since."
TAKEN = "This paper has a picture of that name, which earlier versions show. Give this one another name."
ENOUGH = "This paper has as many pictures as one can have."


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.WRITE_PAPERS)
def paper_new(request: Request, member: Member) -> HttpResponse:
    readers = _readers(member)
    if request.method != "POST":
        return _show(request, member, None, WorldPaperForm(readers=readers, initial={"seen": 0}))
    form = WorldPaperForm(request.POST, readers=readers)
    if not form.is_valid():
        return _show(request, member, None, form, status=INVALID)
    made = put_up_paper(member, form.asked, form.cleaned_data["text"], form.cleaned_data["form_id"])
    if made.came_otherwise:
        return _show(request, member, None, form.renewed(), status=CONFLICT)
    if made.came_again:
        messages.info(request, UP_ALREADY if made.withdrawn_at is None else WITHDRAWN_SINCE)
    return lead_on(request, reverse("paper", args=[member.production.public_id, made.public_id]))


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.WRITE_PAPERS)
def paper_write(request: Request, member: Member, public_id: str) -> HttpResponse:
    found = paper_or_404(member, public_id)
    if request.method != "POST":
        return _show(request, member, found, _as_it_stands(member, found))
    form = WorldPaperForm(request.POST, readers=_readers(member))
    if not form.is_valid():
        return _show(request, member, found, form, status=INVALID)
    try:
        told = form.cleaned_data
        put_up_version(member, found, form.asked, told["text"], told["seen"], told["seen_asked"])
    except NewVersionMeanwhile:
        form.go_on_from(found.versions.count(), PaperAsked.of(found))
        form.add_error(None, MEANWHILE)
        return _show(request, member, found, form, status=CONFLICT)
    except PaperChangedMeanwhile as meanwhile:
        standing = meanwhile.standing
        form.change_from(standing)
        form.add_error(None, SAID_OTHERWISE.format(standing.title, standing.readers_in_words))
        return _show(request, member, found, form, status=CONFLICT)
    return lead_on(request, reverse("paper", args=[member.production.public_id, found.public_id]))


@require_POST
@members_who_may(Deed.WRITE_PAPERS)
def paper_picture_add(request: Request, member: Member, public_id: str) -> HttpResponse:
    found = paper_or_404(member, public_id)
    form = PictureForm(request.POST, request.FILES)
    if form.is_valid():
        name = form.cleaned_data["name"]
        try:
            add_picture(member, found, name, form.cleaned_data["file"])
        except NameTaken:
            form.add_error("name", TAKEN)
        except TooManyPictures:
            form.add_error(None, ENOUGH)
        else:
            messages.success(request, f"The picture is there. Type ![what it shows]({name}) where it should stand.")
            return redirect("paper-write", member.production.public_id, found.public_id)
    return _show(request, member, found, _as_it_stands(member, found), form, status=INVALID)


def _as_it_stands(member: Member, found: WorldPaper) -> WorldPaperForm:
    latest = found.versions.order_by("-number")[0]
    initial = about_paper(PaperAsked.of(found)) | {"text": latest.text, "seen": latest.number}
    return WorldPaperForm(readers=_readers(member), initial=initial)


def _readers(member: Member) -> list[Member]:
    """Those whom a paper can be for by name: writers read all of them."""
    members = member.production.members.filter(removed_at=None).exclude(role=Role.WRITER)
    return list(members.select_related("person"))


def _show(
    request: Request,
    member: Member,
    found: WorldPaper | None,
    form: WorldPaperForm,
    picture_form: PictureForm | None = None,
    status: int = 200,
) -> HttpResponse:
    ids = [member.production.public_id, *([found.public_id] if found else [])]
    context = {
        "member": member,
        "paper": found,
        "address": reverse("paper-write" if found else "paper-new", args=ids),
        "kept_key": kept_key(member, "paper", found.public_id if found else "new"),
        "form": form,
        "picture_form": picture_form or PictureForm(),
        "pictures": list(found.pictures.defer("content")) if found else [],
    }
    return render(request, "papers/paper_write.html", context, status=status)
