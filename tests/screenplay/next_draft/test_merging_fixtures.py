"""What two people made of one text, put together: the text files in `fixtures/merge`, judged by hand and read as they
are by anybody who reads scripts."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from screenplay.next_draft import Conflict, merge

if TYPE_CHECKING:
    from collections.abc import Iterator

    from screenplay.next_draft import Merged

FIXTURES = Path(__file__).parents[1] / "fixtures" / "merge"
TEXT = re.compile(r"^(was|one|other|together):(?: as (\w+))?.*\n", re.MULTILINE)
ASKED = re.compile(r"^\? (\w+): one has\n(.*?)^\? other has\n(.*?)^\?\n", re.MULTILINE | re.DOTALL)
LINE_ENDS = {"␍␊": "\r\n", "␍": "\r", "": "\n", "∎": ""}

Piece = str | tuple[str, str, str]  # text; or why it is asked about, what one has and what the other has


@dataclass(frozen=True)
class Case:
    """Three texts, and the pieces that the two come to."""

    title: str
    was: str
    one: str
    other: str
    together: tuple[Piece, ...]


def cases() -> Iterator[Case]:
    for path in sorted(FIXTURES.glob("*.txt")):
        if path.name != "README.txt":
            for part in path.read_bytes().decode("utf-8").split("\n--- ")[1:]:
                title, _, rows = part.partition("\n")
                yield read_case(title, rows + "\n")


def read_case(title: str, rows: str) -> Case:
    _, *found = TEXT.split(rows)
    texts: dict[str, str] = {}
    for name, as_which, lines in zip(found[::3], found[1::3], found[2::3], strict=True):
        texts[name] = texts["was" if as_which == "it" else as_which] if as_which else lines
    together, *asked = ASKED.split(texts["together"])
    pieces: list[Piece] = [read_text(together)]
    for kind, one, other, text in zip(asked[::4], asked[1::4], asked[2::4], asked[3::4], strict=True):
        pieces += [(kind, read_text(one), read_text(other)), read_text(text)]
    was, one, other = (read_text(texts[name]) for name in ("was", "one", "other"))
    return Case(title, was, one, other, tuple(piece for piece in pieces if piece))


def read_text(rows: str) -> str:
    lines = [re.fullmatch(r"\| ?(.*?)(␍␊|␍|∎|)", row) for row in rows.split("\n") if row]
    return "".join(line.group(1) + LINE_ENDS[line.group(2)] for line in lines if line)


def told(merged: Merged) -> tuple[Piece, ...]:
    return tuple(
        (str(piece.kind), piece.ours, piece.theirs) if isinstance(piece, Conflict) else piece for piece in merged.pieces
    )


CASES = list(cases())


@pytest.mark.parametrize("case", CASES, ids=[case.title for case in CASES])
def test_two_texts_come_to_what_the_fixture_says(case: Case) -> None:
    assert told(merge(case.was, case.one, case.other)) == case.together


@pytest.mark.parametrize("case", CASES, ids=[case.title for case in CASES])
def test_it_makes_no_difference_who_of_the_two_is_called_one(case: Case) -> None:
    turned = tuple(piece if isinstance(piece, str) else (piece[0], piece[2], piece[1]) for piece in case.together)
    assert told(merge(case.was, case.other, case.one)) == turned


def test_a_fixture_shows_conflicts_of_every_kind() -> None:
    kinds = {piece[0] for case in CASES for piece in case.together if not isinstance(piece, str)}
    assert kinds == {"changed", "cut", "moved"}
