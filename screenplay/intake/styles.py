"""Words set in bold, in italics or over a ruled line, written with Fountain's marks of emphasis (F17)."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby
from typing import TYPE_CHECKING

from screenplay.fountain import plain_text
from screenplay.intake import forcing
from screenplay.intake.typed_pages import BOLD, ITALIC, UNDERLINED

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from screenplay.intake.typed_pages import TypedLine, TypedWord

_MARKS = ((UNDERLINED, "_"), (BOLD, "**"), (ITALIC, "*"))


def marked(words: Sequence[TypedWord]) -> str:
    """The words as a line of Fountain: each run of words in one style within its marks, and all else as it is."""
    text = "".join(" " * word.gap + word.text for word in words)
    if not any(word.style for word in words):
        return forcing.literal(text)
    written = "".join(_run(part) for _, run in groupby(words, key=lambda word: word.style) for part in _parts(run))
    return written if plain_text(written) == forcing.without_notes(text) else forcing.literal(text)


def _parts(run: Iterable[TypedWord]) -> Iterator[list[TypedWord]]:
    """Words in one style, parted where one begins or ends out of it, as before the comma in `*one*, *two*`."""
    part: list[TypedWord] = []
    for word in run:
        if part and word.lead:
            yield part
            part = []
        part.append(word)
        if word.tail:
            yield part
            part = []
    if part:
        yield part


def _run(words: Sequence[TypedWord]) -> str:
    first, *rest = words
    text = first.text + "".join(" " * word.gap + word.text for word in rest)
    marks = "".join(sign for one, sign in _MARKS if first.style & one)
    outside = ")" if text[-1] == ")" and "(" not in text and text != ")" else ""
    if tail := words[-1].tail:
        outside = text[-tail:]
    before, inside = text[: first.lead], text.removesuffix(outside)[first.lead :]
    pieces = [forcing.escaped(before), marks, forcing.escaped(inside), marks[::-1], forcing.escaped(outside)]
    return " " * first.gap + "".join(pieces)


def are_in_italics(lines: Sequence[TypedLine]) -> bool:
    """Whether all words of some lines are."""
    return all(word.style & ITALIC for line in lines for word in line.words)


def sung(lines: Sequence[TypedLine]) -> list[TypedLine]:
    """Lines of a lyric, as they are written: without the italics that it is set in, where all of it is."""
    if not are_in_italics(lines):
        return list(lines)
    return [
        replace(line, words=tuple(word._replace(style=word.style & ~ITALIC) for word in line.words)) for line in lines
    ]


def unmarked(words: Sequence[TypedWord]) -> str:
    """The words as a line of Fountain that says nothing of their style."""
    return forcing.literal("".join(" " * word.gap + word.text for word in words))
