"""The database before the first request: made if need be, brought up to date, refused if a newer version made it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.core.management import call_command
from django.db import DatabaseError, OperationalError, connection
from django.db.migrations.executor import MigrationExecutor

from review.people.sessions import forget_ended_sessions

if TYPE_CHECKING:
    from collections.abc import Iterable


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
        raise DatabaseRefused(
            f"The database cannot be opened ({_reason(error)}): check that it is running, that there is room on its "
            "disk, and that DATABASE_URL, or the folder that FAIRHAND_DATA names, is right."
        ) from error
    if newer:
        raise DatabaseRefused(
            "The database was made by a newer version of Fairhand: start that version, or restore a copy of the "
            "database from before the update."
        )
    try:
        call_command("migrate", interactive=False, verbosity=0)
        forget_ended_sessions()
    except DatabaseError as error:
        raise DatabaseRefused(
            f"The database cannot be brought up to date ({_reason(error)}): see that there is room on its disk, and "
            "that it, or the folder that FAIRHAND_DATA names, can be written to."
        ) from error


def _reason(error: Exception) -> str:
    return str(error).strip().splitlines()[0]
