"""Scripts typed in columns and the Fountain that they become, as `fixtures/typed-columns.txt` has them side by side."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from screenplay.intake import from_columns, looks_typed_in_columns

FIXTURE = Path(__file__).parents[1] / "fixtures" / "typed-columns.txt"
LEAST_SPEECHES = 3


def cases() -> list[tuple[str, str, str]]:
    """Each case's title, what was typed, and what it becomes."""
    found = []
    for part in FIXTURE.read_text(encoding="utf-8").split("\n--- ")[1:]:
        title, _, rows = part.partition("\n")
        typed, fountain = rows.split("\nbecomes\n")
        found.append((title, f"{typed}\n", f"{fountain.rstrip()}\n"))
    return found


CASES = cases()


@pytest.mark.parametrize(("typed", "fountain"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_what_was_typed_becomes_the_fountain_beside_it(typed: str, fountain: str) -> None:
    assert from_columns(typed).text == fountain


WITH_SPEECHES = [typed for _, typed, _ in CASES if len(re.findall("MARA|JOREN", typed)) >= LEAST_SPEECHES]


@pytest.mark.parametrize("typed", WITH_SPEECHES)
def test_a_case_with_speeches_is_told_from_fountain(typed: str) -> None:
    assert looks_typed_in_columns(typed)
