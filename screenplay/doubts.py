"""What a writer may want to mend, each with its line, the rule it is about, and what would mend it."""

from __future__ import annotations

from screenplay.lines import SourceLines
from screenplay.model import Element, TitleEntry, Warning


def doubts(lines: SourceLines, title_page: list[TitleEntry], elements: list[Element]) -> tuple[Warning, ...]:
    """The warnings about a script, in the order of its lines."""
    return ()
