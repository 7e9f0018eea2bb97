"""The end of a reading: finishing it, and saying who sees how long it took."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from review.access import Deed
from review.notes.forms import kept_key, line_feeds
from review.people.acts import Refused
from review.people.guard import members_who_may
from review.readers.models import Reader
from review.readings import reader_acts
from review.readings.answers_heard import about_in_words
from review.readings.finding import reader_or_404
from review.readings.progress import reader_progress
from review.readings.question_acts import answer_and_finish, answer_questions
from review.readings.question_models import MOST_ANSWER
from review.requests import INVALID, lead_on

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from django.http import HttpResponse

    from review.people.models import Member
    from review.readings.progress import ReaderProgress
    from review.readings.question_models import BlindAnswer
    from review.requests import Request

TOO_LONG = f"An answer has {MOST_ANSWER} characters at most. Nothing is kept yet."


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.NOTE)
def reading_finish(request: Request, member: Member, public_id: str) -> HttpResponse:
    """The questions, and the end. What is sent is kept; without `keep` the reading is finished with it."""
    progress = reader_progress(reader_or_404(member, public_id))
    if request.method != "POST":
        return _show(request, member, progress)
    given = {
        name.removeprefix("answer-"): line_feeds(str(text))
        for name, text in request.POST.items()
        if name.startswith("answer-")
    }
    if any(len(text) > MOST_ANSWER for text in given.values()):
        return _show(request, member, progress, given, INVALID, TOO_LONG)
    try:
        if "keep" in request.POST:
            answer_questions(member, progress.reading, given)
            messages.success(request, "Kept. You can go on any time, on any device.")
            ids = [member.production.public_id, progress.reading.public_id]
            return lead_on(request, reverse("reading-finish", args=ids))
        is_new = answer_and_finish(member, progress.reading, given)
    except Refused as refusal:
        messages.error(request, str(refusal))
    else:
        if is_new:
            kept_by = Reader.objects.keeping_from(member)
            opens = (
                "now" if kept_by is None else f"once you have finished reading draft {kept_by.reading.draft.number} too"
            )
            messages.success(request, f"Thank you: you have finished. What the others said is open to you {opens}.")
    return lead_on(request, reverse("reading", args=[member.production.public_id, progress.reading.public_id]))


def _show(
    request: Request,
    member: Member,
    progress: ReaderProgress,
    said: Mapping[str, str] | None = None,
    status: int = 200,
    sentence: str = "",
) -> HttpResponse:
    given = {answer.question.public_id: answer.text for answer in _own_answers(progress)} | dict(said or {})
    reading = progress.reading
    elsewhere = Reader.objects.exclude(pk=progress.reader.pk).keeping_from(progress.reader.member)
    context = {
        "member": member,
        "reading": reading,
        "progress": progress,
        "draft": reading.draft,
        "kept_by": elsewhere.reading if elsewhere else None,
        "questions": [
            (question, about_in_words(reading, question), given.get(question.public_id, ""))
            for question in reading.questions.standing()
        ],
        "most": MOST_ANSWER,
        "sentence": sentence,
        "kept_key": kept_key(member, "finish", reading.public_id),
    }
    return render(request, "readings/reading_finish.html", context, status=status)


def _own_answers(progress: ReaderProgress) -> Iterable[BlindAnswer]:
    return progress.reader.answers.standing().select_related("question")


@require_POST
@members_who_may(Deed.NOTE)
def reading_share_time(request: Request, member: Member, public_id: str) -> HttpResponse:
    reader = reader_or_404(member, public_id)
    shares = request.POST.get("shares") == "yes"
    reader_acts.share_time(member, reader.reading, shares=shares)
    told = "The writer sees how long each scene took you." if shares else "Nobody sees how long it took you."
    messages.success(request, told)
    return redirect("reading", member.production.public_id, reader.reading.public_id)
