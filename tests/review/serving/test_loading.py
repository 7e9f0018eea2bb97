"""What a process loads at its start, and how it ends: no garbage is looked for in it, then or later."""

from __future__ import annotations

import gc
import subprocess
import sys
from pathlib import Path

import pytest

from review.serving.loading import load_application, loaded_for_good

ROOT = Path(__file__).parents[3]


def test_no_garbage_is_looked_for_meanwhile_and_none_ever_in_what_was_loaded() -> None:
    with loaded_for_good():
        assert not gc.isenabled()
        loaded = [["of modules"]]
    assert gc.isenabled()
    assert not any(found is loaded for found in gc.get_objects())


def test_it_is_looked_for_again_where_loading_failed() -> None:
    with pytest.raises(ModuleNotFoundError):
        load_application("project.nowhere:application")
    assert gc.isenabled()


def test_what_is_served_is_found_by_its_name() -> None:
    assert load_application("review.serving.loading:load_application") is load_application


def test_a_worker_that_is_done_leaves_without_taking_the_interpreter_down() -> None:
    """Where that is taken down, what is left of its objects is told so (Python's data model, `object.__del__`)."""
    loaded = "from review.serving.loading import load_worker; load_worker('gc:collect')"
    assert [what_ending_says("import gc"), what_ending_says(loaded)] == [["finished", "taken down"], ["finished"]]


def what_ending_says(first: str) -> list[str]:
    """What a process says at its end that did this first."""
    left = "class Left:\n    def __del__(self): print('taken down')\nleft = Left()"
    program = f"import atexit\n{first}\n{left}\natexit.register(print, 'finished')"
    ended = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True, cwd=ROOT)
    return ended.stdout.splitlines()
