"""A reading as the writer sees it: who has begun, how far, who has finished; and what can be done with it. A producer
sees how far they are, and nothing of what they said."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from review.access import Deed, may
from review.mail.site import mail_is_on
from review.people.acts import Refused
from review.people.by_hand import MessageByHand, message_by_hand
from review.people.guard import members_who_may
from review.readings import acts
from review.readings.finding import followed_reading_or_404, reading_or_404
from review.readings.forms import AskForm, ReadersField, until_to_offer
from review.readings.progress import reader_rows
from review.requests import CONFLICT, INVALID

if TYPE_CHECKING:
    from collections.abc import Sequence

    from django.http import HttpResponse

    from review.people.models import Member
    from review.readers.models import Reading
    from review.readings.progress import ReaderRow
    from review.requests import Request

CHANGED = (
    "Another writer has changed this meanwhile: what stands is shown here. Yours is in the form, and not kept "
    "yet. Keep it in the place of theirs if you like."
)
KEPT_FROM_SOME = (
    "What its readers said is open to them now, but not yet to those who read on their own in another reading and have "
    "not finished that one: {}."
)


@require_safe
@members_who_may(Deed.FOLLOW_READINGS)
def reading_readers(request: Request, member: Member, public_id: str) -> HttpResponse:
    return _show(request, member, followed_reading_or_404(member, public_id))


@require_POST
@members_who_may(Deed.ASK_FOR_READING)
def reading_change(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Another date, or other words on what to look for."""
    reading = reading_or_404(member, public_id)
    form = AskForm(request.POST, label_suffix="")
    if not form.is_valid():
        return _show(request, member, reading, INVALID, ask=form)
    try:
        changed = acts.change_reading(member, reading, form.asked, request.POST.get("seen", ""))
    except acts.ReadingChangedMeanwhile:
        messages.error(request, CHANGED)
        return _show(request, member, reading_or_404(member, public_id), CONFLICT, ask=form)
    except Refused as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, "Changed, for everybody in it." if changed else "Nothing has changed.")
    return _back(member, reading)


@require_POST
@members_who_may(Deed.ASK_FOR_READING)
def reading_add(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Bring more readers in."""
    reading = reading_or_404(member, public_id)
    form = ReadersField(_others(member, reading), request.POST)
    if not form.is_valid():
        return _show(request, member, reading, INVALID, add=form)
    try:
        added = acts.add_readers(member, reading, form.chosen)
    except Refused as refusal:
        messages.error(request, str(refusal))
    else:
        names = ", ".join(each.name for each in added)
        messages.success(request, f"Asked too: {names}." if added else "They were in it already.")
    return _back(member, reading)


@require_POST
@members_who_may(Deed.ASK_FOR_READING)
def reading_take_off(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Take the reader that the form names off."""
    reading = reading_or_404(member, public_id)
    named = request.POST.get("reader")
    readers = reading.readers.select_related("reading", "member__person")
    reader = next((each for each in readers if each.public_id == named), None)
    if reader is None:
        raise Http404("No such reader")
    acts.take_off(member, reader)
    messages.success(request, f"{reader.name} is off this reading. What they said stays.")
    return _back(member, reading)


@require_POST
@members_who_may(Deed.ASK_FOR_READING)
def reading_remind(request: Request, member: Member, public_id: str) -> HttpResponse:
    reading = reading_or_404(member, public_id)
    try:
        reminded = acts.remind(member, reading)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return _back(member, reading)
    names = ", ".join(reader.name for reader in reminded)
    where = "on their home and by mail" if mail_is_on() else "on their home"
    also = "" if mail_is_on() else " A message to send them stands below."
    messages.success(request, f"Reminded, {where}: {names}.{also}" if reminded else "Everybody has finished.")
    return _back(member, reading)


@require_POST
@members_who_may(Deed.ASK_FOR_READING)
def reading_close(request: Request, member: Member, public_id: str) -> HttpResponse:
    reading = reading_or_404(member, public_id)
    acts.close_reading(member, reading)
    closed = reading_or_404(member, public_id)
    kept = sorted(row.reader.name for row in reader_rows(closed) if row.kept_by)
    opens = KEPT_FROM_SOME.format(", ".join(kept)) if kept else "What its readers said is open to all of them now."
    messages.success(request, f"The reading is closed. {opens}")
    return _back(member, reading)


@require_POST
@members_who_may(Deed.ASK_FOR_READING)
def reading_reopen(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Open a closed reading again, to the date that the form gives."""
    reading = reading_or_404(member, public_id)
    form = AskForm(request.POST, label_suffix="")
    if not form.is_valid():
        return _show(request, member, reading, INVALID, ask=form)
    acts.reopen_reading(member, reading, form.cleaned_data["until"])
    messages.success(request, "The reading is open again, for those who have not finished.")
    return _back(member, reading)


def _back(member: Member, reading: Reading) -> HttpResponse:
    return redirect("reading-readers", member.production.public_id, reading.public_id)


def _others(member: Member, reading: Reading) -> list[Member]:
    """Who could be asked too: members who are in it are left out."""
    there = reading.readers.in_it().values("member")
    others = member.production.members.filter(removed_at=None).exclude(pk__in=there)
    return list(others.select_related("person"))


def _by_hand(request: Request, member: Member, reading: Reading, rows: Sequence[ReaderRow]) -> list[MessageByHand]:
    """What a writer can send themselves: with a mail server what asks to read, for whoever misses the mail; without one
    also what reminds, and what says that it is closed."""
    everybody = [row.reader.member for row in rows]
    waited_for = [row.reader.member for row in rows if row.is_waited_for]
    wanted = [("asked", "A message that asks them", everybody)]
    if not reading.is_open:
        wanted = [] if mail_is_on() else [("closed", "A message that it is closed", everybody)]
    elif waited_for and not mail_is_on():
        wanted.append(("reminder", "A message that reminds them", waited_for))
    address = reverse("reading", args=[member.production.public_id, reading.public_id])
    return [
        message_by_hand(
            request,
            member,
            name,
            title,
            whom,
            leads_to=address,
            template=f"readings/{name}_message.txt",
            reading=reading,
        )
        for name, title, whom in wanted
    ]


def _show(request: Request, member: Member, reading: Reading, status: int = 200, **forms: Any) -> HttpResponse:
    rows = reader_rows(reading)
    current = member.production.drafts.current()
    context = {
        "member": member,
        "reading": reading,
        "draft": reading.draft,
        "may_ask": may(member, Deed.ASK_FOR_READING),
        "rows": rows,
        "finished": sum(row.reader.finished_at is not None for row in rows),
        "unfinished": [row for row in rows if row.is_waited_for],
        "seen": acts.Asked.of(reading).seen,
        "ask": AskForm(initial={"until": until_to_offer(reading.until), "look_for": reading.look_for}, label_suffix=""),
        "add": ReadersField(_others(member, reading)),
        "is_mailed": mail_is_on(),
        "by_hand": _by_hand(request, member, reading, rows),
        "has_begun": reading.is_open and any(row.read for row in rows),
        "later": current if current and current.number > reading.draft.number else None,
        **forms,
    }
    return render(request, "readings/reading_readers.html", context, status=status)
