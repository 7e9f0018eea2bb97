"""The full-text search of either database, given words that are parted and folded already, so that both find the same:
SQLite's FTS5 (sqlite.org/fts5.html) in a table beside the texts, PostgreSQL's tsvector in a column of theirs.

Neither is in Django's own picture of the tables: a migration makes them, and nothing else asks for them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Protocol

if TYPE_CHECKING:
    from collections.abc import Sequence

    from django.db.backends.base.base import BaseDatabaseWrapper

    from review.findable.terms import Term

Indexed = tuple[int, "Sequence[str]"]  # a text's key and its words
MOST_POSITION = 16_383  # of a word in a tsvector (PostgreSQL's manual, limits of text search)


class Engine(Protocol):
    """What a database needs to be asked."""

    def make(self) -> str: ...
    def unmake(self) -> str: ...
    def store(self, connection: BaseDatabaseWrapper, texts: Sequence[Indexed]) -> None: ...
    def forget(self, connection: BaseDatabaseWrapper, keys: Sequence[int]) -> None: ...
    def condition(self, key: str, terms: Sequence[Term]) -> tuple[str, list[Any]]: ...


class Fts5:
    """Words are parted at spaces alone: the ascii tokenizer leaves every letter of other scripts as it is."""

    def make(self) -> str:
        return "CREATE VIRTUAL TABLE review_findable_words USING fts5(words, tokenize='ascii')"

    def unmake(self) -> str:
        return "DROP TABLE review_findable_words"

    def store(self, connection: BaseDatabaseWrapper, texts: Sequence[Indexed]) -> None:
        rows = [(key, " ".join(words)) for key, words in texts]
        with connection.cursor() as cursor:
            cursor.executemany("INSERT OR REPLACE INTO review_findable_words (rowid, words) VALUES (%s, %s)", rows)

    def forget(self, connection: BaseDatabaseWrapper, keys: Sequence[int]) -> None:
        with connection.cursor() as cursor:
            cursor.executemany("DELETE FROM review_findable_words WHERE rowid = %s", [(key,) for key in keys])

    def condition(self, key: str, terms: Sequence[Term]) -> tuple[str, list[Any]]:
        asked = " AND ".join(f'"{" ".join(term.words)}"{" *" if term.is_beginning else ""}' for term in terms)
        found = "SELECT rowid FROM review_findable_words WHERE review_findable_words MATCH %s"
        return f"{key} IN ({found})", [asked]


class Tsvector:
    """Words are taken as they are, with their places: no parser and no dictionary has a say."""

    def make(self) -> str:
        return (
            "ALTER TABLE review_findable ADD COLUMN words tsvector;"
            "CREATE INDEX review_findable_words ON review_findable USING gin (words)"
        )

    def unmake(self) -> str:
        return "ALTER TABLE review_findable DROP COLUMN words"

    def store(self, connection: BaseDatabaseWrapper, texts: Sequence[Indexed]) -> None:
        keys = [key for key, _ in texts]
        vectors = [
            " ".join(f"'{word}':{min(at, MOST_POSITION)}" for at, word in enumerate(words, 1)) for _, words in texts
        ]
        told = "SELECT unnest(%s::bigint[]) AS id, unnest(%s::text[]) AS words"
        with connection.cursor() as cursor:
            cursor.execute(
                f"UPDATE review_findable AS f SET words = t.words::tsvector FROM ({told}) AS t WHERE f.id = t.id",  # noqa: S608 - of constants
                [keys, vectors],
            )

    def forget(self, connection: BaseDatabaseWrapper, keys: Sequence[int]) -> None:
        """They go with their texts."""

    def condition(self, key: str, terms: Sequence[Term]) -> tuple[str, list[Any]]:
        asked = " & ".join(
            " <-> ".join(
                f"'{word}'{':*' if term.is_beginning and at == len(term.words) else ''}"
                for at, word in enumerate(term.words, 1)
            )
            for term in terms
        )
        return f"{key.rpartition('.')[0]}.words @@ %s::tsquery", [asked]


def engine_of(vendor: str) -> Engine:
    return Tsvector() if vendor == "postgresql" else Fts5()
