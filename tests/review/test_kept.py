"""What is kept of what was worked out, and how much of it."""

from __future__ import annotations

import gc
import tracemalloc
from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

import screenplay
from review.changes.reading_order import set_out, weigh_changes
from review.drafts.scripts import weigh_comparison, weigh_script
from review.kept import STORE, Store, kept
from review.serving.workers import WORKERS
from screenplay import PageSetting
from tests.factories import SCRIPT

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence


def test_what_was_worked_out_is_not_worked_out_again() -> None:
    asked: list[int] = []

    def weigh(text: str) -> int:
        return len(text)

    store = Store(100)

    @kept(weigh, store)
    def spell(number: int) -> str:
        asked.append(number)
        return "x" * number

    assert [spell(3), spell(3), spell(4), spell(3)] == ["xxx", "xxx", "xxxx", "xxx"]
    assert asked == [3, 4]
    store.clear()
    assert store.bytes == 0
    assert spell(3) == "xxx"
    assert asked == [3, 4, 3]


def test_what_was_not_asked_for_the_longest_goes_first() -> None:
    store = Store(10)
    for name in "abc":
        store.keep(name, name, 3)
    assert store.find("a") == "a"
    store.keep("d", "d", 3)
    assert [store.find(name) for name in "abcd"] == ["a", None, "c", "d"]


def test_what_is_heavier_than_all_there_may_be_is_not_kept_and_pushes_nothing_out() -> None:
    store = Store(10)
    store.keep("a", "a", 3)
    store.keep("b", "b", 11)
    assert (store.find("a"), store.find("b"), store.bytes) == ("a", None, 3)


@given(st.lists(st.tuples(st.integers(0, 5), st.integers(0, 15)), max_size=60))
def test_however_it_is_used_it_weighs_what_is_in_it_and_no_more_than_it_may(uses: list[tuple[int, int]]) -> None:
    store = Store(20)
    weights: dict[int, int] = {}
    for key, weight in uses:
        store.keep(key, key, weight)
        weights[key] = weight
        assert store.bytes <= store.most_bytes
        assert store.bytes == sum(weights[one] for one in weights if store.find(one) is not None)


def test_many_at_the_same_moment_leave_it_as_it_should_be() -> None:
    store = Store(1000)

    def use(nth: int) -> None:
        for n in range(300):
            store.keep((nth * n) % 50, n, n % 40)
            store.find(n % 50)

    with ThreadPoolExecutor(8) as threads:
        list(threads.map(use, range(8)))
    assert 0 <= store.bytes <= 1000
    for key in range(50):
        store.keep(key, key, 2000)  # too heavy, and so each is let go
    assert (store.bytes, len(store)) == (0, 0)


def test_the_processes_share_a_machine_of_a_gibibyte() -> None:
    """Each that serves has one that reads scripts for it; half of the machine is for all the rest."""
    assert 2 * WORKERS * STORE.most_bytes <= 1024**3 / 2


SPEECHES = "A\nb\n\n" * 250
PARAGRAPHS = ("a bc " * 8 + "\n\n") * 250
TEXTS = {"speeches": SPEECHES, "paragraphs": PARAGRAPHS, "a script": SCRIPT * 12}


def weight_of(make: Callable[[], Any]) -> tuple[Any, int]:
    """What was made, and the bytes that Python took for it and holds on to."""
    tracemalloc.start()
    try:
        made = make()
        gc.collect(1)  # garbage of before weighs nothing here, and what was made just now is not among the oldest
        return made, tracemalloc.get_traced_memory()[0]
    finally:
        tracemalloc.stop()


def with_scenes(script: screenplay.Screenplay) -> screenplay.LaidOut:
    pages = screenplay.lay_out(script, PageSetting())
    assert pages.scenes is not None
    assert pages.characters is not None
    return pages


def is_about(estimate: int, measured: Sequence[int]) -> bool:
    """No less than two thirds of it, so that the bound holds, and no more than four times it."""
    return 2 / 3 * sum(measured) <= estimate <= 4 * sum(measured)


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_a_weight_is_about_what_python_takes(text: str) -> None:
    """Measured by `tracemalloc`, Python's own account of its memory."""
    script, of_script = weight_of(lambda: screenplay.parse(text))
    assert is_about(weigh_script(script), [of_script])
    pages, of_pages = weight_of(lambda: with_scenes(script))
    assert is_about(weigh_script(script, 260), [of_pages])
    other = screenplay.parse(text[: len(text) * 9 // 10].replace("b", "c"))
    compared, of_comparison = weight_of(lambda: screenplay.compare(script, other))
    assert is_about(weigh_comparison(compared), [of_comparison, of_script, of_script])
    other_scenes = with_scenes(other).scenes
    changes, of_changes = weight_of(lambda: set_out(compared, pages.scenes, other_scenes))
    assert is_about(weigh_changes(changes), [of_changes])
