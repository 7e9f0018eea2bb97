"""What was read in a draft: its length, scenes, characters and title page, and what a writer may want to mend."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from review.access import Deed, may
from review.drafts.at_address import no_such_draft
from review.drafts.scripts import laid_out
from review.mail.site import mail_is_on
from review.notes.fates import fates_since_before
from review.people.by_hand import MessageByHand, message_by_hand
from review.people.guard import members_who_may
from review.publishing.first_look import counted
from review.publishing.remarks import Remark, remarks
from review.rewriting.models import WorkingDraft
from screenplay.fountain import plain

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse

    from review.drafts.models import Draft
    from review.people.models import Member

# Encodings as people know them, by the names Python has for them.
ENCODING_WORDS = {
    "utf-8": "UTF-8",
    "utf-16-le": "UTF-16",
    "utf-16-be": "UTF-16",
    "cp1252": "Windows-1252",
}


@require_safe
@members_who_may(Deed.READ)
def draft_report(request: HttpRequest, member: Member, number: int) -> HttpResponse:
    standing = member.production.drafts.standing()
    draft = standing.select_related("uploaded_by__person").filter(number=number).first()
    if draft is None:
        raise no_such_draft(member, number)
    pages = laid_out(draft)
    found: tuple[Remark, ...] = remarks(pages.script)
    context = {
        "member": member,
        "draft": draft,
        "pages": pages,
        "has_earlier": standing.filter(number__lt=number).exists(),
        "script": pages.script,
        "title_page": [(entry.key, list(map(plain, entry.lines))) for entry in pages.script.title_page],
        "remarks": found,
        "encoding": ENCODING_WORDS.get(draft.encoding.lower(), draft.encoding),
        "written_as": WorkingDraft.objects.filter(published_as=draft).select_related("base", "restored").first(),
        "became": counted(fates_since_before(member.production.notes.visible_to(member).not_withdrawn(), draft)),
        "may_invite": may(member, Deed.INVITE),
        "may_publish": may(member, Deed.PUBLISH),
        "by_hand": _by_hand(request, member, draft) if may(member, Deed.PUBLISH) and not mail_is_on() else None,
    }
    return render(request, "publishing/report.html", context)


def _by_hand(request: HttpRequest, member: Member, draft: Draft) -> MessageByHand | None:
    """What a writer tells the others of the current draft, where no mail does; None where there is nobody to tell."""
    others = list(member.production.members.filter(removed_at=None).exclude(pk=member.pk).select_related("person"))
    standing = member.production.drafts.standing()
    if not others or standing.filter(number__gt=draft.number).exists():
        return None
    is_first = not standing.filter(number__lt=draft.number).exists()
    production = member.production.public_id
    changed = reverse("change-sheet-mine", args=[production])
    return message_by_hand(
        request,
        member,
        "up",
        "A message that it is up",
        others,
        leads_to=reverse("script", args=[production, draft.number]) if is_first else changed,
        template="publishing/up_message.txt",
        draft=draft,
        is_first=is_first,
    )
