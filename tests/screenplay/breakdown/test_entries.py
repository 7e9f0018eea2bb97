"""How a list's entries are written, and where each stands in a sentence; and that the lists are written so."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from screenplay.breakdown.entries import Entries, read_entries
from screenplay.breakdown.list_files import list_file
from screenplay.breakdown.sentences import sentences_of

if TYPE_CHECKING:
    from collections.abc import Iterator


def found(entry: str, text: str) -> list[str]:
    """What of a text an entry finds."""
    entries = Entries(read_entries(entry, "tag"))
    return [
        " ".join(sentence.texts[match.start : match.end])
        for sentence in sentences_of(text)
        for match in entries.matches(sentence)
    ]


@pytest.mark.parametrize(
    ("entry", "text", "words"),
    [
        ("gun", "A gun. Two guns.", ["gun", "guns"]),
        ("air rifle", "An air rifle, and air. Rifle fire.", ["air rifle"]),
        ("fire at/into", "He fires at it, then into it, firing into it.", ["fires at", "firing into"]),
        ("hold … under", "She holds it under. She holds the poor old man's head under.", ["holds it under"]),
        ("hold … under", "She holds his whole head under.", ["holds his whole head under"]),
        (
            "# feet above",
            "40 feet above, and forty-five feet above; some feet above.",
            ["40 feet above", "forty-five feet above"],
        ),
        ("=flooded", "It floods. It is flooded.", ["flooded"]),
        ("onto the", "On to the roof, onto the wall.", ["On to the", "onto the"]),
        ("cat's cradle", "A cat’s cradle.", ["cat’s cradle"]),
        ("dog, cat", "A cat, a dog.", ["cat", "dog"]),
    ],
)
def test_an_entry_stands_where_its_notation_says(entry: str, text: str, words: list[str]) -> None:
    assert found(entry, text) == words


def written() -> Iterator[tuple[str, str]]:
    """Every list whose entries are parted by commas, with its name."""
    for name, caution in list_file("cautions").items():
        for key, told in caution.items():
            if isinstance(told, str) and key != "name":
                yield f"{name} {key}", told
            elif isinstance(told, list):
                yield from ((f"{name} {key} {which}", each) for pair in told for which, each in pair.items())
    yield from list_file("unreal").items()


@pytest.mark.parametrize(("name", "told"), list(written()))
def test_the_lists_are_written_by_the_notation(name: str, told: str) -> None:
    entries = [" ".join(entry.split()) for entry in told.split(",")]
    assert len(entries) == len(set(entries)), sorted({one for one in entries if entries.count(one) > 1})
    for entry in entries:
        assert entry
        assert entry == entry.casefold()
        assert not entry.startswith(("…", "/"))
        assert not entry.endswith(("…", "/", "#"))
        assert all(all(word.lstrip("=").split("/")) for word in entry.split())
