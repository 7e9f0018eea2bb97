"""The first page of a new server: who its first writer is, and what the production is called."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from review.people import acts
from review.people.forms import SetupForm
from review.people.models import Person
from review.people.secrecy import holds_a_secret

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

SIGN_IN_BACKEND = "allauth.account.auth_backends.AuthenticationBackend"


@require_http_methods(["GET", "HEAD", "POST"])
@login_not_required
@holds_a_secret
def setup(request: HttpRequest) -> HttpResponse:
    """For anyone who has the code, while nobody is here; afterwards it leads to signing in."""
    if Person.objects.exists():
        return redirect("account_login")
    form = SetupForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        told = form.cleaned_data
        try:
            production = acts.set_up_first_writer(
                told["code"], told["name"], told["email"], told["password"], told["title"]
            )
        except acts.Refused as refusal:
            form.add_error("code", str(refusal))
        else:
            login(request, production.started_by, backend=SIGN_IN_BACKEND)
            return redirect("draft-upload", production.public_id)
    elif form.is_bound and "code" in form.cleaned_data:
        _check_code(form)
    return render(request, "people/setup.html", {"form": form}, status=422 if form.errors else 200)


def _check_code(form: SetupForm) -> None:
    """Say what is wrong with the code beside what else is wrong, rather than after it."""
    try:
        acts.check_setup_code(form.cleaned_data["code"])
    except acts.Refused as refusal:
        form.add_error("code", str(refusal))
