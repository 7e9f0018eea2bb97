"""What is told of talks: that one is called, changed or called off, with its date for a calendar; and of what somebody
said in one, that it was written down in their name."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.conf import settings
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format

from review.letters.tidings import Tidings, quoted
from review.notes.models import Note
from review.talks.calendars import CANCEL, REQUEST, calendar_of
from review.talks.models import Talk

if TYPE_CHECKING:
    from review.people.models import Member


def talk(member: Member, about: str) -> Tidings | None:
    """How a talk stands for a member: they are asked to it, it stands otherwise now, or it is not for them any more."""
    found = Talk.objects.filter(production=member.production_id, public_id=about, draft__withdrawn_at=None)
    held = found.select_related("draft", "production", "called_by__person").first()
    if held is None or held.is_past:
        return None
    about_draft, off = held.draft.by_number, "called off" if held.called_off_at else "called off for you"
    is_asked = held.members.filter(pk=member.pk).exists()
    if held.called_off_at is not None or not is_asked:
        says = f"The talk about {about_draft} on {_when(held)} is {off}."
        path = reverse("talks", args=[held.production.public_id])
        return Tidings("A talk is called off", (says,), path, (CANCEL, calendar_of(held, CANCEL, member)))
    asks = f"{held.called_by.name} asks you to talk over {about_draft}" if not held.sequence else "The talk was changed"
    says = f"{asks}: {_when(held)}, {held.minutes} minutes."
    names = [one.name for one in held.members.select_related("person") if one != member]
    others = f"With {', '.join([held.called_by.name, *sorted(names)])}."
    where = f"Where: {held.place}" if held.place else ""
    path = reverse("talk", args=[held.production.public_id, held.public_id])
    title = "A talk was changed" if held.sequence else f"Talking over {about_draft}"
    return Tidings(title, (says, where, others), path, (REQUEST, calendar_of(held, REQUEST, member)))


def taken_down(member: Member, about: str) -> Tidings | None:
    """That a note was written down in their name, which they can correct."""
    notes = Note.objects.visible_to(member).of(member).not_withdrawn().filter(public_id=about)
    note = notes.select_related("taken_down_by__person", "production").first()
    if note is None or note.taken_down_by is None:
        return None
    says = f"{note.taken_down_by.name} wrote down in your name what you said:"
    correct = "It is your note. If you meant something else, you can change it, or take it back."
    path = reverse("note", args=[note.production.public_id, note.public_id])
    return Tidings("What you said was written down", (says, quoted(note.body), correct), path)


def _when(held: Talk) -> str:
    begins = timezone.localtime(held.starts_at)
    return f"{date_format(begins, 'l, j F, H:i')} ({settings.TIME_ZONE})"
