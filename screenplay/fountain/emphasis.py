"""Marks within a line (F17): which of them have a partner, and the runs of text in one style that they make.

A mark opens where no space follows it and closes where no space stands before it. Each style is open once at a
time; a later opening mark takes the place of one still waiting, which is then plain, as in `*69 and *23*`. Four
or more stars in a row, and two or more underscores, are plain: they are rules to fill in, and the like.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple

from lark.lexer import Lexer

from screenplay.fountain.grammars import Grammar
from screenplay.model import Printed, Run

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

_MARK = re.compile(r"\\[*_\\]|\*+|_+")
_STYLES = {"*": ("ITALIC",), "**": ("BOLD",), "***": ("BOLD", "ITALIC"), "_": ("UNDERLINE",)}
_SIGNS = {"ITALIC": "*", "BOLD": "**", "UNDERLINE": "_"}


def runs(printed: Printed) -> tuple[Run, ...]:
    """The runs of a printed line, marks taken away; `Run.start` is an offset in the source line."""
    text = printed.text
    if not text:
        return ()
    if not printed.cuts and _has_no_marks(text):
        return (Run(text, printed.start),)
    return tuple(_placed(_merged(_styled(text)), printed))


def plain(printed: Printed) -> str:
    """A printed line's text without its marks."""
    return plain_text(printed.text)


def plain_lines(text: str) -> str:
    """The text of printed lines, a line feed between two, without its marks, which are paired within a line."""
    return text if _has_no_marks(text) else "\n".join(map(plain_text, text.split("\n")))


def plain_text(text: str) -> str:
    """A line's text without its marks."""
    if _has_no_marks(text):
        return text
    return "".join([piece.text for piece in _styled(text)])


def _has_no_marks(text: str) -> bool:
    return "*" not in text and "_" not in text and "\\" not in text


def _styled(text: str) -> Iterable[StyledText]:
    """A line's text in pieces of one style each, in order. Where no mark has a partner there is nothing to parse."""
    tokens = mark_tokens(text)
    if all(token.type == "TEXT" for token in tokens):
        return (StyledText(token.text, token.start) for token in tokens)
    pieces: list[StyledText] = _grammar().parse(tokens)
    return pieces


@cache
def _grammar() -> Grammar:
    return Grammar("emphasis", MarkLexer, Styles())


@dataclass(slots=True)
class MarkToken:
    """Text, or a mark with a partner, as a token of the emphasis grammar; `start` is its offset in the line."""

    type: str
    text: str
    start: int


class MarkLexer(Lexer):
    """The lexer of the emphasis grammar."""

    def __init__(self, lexer_conf: object) -> None:
        pass

    def lex(self, lexer_state: Any, parser_state: Any = None) -> Iterator[Any]:
        """The tokens of a line."""
        return iter(mark_tokens(lexer_state))


def mark_tokens(text: str) -> list[MarkToken]:
    """A line as text and marks that have found their partner, in order. Time is proportional to its length, since
    at most one mark of a style waits for its partner at a time."""
    pairing = Pairing()
    at = 0
    for match in _MARK.finditer(text):
        start, end = match.span()
        if at < start:
            pairing.add(text[at:start], at)
        at = end
        mark = match.group()
        if mark[0] == "\\":
            pairing.add(mark[1], start + 1)
        elif mark not in _STYLES:
            pairing.add(mark, start)
        else:
            closes = start > 0 and not text[start - 1].isspace()
            opens = end < len(text) and not text[end].isspace()
            pairing.mark(list(_STYLES[mark]), start, closes=closes, opens=opens)
    if at < len(text):
        pairing.add(text[at:], at)
    return pairing.tokens


class LoneMark(NamedTuple):
    """A mark that finds no partner on its line, and so is printed. One before a digit begins no word: `*69` is a number
    to dial."""

    sign: str
    begins_a_word: bool
    may_close: bool


def lone_marks(text: str) -> list[LoneMark]:
    """The marks of a line that find no partner on it, or whose partner is beyond that of another, in order."""
    if _has_no_marks(text):
        return []
    unpaired = [token for token in mark_tokens(text) if token.type == "TEXT" and token.text in _SIGNS.values()]
    begin_words = set(_marks_before_words(text)) if unpaired else set()
    return [
        LoneMark(token.text, token.start in begin_words, token.start > 0 and not text[token.start - 1].isspace())
        for token in unpaired
    ]


def _marks_before_words(text: str) -> Iterator[int]:
    """Where the marks stand that begin a word: signs aside, a letter follows them and all marks that stand together
    with them, and neither a letter, a digit nor a backslash stands before these."""
    at = 0  # of what follows the marks and is no sign: one and the same for all that stand before it
    for marks in _MARKS.finditer(text):
        start, end = marks.span()
        if at < end:
            no_sign = _NO_SIGN.search(text, end)
            at = no_sign.start() if no_sign else len(text)
        before = text[start - 1 : start]
        if not (before.isalnum() or before == "\\") and _LETTER.match(text, at):
            yield from range(start, end)


