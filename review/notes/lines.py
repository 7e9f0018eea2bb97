"""The lines a note stands on, taken from the draft's own text."""

from __future__ import annotations

from review.kept import kept
from screenplay import Span
from screenplay.fountain import split_lines


class NoSuchLines(ValueError):
    """The span names lines or characters that the draft does not have; `sentence` says so to its reader."""

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence


def _weigh(lines: tuple[str, ...]) -> int:
    return sum(map(len, lines)) * 2 + len(lines) * 60  # with the text that it is asked by


@kept(_weigh)
def source_lines(text: str) -> tuple[str, ...]:
    """The draft's lines, as the parser parts them, without their line ends; line 1 is the first."""
    return tuple(line.rstrip("\r\n") for line in split_lines(text))


def check(text: str, span: Span) -> None:
    """Raise NoSuchLines unless every line and character of the span is in the text."""
    lines = source_lines(text)
    if not 1 <= span.first_line <= len(lines) or span.last_line > len(lines):
        raise NoSuchLines(f"The draft has lines 1 to {len(lines)}. Choose lines within them.")
    if span.last_line < span.first_line:
        raise NoSuchLines("The last line comes before the first. Choose them the other way round.")
    if span.first_char > len(lines[span.first_line - 1]) or span.last_char > len(lines[span.last_line - 1]):
        raise NoSuchLines("These characters are past the end of their line. Choose the words again.")
    if span.first_line == span.last_line and span.last_char < span.first_char:
        raise NoSuchLines("The last character comes before the first. Choose the words again.")


def whole_lines(text: str, first_line: int, last_line: int) -> str:
    """The lines from the first to the last, joined by line feeds."""
    return "\n".join(source_lines(text)[first_line - 1 : last_line])


def whole_span(text: str, first_line: int, last_line: int) -> Span:
    """All of the lines from the first to the last. Raises NoSuchLines where the text has not that many."""
    last_char = len(whole_lines(text, last_line, last_line))
    span = Span(first_line, 0, last_line, last_char)
    check(text, span)
    return span


def quote(text: str, span: Span) -> str:
    """The words of the span alone, its lines joined by line feeds."""
    lines = list(source_lines(text)[span.first_line - 1 : span.last_line])
    lines[-1] = lines[-1][: span.last_char]
    lines[0] = lines[0][span.first_char :]
    return "\n".join(lines)
