"""The app's entry in Django's registry, and what each connection to its database is told when it opens."""

from __future__ import annotations

import sqlite3
from typing import TYPE_CHECKING, Any

from django.apps import AppConfig
from django.core.signals import request_started
from django.db.backends.signals import connection_created

from review.serving.database_lines import drop_cut_lines

if TYPE_CHECKING:
    from django.db.backends.base.base import BaseDatabaseWrapper


class ReviewConfig(AppConfig):
    name = "review"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        connection_created.connect(take_as_many_parameters_as_sqlite_does)
        request_started.connect(drop_cut_lines)


def take_as_many_parameters_as_sqlite_does(connection: BaseDatabaseWrapper, **_: Any) -> None:
    """SQLite of today takes 32,766 parameters in a statement and more; Django reckons with the 999 of old, by which a
    thousand notes would be stored a hundred at a time (SQLITE_LIMIT_VARIABLE_NUMBER, sqlite.org/limits.html)."""
    if connection.vendor == "sqlite":
        most = connection.connection.getlimit(sqlite3.SQLITE_LIMIT_VARIABLE_NUMBER)
        connection.features.max_query_params = most
