"""The first page of a new server: who its first writer is, and what the production is called."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from review.people import acts
from review.people.forms import SetupForm
from review.people.models import Person
from review.people.secrecy import holds_a_secret
from review.people.sessions import sign_in
from review.requests import INVALID

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse


@require_http_methods(["GET", "HEAD", "POST"])
@login_not_required
@holds_a_secret
def setup(request: HttpRequest) -> HttpResponse:
    """For anyone who has the code, while nobody is here; afterwards it leads to signing in."""
    if Person.objects.exists():
        return redirect("account_login")
    form, spent = SetupForm(request.POST if request.method == "POST" else None), False
    if form.is_valid():
        told = form.cleaned_data
        try:
            production = acts.set_up_first_writer(
                told["code"], told["name"], told["email"], told["password"], told["title"]
            )
        except acts.Refused as refusal:
            spent = isinstance(refusal, acts.CodeSpent)
            form.add_error("code", str(refusal))
        else:
            sign_in(request, production.started_by)
            return redirect("draft-upload", production.public_id)
    elif form.is_bound and "code" in form.cleaned_data:
        spent = _check_code(form)
    context = {"form": form, "code_is_spent": spent}
    return render(request, "people/setup.html", context, status=INVALID if form.errors else 200)


def _check_code(form: SetupForm) -> bool:
    """Say what is wrong with the code beside what else is wrong, rather than after it; whether it counts no longer."""
    try:
        acts.check_setup_code(form.cleaned_data["code"])
    except acts.Refused as refusal:
        form.add_error("code", str(refusal))
        return isinstance(refusal, acts.CodeSpent)
    return False


@require_POST
@login_not_required
@holds_a_secret
def setup_code(request: HttpRequest) -> HttpResponse:
    """Print another code in the terminal, for whoever can see it there; once the one before counts no longer."""
    try:
        code = acts.another_setup_code()
    except acts.Refused as refusal:
        messages.error(request, str(refusal))
    else:
        print(f"A new one-time code for /setup/ was asked for: {code}", flush=True)  # noqa: T201 - the terminal is its place
        messages.success(request, "A new code stands in the terminal where the server was started, in its last line.")
    return redirect("setup")
