"""The database before the first request: made if need be, brought up to date, refused if a newer version made it.

And after the last one: what SQLite keeps beside its file is put into it.
"""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from django.conf import settings
from django.core.management import call_command
from django.db import DatabaseError, OperationalError, connection
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.recorder import MigrationRecorder

from review.people.sessions import forget_ended_sessions

if TYPE_CHECKING:
    from collections.abc import Iterable


NO_PRODUCTION = "There is no production in {where} yet. If Fairhand keeps its files elsewhere, set FAIRHAND_DATA first."
NO_PRODUCTION_THERE = (
    "There is no production yet in the database that DATABASE_URL names. If Fairhand has another, set DATABASE_URL "
    "first."
)
OF_A_NEWER_VERSION = (
    "The database was made by a newer version of Fairhand: start that version, or restore a copy of the "
    "database from before the update."
)
OF_AN_OLDER_VERSION = (
    "The database was made by an older version of Fairhand: start this one once (manage.py serve), which brings it up "
    "to date, and try again."
)
FOLDING_IN_WAITS = 2000  # milliseconds for whoever else is at the database when the server has stopped


class DatabaseRefused(Exception):
    """The database cannot be used; the message says why and what to do, for whoever started the server."""


def make_database() -> None:
    """Make the database that the settings name, where it does not exist yet and the server lets us.

    SQLite makes its file by itself.
    """
    if connection.vendor != "postgresql":
        return
    try:
        connection.ensure_connection()
    except OperationalError as error:
        if "does not exist" not in str(error):
            raise
        _create_on_server(str(connection.settings_dict["NAME"]))


def _create_on_server(name: str) -> None:
    import psycopg  # noqa: PLC0415 - a start on SQLite, which has no need of it, would take a quarter longer
    from psycopg import sql  # noqa: PLC0415

    parameters = connection.get_connection_params()
    parameters.pop("dbname", None)
    wanted = {key: parameters[key] for key in ("host", "port", "user", "password") if parameters.get(key)}
    with connection.wrap_database_errors, psycopg.connect(dbname="postgres", autocommit=True, **wanted) as server:
        server.execute(sql.SQL("CREATE DATABASE {} ENCODING 'UTF8' TEMPLATE template0").format(sql.Identifier(name)))


def unknown_migrations(executor: MigrationExecutor) -> Iterable[tuple[str, str]]:
    """Steps that the database has been through and this version does not know."""
    known = executor.loader.disk_migrations or {}
    ours = {app for app, _ in known}
    return sorted(step for step in executor.loader.applied_migrations if step[0] in ours and step not in known)


def prepare_database() -> None:
    """Make the database if there is none, migrate it, and drop the sessions that ended in it.

    Raises DatabaseRefused with one sentence.
    """
    try:
        make_database()
        newer = unknown_migrations(MigrationExecutor(connection))
    except DatabaseError as error:
        raise _cannot_be_opened(error) from error
    if newer:
        raise DatabaseRefused(OF_A_NEWER_VERSION)
    try:
        call_command("migrate", interactive=False, verbosity=0)
        forget_ended_sessions()
    except DatabaseError as error:
        raise DatabaseRefused(
            f"The database cannot be brought up to date ({_reason(error)}): see that there is room on its disk, and "
            "that it, or the folder that FAIRHAND_DATA names, can be written to."
        ) from error


def refuse_unprepared() -> None:
    """Raise DatabaseRefused, with one sentence, where no server of this version has made the database ready.

    Nothing is made where there is none.
    """
    if _is_a_file() and not Path(connection.settings_dict["NAME"]).exists():
        raise DatabaseRefused(_no_production())
    try:
        if not MigrationRecorder(connection).has_table():
            connection.close()
            raise DatabaseRefused(_no_production())
        executor = MigrationExecutor(connection)
        newer, to_come = unknown_migrations(executor), executor.migration_plan(executor.loader.graph.leaf_nodes())
    except DatabaseError as error:
        raise _cannot_be_opened(error) from error
    if newer:
        raise DatabaseRefused(OF_A_NEWER_VERSION)
    if to_come:
        raise DatabaseRefused(OF_AN_OLDER_VERSION)


def fold_in_what_came_last() -> None:
    """Put into SQLite's file what it keeps beside it, so that the file is whole once the server has stopped.

    Where somebody else is still at it, it stays as it is, beside it, and nothing is lost by that.
    """
    if not _is_a_file():
        return
    connection.close()
    with suppress(DatabaseError), connection.cursor() as cursor:
        cursor.execute(f"PRAGMA busy_timeout = {FOLDING_IN_WAITS}")
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()


def _is_a_file() -> bool:
    name = str(connection.settings_dict["NAME"])
    return connection.vendor == "sqlite" and name != ":memory:" and "mode=memory" not in name


def _no_production() -> str:
    if Path(connection.settings_dict["NAME"]).is_relative_to(settings.DATA_DIR):
        return NO_PRODUCTION.format(where=settings.DATA_DIR)
    return NO_PRODUCTION_THERE


def _cannot_be_opened(error: Exception) -> DatabaseRefused:
    return DatabaseRefused(
        f"The database cannot be opened ({_reason(error)}): check that it is running, that there is room on its "
        "disk, and that DATABASE_URL, or the folder that FAIRHAND_DATA names, is right."
    )


def _reason(error: Exception) -> str:
    return str(error).strip().splitlines()[0]
