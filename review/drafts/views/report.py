"""What was read in a draft: its length, scenes, characters and title page, and what a writer may want to mend."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from review.access import Deed, may, members_who_may
from review.drafts.rules import Remark, remarks
from review.drafts.scripts import read_script
from review.notes.models import Fate, Placement

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member

# Encodings as people know them, by the names Python has for them.
ENCODING_WORDS = {
    "ascii": "plain ASCII",
    "utf-8": "UTF-8",
    "utf-16-le": "UTF-16",
    "utf-16-be": "UTF-16",
    "cp1252": "Windows-1252",
    "mac_roman": "Mac Roman",
}


@require_safe
@members_who_may(Deed.READ)
def draft_report(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    draft = get_object_or_404(member.production.drafts.select_related("uploaded_by__person"), number=number)
    script = read_script(draft)
    found: tuple[Remark, ...] = remarks(script)
    context = {
        "member": member,
        "draft": draft,
        "script": script,
        "remarks": found,
        "encoding": ENCODING_WORDS.get(draft.encoding.lower(), draft.encoding),
        "fates": count_fates(member, draft),
        "may_invite": may(member, Deed.INVITE),
        "may_publish": may(member, Deed.PUBLISH),
    }
    return render(request, "drafts/report.html", context)


def count_fates(member: Member, draft: Draft) -> list[tuple[str, str, int]]:
    """How many of the notes this member may read came to each fate in this draft: (fate, its name, how many)."""
    visible = member.production.notes.visible_to(member).standing()
    fates = list(Placement.objects.filter(draft=draft, note__in=visible).values_list("fate", flat=True))
    return [(fate.value, str(fate.label), fates.count(fate)) for fate in Fate] if fates else []
