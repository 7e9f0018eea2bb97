"""The settings of a production: what it is called, how its pages are laid out, its colours and its language."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING

from django.conf.locale import LANG_INFO
from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from review.access import Deed
from review.drafts.numbering import PagesAreLocked
from review.people.guard import members_who_may
from review.productions.models import PaperChoice
from review.productions_screen.acts import Settings, SettingsChangedMeanwhile, change_settings, settings_of
from review.productions_screen.forms import BLANK_LINES, SettingsForm
from review.requests import CONFLICT, INVALID

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member

LANGUAGES = sorted((code, info["name_local"]) for code, info in LANG_INFO.items() if "name_local" in info)


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.SET_UP)
def settings(request: HttpRequest, member: Member) -> HttpResponse:
    """The form, and what it sends. Of two people who save at once, the later is shown what the other saved."""
    if request.method != "POST":
        return _show(request, member, _form(settings_of(member.production)))
    form = SettingsForm(request.POST, label_suffix="")
    if not form.is_valid():
        return _show(request, member, form, status=INVALID)
    try:
        is_new = change_settings(member, form.settings, form.cleaned_data["seen"])
    except SettingsChangedMeanwhile as meanwhile:
        again = _form(form.settings, seen=meanwhile.settings.seen)
        return _show(request, member, again, status=CONFLICT, meanwhile=meanwhile)
    except PagesAreLocked:
        form.say_pages_are_locked(settings_of(member.production))
        return _show(request, member, form, status=CONFLICT)
    messages.success(request, "Saved. Every page number follows these settings." if is_new else "Nothing has changed.")
    return redirect("settings", member.production.public_id)


def _form(shown: Settings, seen: str = "") -> SettingsForm:
    return SettingsForm(initial={**asdict(shown), "seen": seen or shown.seen}, label_suffix="")


def _show(
    request: HttpRequest,
    member: Member,
    form: SettingsForm,
    status: int = 200,
    meanwhile: SettingsChangedMeanwhile | None = None,
) -> HttpResponse:
    context = {
        "member": member,
        "form": form,
        "languages": LANGUAGES,
        "meanwhile": meanwhile,
        "theirs": _in_words(form, meanwhile.settings) if meanwhile else [],
    }
    return render(request, "productions_screen/settings.html", context, status=status)


def _in_words(form: SettingsForm, standing: Settings) -> list[tuple[str, str]]:
    """The settings that stand and differ from the form's: (what it is called, how it stands)."""
    asked = Settings(**{name: form.initial[name] for name in asdict(standing)})
    differing = standing.differing_from(asked).items()
    return [(str(form.fields[name].label), _words(name, value)) for name, value in differing]


def _words(name: str, value: object) -> str:
    if isinstance(value, tuple):
        return ", ".join(value)
    if name == "paper":
        return str(PaperChoice(str(value)).label)
    if name == "blank_lines_before_heading":
        return dict(BLANK_LINES)[int(str(value))]
    return str(value) or "the server’s own"
