"""Beginning a production."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from review.access import refuse_to_start
from review.people.acts import start_production
from review.people.models import Person
from review.productions_screen.forms import ProductionForm
from review.requests import INVALID

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse


@require_http_methods(["GET", "HEAD", "POST"])
def production_new(request: HttpRequest) -> HttpResponse:
    """For those who may start productions: the first writer of the server."""
    person = request.user
    assert isinstance(person, Person)  # whoever is not signed in is led to sign in before
    refuse_to_start(person)
    form = ProductionForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        production = start_production(person, form.cleaned_data["name"], form.cleaned_data["form_id"])
        return redirect("home", production.public_id)
    return render(
        request, "productions_screen/production_new.html", {"form": form}, status=INVALID if form.errors else 200
    )
