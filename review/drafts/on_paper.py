"""What stands on the paper of whatever is printed of a draft: its header, its title, the reader's name across it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.utils import timezone

from screenplay.printing import Header, unprintable

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member


def header_of(draft: Draft) -> Header:
    """What stands at the head of its printed pages."""
    return Header(str(draft), draft.colour_name, timezone.localdate(draft.created_at))


def title_of(draft: Draft) -> str:
    """What a printed draft is called as a document."""
    return f"{draft.production.name}: {draft}"


def name_across(member: Member) -> str:
    """The member's name; their address where they have none, or one in letters that the PDF does not have."""
    name = member.name.strip()
    return name if name and not unprintable(name) else member.person.email
