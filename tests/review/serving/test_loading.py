"""What a process loads at its start: no garbage is looked for in it, then or later."""

from __future__ import annotations

import gc

import pytest

from review.serving.loading import load_application, loaded_for_good


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
