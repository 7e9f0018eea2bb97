"""What stands on the paper of whatever is printed of a draft: its header, and the reader's name across it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from anyascii import anyascii
from django.utils import timezone

from screenplay.printing import Header, unprintable

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.people.models import Member


def header_of(draft: Draft) -> Header:
    """What stands at the head of its printed pages."""
    return Header(str(draft), draft.colour_name, timezone.localdate(draft.created_at))


def name_across(member: Member) -> str:
    """Whose copy it is, in letters that the PDF has: the member's name, spelled out in Latin ones where it lacks them.

    No e-mail address stands there, though somebody gave one for a name: the paper goes through many hands. Where
    nothing of a name is left, it is their department.
    """
    name = _shown(member.name)
    if unprintable(name):
        name = _shown(" ".join(word[:1].upper() + word[1:] for word in anyascii(name).split()))
    return name or f"{member.get_department_display()}, {member.get_role_display().lower()}"


def _shown(name: str) -> str:
    """What of a name is to be seen, without what follows the @ of an address in it."""
    words = (word.partition("@")[0] for word in name.split())
    return " ".join("".join(sign for sign in word if sign.isprintable()) for word in words).strip()
