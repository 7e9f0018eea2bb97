"""A reading's questions as the writer sees them: what they meant beside what readers answered."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from review.access import Deed
from review.notes.forms import kept_key
from review.people.acts import Refused
from review.people.guard import members_who_may
from review.readers.models import Reading
from review.readings import question_acts
from review.readings.answers_heard import agreement_on_meaning, heard_questions, questions_dropped, swayed_readers
from review.readings.finding import reading_or_404
from review.readings.question_forms import QuestionForm
from review.readings.question_models import BlindAnswer, BlindQuestion
from review.requests import CONFLICT, INVALID, lead_on
from screenplay.reception import Verdict

if TYPE_CHECKING:
    from django.http import HttpResponse

    from review.people.models import Member
    from review.requests import Request

ASKED_ALREADY = "You asked this already. Readers find it once, at the end, before they finish."
WITHDRAWN_SINCE = "You asked this already, and it was withdrawn since."
CLOSED_SINCE = "You asked this already. The reading is closed by now: nobody answers it until it is opened again."


@require_http_methods(["GET", "HEAD", "POST"])
@members_who_may(Deed.ASK_FOR_READING)
def reading_questions(request: Request, member: Member, public_id: str) -> HttpResponse:
    """The questions, and the form that asks another."""
    reading = reading_or_404(member, public_id)
    if request.method != "POST":
        about = {"about": request.GET.get("about", "draft")}
        return _show(request, member, reading, QuestionForm(reading.draft, initial=about))
    form = QuestionForm(reading.draft, request.POST)
    if not form.is_valid():
        return _show(request, member, reading, form, INVALID)
    try:
        asked = question_acts.ask(member, reading, form.asking, form.cleaned_data["form_id"])
    except Refused as refusal:
        form.add_error(None, str(refusal))
        return _show(request, member, reading, form, INVALID)
    if asked.came_otherwise:
        return _show(request, member, reading, form.renewed(), CONFLICT)
    if asked.came_again:
        messages.info(request, _became_of(asked))
    else:
        messages.success(request, "Asked. Readers find it at the end, before they finish.")
    return lead_on(request, _address(member, reading, asked))


@require_POST
@members_who_may(Deed.ASK_FOR_READING)
def reading_carry(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Ask again what was asked in the reading that the form names."""
    reading = reading_or_404(member, public_id)
    earlier = next((each for each in _earlier(member, reading) if each.public_id == request.POST.get("earlier")), None)
    if earlier is None:
        raise Http404("No such reading")
    try:
        carried, lost = question_acts.carry_questions(member, earlier, reading)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return _back(member, reading)
    gone = f" {lost} could not be: the scene is gone." if lost else ""
    messages.success(request, f"Asked again: {carried} question{'' if carried == 1 else 's'}.{gone}")
    return _back(member, reading)


@require_POST
@members_who_may(Deed.ASK_FOR_READING)
def question_withdraw(request: Request, member: Member, public_id: str) -> HttpResponse:
    question = _question_or_404(member, public_id)
    question_acts.withdraw_question(member, question)
    messages.success(request, "It is asked no longer. Answers to it are kept below, and count no longer.")
    return _back(member, question.reading)


@require_POST
@members_who_may(Deed.ASK_FOR_READING)
def question_ask_again(request: Request, member: Member, public_id: str) -> HttpResponse:
    question = _question_or_404(member, public_id)
    question_acts.ask_again(member, question)
    messages.success(request, "It is asked again. Answers to it that were kept count once more.")
    return _back(member, question.reading, question)


@require_POST
@members_who_may(Deed.ASK_FOR_READING)
def question_show_intended(request: Request, member: Member, public_id: str) -> HttpResponse:
    question = _question_or_404(member, public_id)
    question_acts.show_intended(member, question)
    messages.success(request, "Readers who may see each other’s answers see what you meant, too.")
    return _back(member, question.reading, question)


@require_POST
@members_who_may(Deed.ASK_FOR_READING)
def answer_judge(request: Request, member: Member, public_id: str) -> HttpResponse:
    """Say whether what was meant came across; the same again opens it."""
    answers = BlindAnswer.objects.visible_to(member).standing().select_related("question__reading")
    answer = get_object_or_404(answers, public_id=public_id)
    verdict = request.POST.get("verdict", "")
    try:
        question_acts.judge(member, answer, verdict)
    except Refused as refusal:
        messages.error(request, str(refusal))
    return _back(member, answer.question.reading, answer.question)


def _became_of(asked: BlindQuestion) -> str:
    """What is said of a question that was asked before."""
    if asked.withdrawn_at is not None:
        return WITHDRAWN_SINCE
    return ASKED_ALREADY if asked.reading.is_open else CLOSED_SINCE


def _question_or_404(member: Member, public_id: str) -> BlindQuestion:
    known = Reading.objects.known_to(member)
    found = BlindQuestion.objects.filter(reading__in=known).select_related("reading__draft__production")
    return get_object_or_404(found, public_id=public_id)


def _earlier(member: Member, reading: Reading) -> list[Reading]:
    """The readings whose questions could be asked again in this one."""
    others = Reading.objects.known_to(member).filter(questions__withdrawn_at=None, questions__isnull=False)
    return list(others.exclude(pk=reading.pk).select_related("draft").defer("draft__text").distinct())


def _back(member: Member, reading: Reading, question: BlindQuestion | None = None) -> HttpResponse:
    return redirect(_address(member, reading, question))


def _address(member: Member, reading: Reading, question: BlindQuestion | None) -> str:
    address = reverse("reading-questions", args=[member.production.public_id, reading.public_id])
    return f"{address}#question-{question.public_id}" if question else address


def _show(request: Request, member: Member, reading: Reading, form: QuestionForm, status: int = 200) -> HttpResponse:
    heard = heard_questions(member, reading)
    context = {
        "member": member,
        "reading": reading,
        "draft": reading.draft,
        "heard": heard,
        "dropped": questions_dropped(member, reading),
        "agreement": agreement_on_meaning(reading, heard),
        "left_out": list(swayed_readers(reading, heard).values()),
        "verdicts": [(verdict.value, verdict.capitalize()) for verdict in Verdict],
        "form": form,
        "kept_key": kept_key(member, "ask", reading.public_id),
        "earlier": _earlier(member, reading) if reading.is_open else [],
    }
    return render(request, "readings/reading_questions.html", context, status=status)
