"""The list of a person's productions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib.auth.decorators import login_not_required
from django.db.models import OuterRef, Subquery
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from review.access import may_start_productions
from review.people.models import Person
from review.productions.models import Production

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse


@require_safe
@login_not_required
def productions(request: HttpRequest) -> HttpResponse:
    """For those who are signed in; on a server where nobody is yet, it leads to the setup."""
    if not isinstance(request.user, Person):
        return redirect("account_login" if Person.objects.exists() else "setup")
    latest = Production.objects.filter(pk=OuterRef("production"), drafts__withdrawn_at=None).order_by("-drafts__number")
    memberships = (
        request.user.open_memberships.select_related("production")
        .annotate(
            draft_number=Subquery(latest.values("drafts__number")[:1]),
            draft_label=Subquery(latest.values("drafts__label")[:1]),
        )
        .order_by("production__name")
    )
    context = {"memberships": memberships, "may_start": may_start_productions(request.user)}
    return render(request, "productions_screen/productions.html", context)
