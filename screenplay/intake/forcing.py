"""Text as the Fountain that reads as it is meant: with the marks that force an element where it needs one."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

from screenplay.fountain import parse, plain_text
from screenplay.model import Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

_MARKS = re.compile(r"[*_\\]")
_NOTE = re.compile(r"\[(?=\[)")


def literal(text: str) -> str:
    r"""`text` so that Fountain prints it as it is: with `\` before marks of emphasis, and no note or boneyard in it.

    A note's opening mark is parted by a space, for nothing in the standard takes its meaning away.
    """
    text = without_notes(text)
    if "/*" in text or "*/" in text or (_MARKS.search(text) and plain_text(text) != text):
        return escaped(text)
    return text


def without_notes(text: str) -> str:
    """`text` with the brackets that would begin a note set apart."""
    return _NOTE.sub("[ ", text)


def escaped(text: str) -> str:
    r"""`text` with `\` before each of its marks, so that it may stand between marks that are meant."""
    return _MARKS.sub(r"\\\g<0>", without_notes(text))


def heading(text: str, number: str) -> list[str]:
    line = text if _reads_as(text, Kind.SCENE_HEADING) else f".{text}"
    if not _reads_as(line, Kind.SCENE_HEADING):
        return action([text])
    return [f"{line} #{number}#" if number else line]


def action(lines: Sequence[str]) -> list[str]:
    """Lines of one action, with a `!` before those that need one."""
    kinds = _kinds([*lines, ""])
    forced = [line if kind is Kind.ACTION else f"!{line}" for line, kind in zip(lines, kinds, strict=False)]
    if forced == list(lines) or all(kind is Kind.ACTION for kind in _kinds([*forced, ""])[: len(forced)]):
        return forced
    return [f"!{line}" for line in lines]


def transition(text: str) -> list[str]:
    line = text if _reads_as(text, Kind.TRANSITION) else f"> {text}"
    return [line] if _reads_as(line, Kind.TRANSITION) else action([text])


def centered(lines: Sequence[str]) -> list[str]:
    return [f"> {line} <" for line in lines]


def lyric(lines: Sequence[str]) -> list[str]:
    return [f"~{line}" for line in lines]


@lru_cache(maxsize=1024)
def cue(text: str, *, dual: bool = False) -> str:
    """A cue's line, with `^` for the second of two speeches side by side."""
    line = text if _kinds([text, "x"])[0] is Kind.CHARACTER else f"@{text}"
    return f"{line} ^" if dual else line


def _reads_as(line: str, kind: Kind) -> bool:
    return _kinds([line, ""])[0] is kind


def _kinds(lines: Sequence[str]) -> tuple[Kind, ...]:
    """What kinds these lines are where they stand after a blank line."""
    return parse("\n".join(["x", "", *lines])).kinds[2:]
