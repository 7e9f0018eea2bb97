"""How much a script may have, and the sentence that is said past it.

A feature has some 120 pages, 7,000 lines, 150 scenes and 60 characters who speak; each limit is far beyond a season of
them in one text. Within the limits any text is read, laid out and counted in a few seconds, whatever it is made of.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from screenplay.fountain import LINE_ENDS, split_lines
from screenplay.intake.refusals import Unreadable
from screenplay.model import Heading, Kind, Speech

if TYPE_CHECKING:
    from screenplay.model import Screenplay

MOST_LINES = 100_000
LONGEST_LINE = 20_000  # characters
MOST_MARKS = 100_000
MOST_PAGE_BREAKS = 1_000
MOST_SCENES = 3_000
MOST_SPEAKERS = 1_000
MOST_WARNINGS = 10_000  # each is a row of the report

_ALONE = "far more than a script: choose the script's text alone"
_TOO_MANY_LINES = f"{{it}} has over {MOST_LINES:,} lines, {_ALONE}."
_TOO_MANY_MARKS = f"{{it}} has over {MOST_MARKS:,} tabs, marks of emphasis and notes, {_ALONE}."
_TOO_LONG_A_LINE = "{{it}} has over {most:,} characters in line {line}: put its paragraphs on lines of their own."
_TOO_MANY_PAGE_BREAKS = f"{{it}} has over {MOST_PAGE_BREAKS:,} page breaks, far more than a script: take them out."
_TOO_MANY_SCENES = f"{{it}} has over {MOST_SCENES:,} scenes, far more than a script: put up one script at a time."
_TOO_MANY_SPEAKERS = (
    f"{{it}} has over {MOST_SPEAKERS:,} characters who speak, far more than a script: see that a line in capitals "
    "stands right over others only where it is a name."
)
_TOO_MANY_WARNINGS = (
    f"{{it}} has over {MOST_WARNINGS:,} lines that may not be read as they are meant: see that it is a script's text, "
    "with a blank line over each heading and each name."
)
# Tabs, what may be a mark of emphasis, and the openings of notes and boneyards.
_MARKS = re.compile(r"[\t*_\\]|\[\[|/(?=\*)")


def refuse_more_than_a_text(text: str) -> None:
    """Unreadable, `{it}` its subject, for a text that is more than a script's by its lines or marks."""
    lines = split_lines(text)
    if len(lines) > MOST_LINES:
        raise Unreadable(_TOO_MANY_LINES)
    for number, line in enumerate(lines, 1):
        if len(line.rstrip(LINE_ENDS)) > LONGEST_LINE:
            raise Unreadable(_TOO_LONG_A_LINE.format(most=LONGEST_LINE, line=number))
    if sum(1 for _ in _MARKS.finditer(text)) > MOST_MARKS:
        raise Unreadable(_TOO_MANY_MARKS)


def refuse_more_than_a_script(script: Screenplay, it: str = "This script") -> None:
    """Unreadable, one sentence about `it`, for more scenes, characters, page breaks or warnings than a script has."""
    if script.kinds.count(Kind.PAGE_BREAK) > MOST_PAGE_BREAKS:
        raise Unreadable(_TOO_MANY_PAGE_BREAKS).about(it)
    if sum(isinstance(element, Heading) for element in script.elements) > MOST_SCENES:
        raise Unreadable(_TOO_MANY_SCENES).about(it)
    speakers = {element.name for element in script.elements if isinstance(element, Speech) and element.lines}
    if len(speakers) > MOST_SPEAKERS:
        raise Unreadable(_TOO_MANY_SPEAKERS).about(it)
    if len(script.warnings) > MOST_WARNINGS:
        raise Unreadable(_TOO_MANY_WARNINGS).about(it)
