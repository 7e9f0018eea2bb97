"""Views whose work the process apart does, as their answers take long: the others go on serving readers meanwhile.

Whoever asks has the answer at once where it is there within a second. Else they see that it is being made, and how far
it is, and have it when it is there. Where no process stands apart, as in tests, the view answers as any other does.
"""

from __future__ import annotations

from functools import wraps
from typing import TYPE_CHECKING, Concatenate, NamedTuple, ParamSpec

from django.http import HttpResponse, HttpResponseBase
from django.shortcuts import redirect
from django.urls import reverse

from review.making.acts import begin_making, keep_answer, say_it_failed, say_it_was_given_up
from review.making.models import Making
from review.making.progress import making_of
from review.making.views.making import show_making
from review.serving.gateway import GAVE_UP, HANDED_ON, HANDS_ON, MAKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.access import Deed
    from review.people.models import Member
    from review.requests import Request

P = ParamSpec("P")


class Wanted(NamedTuple):
    """What is wanted of a view: what it is, in a few words, and the address of the page that it is asked for on."""

    what: str
    back: str


def made_apart(
    deed: Deed, wanted: Callable[Concatenate[Request, Member, P], Wanted | None], *, leads_back: bool = False
) -> Callable[
    [Callable[Concatenate[Request, Member, P], HttpResponseBase]],
    Callable[Concatenate[Request, Member, P], HttpResponseBase],
]:
    """Lets a view's work be done apart, inside of what guards it; `deed` is what its guard asks for.

    `wanted` says what a request wants made, and looks whether it is there to be had (404); None of what takes no time.
    What takes none once it was worked out, because that is kept, `leads_back` to its address; it is not made twice.
    """

    def decorate(
        view: Callable[Concatenate[Request, Member, P], HttpResponseBase],
    ) -> Callable[Concatenate[Request, Member, P], HttpResponseBase]:
        @wraps(view)
        def answer(request: Request, member: Member, /, *args: P.args, **kwargs: P.kwargs) -> HttpResponseBase:
            if key := request.META.get(GAVE_UP):
                say_it_was_given_up(Making.objects.of(member).get(public_id=key))
                return HttpResponse()
            if key := request.META.get(MAKING):
                making = Making.objects.of(member).get(public_id=key)
                return _make(making, lambda: view(request, member, *args, **kwargs), leads_back=leads_back)
            asked = wanted(request, member, *args, **kwargs) if HANDS_ON in request.META else None
            is_sent, address = request.method == "POST", request.get_full_path()
            if asked is None or (leads_back and Making.objects.of(member).made_lately(address)):
                return view(request, member, *args, **kwargs)
            making, is_new = begin_making(member, deed, address, *asked, is_sent=is_sent)
            shown = show_making(request, member, making)
            if is_new:
                place = reverse("making", args=[member.production.public_id, making.public_id])
                shown[HANDED_ON] = f"{making.public_id} {place}"
            return shown

        return answer

    return decorate


def _make(making: Making, view: Callable[[], HttpResponseBase], *, leads_back: bool) -> HttpResponseBase:
    try:
        with making_of(making):
            answer = view()
    except MemoryError:  # the process ends with it, and whoever handed this on finds that out
        raise
    except Exception:
        say_it_failed(making)
        raise
    keep_answer(making, redirect(making.address) if leads_back else answer)
    return answer
