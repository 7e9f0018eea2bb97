"""Commands that work on a production's database, where nobody has made one ready."""

from __future__ import annotations

import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from django.db import connection
from django.db.migrations.recorder import MigrationRecorder

from review.management.commands import index_words, let_in, send_mail
from review.management.database import DatabaseRefused, refuse_unprepared
from review.management.on_database import DatabaseCommand
from tests.servers import MANAGE, PATIENCE, environment

if TYPE_CHECKING:
    from pathlib import Path


def test_without_a_production_it_is_one_clear_sentence_and_nothing_is_left_behind(tmp_path: Path) -> None:
    folder = tmp_path / "memory-lane"  # a folder like another, whatever it is called
    run = subprocess.run(
        [sys.executable, str(MANAGE), "let_in", "ada@example.org"],
        env=environment(folder),
        capture_output=True,
        text=True,
        timeout=PATIENCE,
    )
    assert run.returncode == 1
    assert run.stderr == (
        f"There is no production in {folder} yet. If Fairhand keeps its files elsewhere, set FAIRHAND_DATA first.\n"
    )
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("command", [let_in.Command, index_words.Command, send_mail.Command])
def test_every_command_that_needs_the_database_asks_for_it(command: type) -> None:
    assert issubclass(command, DatabaseCommand)


@pytest.mark.django_db
def test_a_database_of_another_version_says_what_to_do() -> None:
    refuse_unprepared()
    newest = MigrationRecorder(connection).migration_qs.filter(app="review").latest("name")
    newest.delete()
    with pytest.raises(DatabaseRefused, match=r"older version.*start this one once"):
        refuse_unprepared()
    MigrationRecorder(connection).record_applied("review", "9999_of_later")
    with pytest.raises(DatabaseRefused, match="newer version"):
        refuse_unprepared()
