"""Columns of queries that know at once what tells them apart.

Django asks the signature of their class for it, of every column of every query that has an order, which is a tenth of
what the tests of pages take. What tells two of them apart stays what it is: alias, field and what it is read as.
"""

from __future__ import annotations

from typing import Any

from django.db.models.expressions import Col, Expression
from django.utils.functional import cached_property

as_django_tells: Any = vars(Expression)["identity"].func


def tell_columns_apart_quickly() -> None:
    """From now on, in this process."""
    quick = cached_property(identity_of)
    quick.__set_name__(Col, "identity")
    Col.identity = quick  # type: ignore[method-assign,assignment]  # a property, that the stubs have as a method


def identity_of(column: Any) -> tuple[object, ...]:
    """As Django works it out, for a column that was made by position, as all of Django's are."""
    given: tuple[Any, ...] = column._constructor_args[0]  # noqa: SLF001
    if column._constructor_args[1]:  # noqa: SLF001
        return as_django_tells(column)  # type: ignore[no-any-return]
    parts = zip(("alias", "target", "output_field"), (*given, None), strict=False)
    return (Col, *((part, column._identity(value)) for part, value in parts))  # noqa: SLF001
