"""Which servers run on a data folder is known to those that start there, and to those alone that really run."""

from __future__ import annotations

import os
import subprocess
import sys
from contextlib import ExitStack
from pathlib import Path
from threading import Timer
from typing import IO, TYPE_CHECKING, Any

from review.serving import running
from review.serving.running import known_to_run, servers_on

if TYPE_CHECKING:
    import pytest

ROOT = Path(__file__).parents[3]
HERE, THERE = "http://127.0.0.1:8000", "http://127.0.0.1:8001"


def of_this_process(address: str) -> str:
    return f"{address} (process {os.getpid()})"


def test_whoever_starts_on_a_folder_is_told_where_the_others_are(tmp_path: Path) -> None:
    with known_to_run(tmp_path, 8000, HERE) as others_before, known_to_run(tmp_path, 8001, THERE) as others:
        assert (others_before, others) == ([], [of_this_process(HERE)])
        assert servers_on(tmp_path) == {8000: of_this_process(HERE), 8001: of_this_process(THERE)}


def test_one_that_has_stopped_leaves_nothing_behind_however_it_ended(tmp_path: Path) -> None:
    try:
        with known_to_run(tmp_path, 8000, HERE):
            raise SystemExit(1)
    except SystemExit:
        assert servers_on(tmp_path) == {}
    assert not list(tmp_path.iterdir())


def test_one_that_was_killed_is_not_taken_for_one_that_runs(tmp_path: Path) -> None:
    """The system lets a lock go with the process that held it (flock(2), LockFile)."""
    program = (
        "import sys; from pathlib import Path; from review.serving.running import known_to_run\n"
        f"with known_to_run(Path(sys.argv[1]), 8000, '{HERE}'): print('Here', flush=True); sys.stdin.read()"
    )
    command = [sys.executable, "-c", program, str(tmp_path)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=ROOT) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == b"Here\n"
        assert servers_on(tmp_path) == {8000: f"{HERE} (process {other.pid})"}
        other.kill()
    assert list(tmp_path.iterdir())
    assert servers_on(tmp_path) == {}
    with known_to_run(tmp_path, 8000, HERE) as others:
        assert others == []
        assert servers_on(tmp_path) == {8000: of_this_process(HERE)}


def test_one_that_starts_while_the_one_before_it_stops_is_not_told_of_that_one_and_is_known(tmp_path: Path) -> None:
    """Its port is free before its lock ends."""
    with ExitStack() as before:
        before.enter_context(known_to_run(tmp_path, 8000, HERE))
        stops = Timer(0.2, before.close)
        stops.start()
        with known_to_run(tmp_path, 8000, HERE) as others:
            stops.join()
            assert others == []
            assert servers_on(tmp_path) == {8000: of_this_process(HERE)}


def test_one_that_locks_a_file_which_was_taken_away_before_it_opens_another(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A server that stops does so between the other's opening of its file and its lock."""
    before, open_as_ever = ExitStack(), Path.open
    before.enter_context(known_to_run(tmp_path, 8000, HERE))

    def open_as_it_stops(file: Path, *how: Any, **more: Any) -> IO[Any]:
        opened: IO[Any] = open_as_ever(file, *how, **more)
        before.close()
        return opened

    monkeypatch.setattr(Path, "open", open_as_it_stops)
    with known_to_run(tmp_path, 8000, HERE) as others:
        assert others == []
        assert servers_on(tmp_path) == {8000: of_this_process(HERE)}
    assert not list(tmp_path.iterdir())


def test_one_at_the_same_port_of_another_address_is_told_and_goes_on_being_known(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(running, "STOPS_WITHIN", 0.1)
    with known_to_run(tmp_path, 8000, HERE):
        with known_to_run(tmp_path, 8000, "http://192.0.2.7:8000") as others:
            assert others == [of_this_process(HERE)]
        assert servers_on(tmp_path) == {8000: of_this_process(HERE)}


def test_no_start_is_held_up_where_nothing_can_be_written(tmp_path: Path) -> None:
    with known_to_run(tmp_path / "nowhere", 8000, HERE) as others:
        assert others == []
