"""Reads the rewriting cases of `fixtures/rewriting`: two stretches of script, and what became of lines and scenes."""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

FIXTURES = Path(__file__).parent / "fixtures" / "rewriting"
TAG = re.compile(r"\s*\{(\w+)\}$")
SCENE = re.compile(r"(?:(\d+) -> )?(?:(\d+) |new (\d+)|)(.*)")


@dataclass(frozen=True)
class Tagged:
    """A stretch of script, and the lines, from 1, that each note stands on."""

    text: str
    lines_of: Mapping[str, frozenset[int]]


@dataclass(frozen=True)
class SceneToTell:
    """A scene before and one after, by ordinal, None where there is none, and the words that may be said of them."""

    before: int | None
    after: int | None
    fates: frozenset[str]


@dataclass(frozen=True)
class Case:
    """A rewrite, and which fates each note and each scene may be said to have."""

    name: str
    before: Tagged
    after: Tagged
    fates: Mapping[str, frozenset[str]]
    scenes: tuple[SceneToTell, ...]


def cases() -> Iterator[Case]:
    """Every case of every file; a title names one within its file."""
    for path in sorted(FIXTURES.glob("*.txt")):
        _, *parts = re.split(r"^=== ", path.read_text(encoding="utf-8"), flags=re.MULTILINE)
        for part in parts:
            title, *sections = re.split(r"^--- (?=(?:before|after|fates|scenes)$)", part, flags=re.MULTILINE)
            named = {name: body.splitlines() for name, body in (section.split("\n", 1) for section in sections)}
            yield Case(
                f"{path.stem}: {title.splitlines()[0]}",
                _tagged(named["before"]),
                _tagged(named["after"]),
                dict(_fates(named["fates"])),
                tuple(map(_scene, filter(str.strip, named["scenes"]))),
            )


def _tagged(lines: Sequence[str]) -> Tagged:
    texts: list[str] = []
    lines_of: defaultdict[str, set[int]] = defaultdict(set)
    for number, line in enumerate(lines, 1):
        text = line
        while tag := TAG.search(text):
            lines_of[tag[1]].add(number)
            text = text[: tag.start()]
        texts.append(text)
    return Tagged("\n".join(texts).rstrip() + "\n", {tag: frozenset(on) for tag, on in lines_of.items()})


def _fates(lines: Sequence[str]) -> Iterator[tuple[str, frozenset[str]]]:
    for line in filter(str.strip, lines):
        tag, fates = line.split(": ")
        yield tag, frozenset(fates.strip().split(" or "))


def _scene(line: str) -> SceneToTell:
    """`2 -> 3 kept`, `2 -> cut` or `new 3`."""
    before, after, added, fates = SCENE.fullmatch(line.strip()).groups()  # type: ignore[union-attr]
    if added:
        return SceneToTell(None, int(added), frozenset({"new"}))
    return SceneToTell(int(before), int(after) if after else None, frozenset(fates.split(" or ")))
