"""A person's productions, and the home of each: what there is to do next."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import PermissionDenied
from django.db.models import OuterRef, Subquery
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from review.access import Deed, may, may_start_productions, members_who_may
from review.drafts.models import Draft
from review.people.models import Person
from review.productions.forms import ProductionForm
from review.productions.models import start_production
from review.productions.recent import recent_happenings
from review.productions.waiting import waiting_for_reader, waiting_for_writer

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member


@require_safe
@login_not_required
def productions(request: HttpRequest) -> HttpResponse:
    """For those who are signed in; on a server where nobody is yet, it leads to the setup."""
    if not isinstance(request.user, Person):
        return redirect("account_login" if Person.objects.exists() else "setup")
    latest = Draft.objects.filter(production=OuterRef("production")).order_by("-number")
    memberships = (
        request.user.memberships.filter(removed_at=None)
        .select_related("production")
        .annotate(draft_number=Subquery(latest.values("number")[:1]), draft_label=Subquery(latest.values("label")[:1]))
        .order_by("production__name")
    )
    context = {"memberships": memberships, "may_start": may_start_productions(request.user)}
    return render(request, "productions/productions.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def production_new(request: HttpRequest) -> HttpResponse:
    """For those who may start productions: the first writer of the server."""
    person = request.user
    if not isinstance(person, Person) or not may_start_productions(person):
        raise PermissionDenied("Only whoever set this server up can begin a new production here. Ask them.")
    form = ProductionForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        production = start_production(person, form.cleaned_data["name"], form.cleaned_data["form_id"])
        return redirect("home", production.public_id)
    return render(request, "productions/production_new.html", {"form": form}, status=422 if form.errors else 200)


@require_safe
@members_who_may(Deed.READ)
def home(request: HttpRequest, member: Member) -> HttpResponse:
    draft = member.production.current_draft
    context = {
        "member": member,
        "draft": draft,
        "may_publish": may(member, Deed.PUBLISH),
        "for_writer": waiting_for_writer(member, draft) if may(member, Deed.DECIDE) else None,
        "for_reader": waiting_for_reader(member, draft),
        "happenings": recent_happenings(member),
    }
    return render(request, "productions/home.html", context)
