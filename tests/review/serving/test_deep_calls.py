"""However deep a loop runs, its calls cost the same."""

from __future__ import annotations

import sys
from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING

import pytest
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.test import Client
from django.urls import path

from review.serving.deep_calls import in_one_piece

if TYPE_CHECKING:
    from collections.abc import Callable

resource = pytest.importorskip("resource")  # what counts how often the system had to hand out memory
WHOSE = getattr(resource, "RUSAGE_THREAD", resource.RUSAGE_SELF)

CALLS = 2_000


def at_depth(depth: int, measure: Callable[[], int]) -> int:
    return at_depth(depth - 1, measure) if depth else measure()


def pages_of_memory_for_calls() -> int:
    """How often the system had to hand out memory while a loop called a function that does nothing."""
    before = handed_out()
    for _ in range(CALLS):
        nothing(0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0)
    return handed_out() - before


def handed_out() -> int:
    return int(resource.getrusage(WHOSE).ru_minflt)


def nothing(*args: int) -> None:
    pass


def most_pages() -> int:
    return max(at_depth(depth, pages_of_memory_for_calls) for depth in range(400))


def in_a_thread(measure: Callable[[], int]) -> int:
    """What is called in a thread begins with a piece of its own, whatever this test is called within."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(measure).result()


def test_calls_take_no_memory_anew_however_deep_they_are() -> None:
    assert in_a_thread(in_one_piece(most_pages)) < CALLS / 4


@login_not_required
def answer(request: HttpRequest) -> HttpResponse:
    return HttpResponse(str(most_pages()))


urlpatterns = [path("", answer)]


@pytest.mark.urls(__name__)
def test_nor_do_those_of_an_answer() -> None:
    assert in_a_thread(lambda: int(Client().get("/").content)) < CALLS / 4


@pytest.mark.skipif(sys.version_info[:2] != (3, 11), reason="of other versions it was not looked into")
def test_elsewhere_they_do_at_some_depth() -> None:
    assert in_a_thread(most_pages) >= CALLS


def test_an_act_keeps_its_name_its_answer_and_its_errors() -> None:
    def divided(dividend: int, *, by: int) -> float:
        """What it says."""
        return dividend / by

    deep = in_one_piece(divided)

    assert (deep.__name__, deep.__doc__, deep(6, by=4)) == ("divided", "What it says.", 1.5)
    with pytest.raises(ZeroDivisionError):
        deep(6, by=0)
