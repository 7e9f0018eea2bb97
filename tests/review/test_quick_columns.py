"""The columns of the tests' queries are told apart by what Django tells them apart by."""

from __future__ import annotations

import pytest
from django.db.models.expressions import Col

from review.notes.models import Note
from tests.quick_columns import as_django_tells

AUTHOR, BODY = Note.author.field, Note.body.field


@pytest.mark.parametrize(
    "column",
    [
        Col("notes", AUTHOR),
        Col("notes", AUTHOR, None),
        Col("others", AUTHOR),
        Col("notes", AUTHOR, BODY),
        Col("notes", BODY, output_field=AUTHOR),
    ],
)
def test_a_column_is_told_apart_by_its_alias_its_field_and_what_it_is_read_as(column: Col) -> None:
    assert column.identity == as_django_tells(column)
    assert "identity" in vars(Col)