_MARKS = re.compile(r"[*_]+")
_NO_SIGN = re.compile(r"[\w\s]")
_LETTER = re.compile(r"[^\W\d_]")


class Pairing:
    """The tokens of a line so far, and the places in them of the marks that wait for a partner, outermost first."""

    def __init__(self) -> None:
        self.tokens: list[MarkToken] = []
        self.waiting: list[tuple[str, int]] = []

    def add(self, text: str, start: int) -> None:
        self.tokens.append(MarkToken("TEXT", text, start))

    def mark(self, styles: list[str], start: int, *, closes: bool, opens: bool) -> None:
        """Add a mark for these styles: it closes what it can, and opens or is plain for the rest."""
        while closes and (style := self._to_close(styles)):
            styles.remove(style)
            self._close(style, start)
            start += len(_SIGNS[style])
        for style in styles:
            if opens:
                self.waiting = [(waiting, at) for waiting, at in self.waiting if waiting != style]
                self.waiting.append((style, len(self.tokens)))
            self.add(_SIGNS[style], start)
            start += len(_SIGNS[style])

    def _to_close(self, styles: list[str]) -> str | None:
        """Which of the styles was opened last."""
        return next((style for style, _ in reversed(self.waiting) if style in styles), None)

    def _close(self, style: str, start: int) -> None:
        self._turn_triple_mark(style)
        place = next(place for place, (waiting, _) in enumerate(self.waiting) if waiting == style)
        self.tokens[self.waiting[place][1]].type = f"{style}_ON"
        del self.waiting[place:]
        self.tokens.append(MarkToken(f"{style}_OFF", _SIGNS[style], start))

    def _turn_triple_mark(self, style: str) -> None:
        """Make `***` open in the other order where its bold is to close first: `***both** italic*`."""
        if style != "BOLD" or len(self.waiting) < 2:
            return
        (outer, first), (inner, second) = self.waiting[-2:]
        if (outer, inner) != ("BOLD", "ITALIC") or second != first + 1:
            return
        start = self.tokens[first].start
        self.tokens[first] = MarkToken("TEXT", "*", start)
        self.tokens[second] = MarkToken("TEXT", "**", start + 1)
        self.waiting[-2:] = [("ITALIC", first), ("BOLD", second)]


class StyledText(NamedTuple):
    """Some of a line's text and its styles; `start` is its offset in the line."""

    text: str
    start: int
    bold: bool = False
    italic: bool = False
    underline: bool = False


class Styles:
    """One method for each rule of the emphasis grammar: the pieces inside of it, in its style."""

    def line(self, parts: list[MarkToken | list[StyledText]]) -> list[StyledText]:
        return _pieces(parts)

    def italic(self, parts: list[MarkToken | list[StyledText]]) -> list[StyledText]:
        return [StyledText(one.text, one.start, one.bold, True, one.underline) for one in _pieces(parts[1:-1])]

    def bold(self, parts: list[MarkToken | list[StyledText]]) -> list[StyledText]:
        return [StyledText(one.text, one.start, True, one.italic, one.underline) for one in _pieces(parts[1:-1])]

    def underline(self, parts: list[MarkToken | list[StyledText]]) -> list[StyledText]:
        return [StyledText(one.text, one.start, one.bold, one.italic, True) for one in _pieces(parts[1:-1])]


def _pieces(parts: list[MarkToken | list[StyledText]]) -> list[StyledText]:
    pieces: list[StyledText] = []
    for part in parts:
        if isinstance(part, MarkToken):
            pieces.append(StyledText(part.text, part.start))
        else:
            pieces += part
    return pieces


def _merged(pieces: Iterable[StyledText]) -> Iterator[StyledText]:
    """Pieces of one style that touch in the line, as one."""
    first: StyledText | None = None
    more: list[str] = []
    end = 0
    for piece in pieces:
        if first is not None and piece.start == end and piece[2:] == first[2:]:
            more.append(piece.text)
        else:
            if first is not None:
                yield first._replace(text="".join((first.text, *more))) if more else first
            first, more = piece, []
        end = piece.start + len(piece.text)
    if first is not None:
        yield first._replace(text="".join((first.text, *more))) if more else first


def _placed(pieces: Iterable[StyledText], printed: Printed) -> Iterator[Run]:
    """The pieces as runs of the source line, parted where the line has something between their characters."""
    cuts = list(reversed(printed.cuts))
    shift = printed.start
    for text, start, *styles in pieces:
        done, end = 0, start + len(text)
        while cuts and cuts[-1][0] < end:
            at, length = cuts.pop()
            if at > start + done:
                yield Run(text[done : at - start], start + done + shift, *styles)
                done = at - start
            shift += length
        yield Run(text[done:], start + done + shift, *styles)
