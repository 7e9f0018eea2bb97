"""What changed in a world paper between two of its versions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import Http404
from django.shortcuts import render
from django.views.decorators.http import require_safe

from review.access import Deed
from review.papers.changed_paragraphs import changed_paragraphs
from review.papers.finding import paper_or_404
from review.papers.shown import picture_addresses
from review.people.guard import members_who_may

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.people.models import Member


@require_safe
@members_who_may(Deed.READ)
def paper_changes(request: HttpRequest, member: Member, public_id: str) -> HttpResponse:
    """From the version that the address names as `old` to the one it names as `new`; else from the one before the
    latest to the latest."""
    paper = paper_or_404(member, public_id)
    versions = {str(version.number): version for version in paper.versions.all()}
    latest = len(versions)
    names = (request.GET.get("old") or str(max(latest - 1, 1)), request.GET.get("new") or str(latest))
    if not all(name in versions for name in names):
        raise Http404("No such version")
    old, new = (versions[name] for name in names)
    changes = changed_paragraphs(old.text, new.text, picture_addresses(paper))
    context = {
        "member": member,
        "paper": paper,
        "versions": list(versions.values()),
        "old": old,
        "new": new,
        "changes": changes,
        "changed": sum(change.what != "kept" for change in changes),
    }
    return render(request, "papers/paper_changes.html", context)
