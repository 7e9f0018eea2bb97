"""The words of a script as they print: its marks for bold, italic and underline are styles, never shown."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING, Literal, NamedTuple

from review.drafts.printed_lines import UNPRINTED, printed_lines
from screenplay import Kind
from screenplay.comparing import word_changes
from screenplay.fountain import runs
from screenplay.model import Printed

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from screenplay import Screenplay

Op = Literal["same", "cut", "added"]

PAGE_BREAK = "Page break"  # in place of its mark
PARTED = " ¶ "  # between lines told as one: the proofreader's mark for a new paragraph (common practice)
HIDING = ("[[", "]]", "/*", "*/")


class Style(NamedTuple):
    bold: bool = False
    italic: bool = False
    underline: bool = False


class PrintedCharacter(NamedTuple):
    """One character of a line, and how it prints."""

    text: str
    style: Style


@dataclass(frozen=True, slots=True)
class Words:
    """A stretch of a line in one style: `op` says whether it stayed, went or came."""

    op: Op
    text: str
    style: Style

    @property
    def core(self) -> str:
        """The text without the spaces around it, which show no mark."""
        return self.text.strip()

    @property
    def lead(self) -> str:
        return self.text[: len(self.text) - len(self.text.lstrip())]

    @property
    def tail(self) -> str:
        return self.text[len(self.text.rstrip()) :] if self.core else ""


def shown_texts(script: Screenplay, with_source: bool) -> list[str]:
    """The text of each source line as it prints, forcing marks taken away; empty for one that is not shown.

    With the source, lines that do not print are there as they stand, and so are lines that print in part.
    """
    source = [line.rstrip("\r\n") for line in script.source]
    texts = [
        text if text.strip() and (with_source or kind == Kind.TITLE_PAGE) else ""
        for text, kind in zip(source, script.kinds, strict=True)
    ]
    for element in script.elements:
        for printed in printed_lines(element):
            if not with_source:
                texts[printed.line - 1] = printed.text if printed.kind not in UNPRINTED and printed.text.strip() else ""
            elif not any(mark in source[printed.line - 1] for mark in HIDING):
                texts[printed.line - 1] = PAGE_BREAK if printed.kind == Kind.PAGE_BREAK else printed.text
    return texts


def line_words(op: Op, texts: Iterable[str]) -> tuple[Words, ...]:
    """A line, or some lines joined, of which all went, came or stayed. Texts have their marks in."""
    return tuple(_in_styles(op, _printed(texts, " ")))


def changed_words(before: Iterable[str], after: Iterable[str]) -> tuple[Words, ...]:
    """What went and came between two texts with their marks in; words that kept all but their style did both. Where
    there are several lines on a side, PARTED stands between them."""
    old, new = _printed(before, PARTED), _printed(after, PARTED)
    found: list[Words] = []
    at_old = at_new = 0
    for change in word_changes(_text(old), _text(new)):
        length = len(change.text)
        gone = old[at_old : at_old + length] if change.op != "added" else []
        come = new[at_new : at_new + length] if change.op != "cut" else []
        at_old, at_new = at_old + len(gone), at_new + len(come)
        found += _restyled(gone, come) if gone and come else [*_in_styles("cut", gone), *_in_styles("added", come)]
    return tuple(found)


def _printed(texts: Iterable[str], between: str) -> list[PrintedCharacter]:
    """The characters of some lines as they print, with what stands between these."""
    printed: list[PrintedCharacter] = []
    for text in texts:
        if printed:
            printed += [PrintedCharacter(character, Style()) for character in between]
        for run in runs(Printed(0, Kind.ACTION, text)):
            style = Style(run.bold, run.italic, run.underline)
            printed += [PrintedCharacter(character, style) for character in run.text]
    return printed


def _text(characters: Sequence[PrintedCharacter]) -> str:
    return "".join(character.text for character in characters)


def _in_styles(op: Op, characters: Iterable[PrintedCharacter]) -> Iterator[Words]:
    for style, group in groupby(characters, key=lambda character: character.style):
        yield Words(op, "".join(character.text for character in group), style)


def _restyled(gone: Sequence[PrintedCharacter], come: Sequence[PrintedCharacter]) -> Iterator[Words]:
    """The same words before and after, parted where their style is not the same."""
    for (is_same, _, _), group in groupby(zip(gone, come, strict=True), key=_styles):
        before, after = zip(*group, strict=True)
        if is_same:
            yield from _in_styles("same", after)
        else:
            yield from (*_in_styles("cut", before), *_in_styles("added", after))


def _styles(pair: tuple[PrintedCharacter, PrintedCharacter]) -> tuple[bool, Style, Style]:
    before, after = pair
    return before.style == after.style, before.style, after.style
