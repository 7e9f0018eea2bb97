"""What of a script reaches the page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay import Kind, Span, parse
from screenplay.fountain import plain, runs
from screenplay.model import Heading, Speech

if TYPE_CHECKING:
    from screenplay import Screenplay
    from screenplay.model import Element, Printed

_WITHIN = "- "  # stands in for what a line begins with, where that was not taken
UNPRINTED = frozenset({Kind.SECTION, Kind.SYNOPSIS, Kind.NOTE, Kind.BONEYARD})


def printed_lines(element: Element) -> tuple[Printed, ...]:
    """The lines of an element that reach the page, in order."""
    if isinstance(element, Heading):
        return (element.printed,)
    if isinstance(element, Speech):
        return (element.cue, *element.lines)
    return element.lines


def lines_as_read(script: Screenplay) -> tuple[str, ...]:
    """Each line of a script as it reaches the page, without its line end; one that does not, as it is typed."""
    lines = (line for element in script.elements for line in printed_lines(element))
    printed = {line.line: plain(line) for line in lines if line.kind not in UNPRINTED}
    return tuple(printed.get(at) or line.rstrip("\r\n") for at, line in enumerate(script.source, 1))


def printed_quote(words: str, *, begins_a_line: bool = True) -> str:
    """Words that were taken from a script as they reach the page, read by themselves: a line each, with the blank ones
    between. As they are typed where none of them does. Unless it `begins_a_line`, no mark is looked for before the
    first."""
    before = "" if begins_a_line else _WITHIN
    script = parse(f"\n{before}{words}")
    lines = [(line, printed_words(script, Span(at, 0, at, len(line)))) for at, line in enumerate(script.source, 1)]
    printed = "\n".join(told for line, told in lines[1:] if told or not line.strip())[len(before) :]
    return printed if printed.strip() else words


def printed_in_rows(words: str, *, begins_a_line: bool = True) -> list[str]:
    """Words that were taken from a script as they reach the page, read by themselves: a row for each heading, paragraph
    or speech, in which what is said follows its cue and a colon. As they are typed where none of them reaches it."""
    before = "" if begins_a_line else _WITHIN
    rows = [_in_a_row(element) for element in parse(f"\n{before}{words}").elements]
    told = [row for row in rows if row]
    return [told[0][len(before) :], *told[1:]] if told else [words.strip()]


def _in_a_row(element: Element) -> str:
    told = [text for line in printed_lines(element) if line.kind not in UNPRINTED and (text := plain(line).strip())]
    if isinstance(element, Speech) and len(told) > 1:
        return f"{told[0]}: {' '.join(told[1:])}"
    return " ".join(told)


def printed_words(script: Screenplay, span: Span) -> str:
    """What of a span reaches the page, without the marks of styles: lines that do not print are left out, and so are
    notes inside the script."""
    wanted = range(span.first_line, span.last_line + 1)
    met = (each for each in script.elements if each.first_line <= span.last_line and each.last_line >= span.first_line)
    printed = {line.line: line for element in met for line in printed_lines(element) if line.line in wanted}
    words = []
    for line in (printed[number] for number in sorted(printed) if printed[number].kind not in UNPRINTED):
        start = span.first_char if line.line == span.first_line else 0
        end = span.last_char if line.line == span.last_line else len(script.source[line.line - 1])
        words.append("".join(run.text[max(start - run.start, 0) : max(end - run.start, 0)] for run in runs(line)))
    return "\n".join(words)
