"""Fountain text to a `Screenplay`."""

from __future__ import annotations

from functools import cache
from itertools import chain, pairwise, repeat
from typing import TYPE_CHECKING

from screenplay.fountain.cues import same_name
from screenplay.fountain.excerpts import NOTHING_AROUND, AroundExcerpt
from screenplay.fountain.grammars import Grammar
from screenplay.fountain.lines import LineLexer, line_tokens
from screenplay.fountain.shapes import Shapes
from screenplay.fountain.source_lines import SourceLines
from screenplay.fountain.warnings import warnings_about
from screenplay.model import Element, Heading, Screenplay, Speech

if TYPE_CHECKING:
    from collections.abc import Sequence


def parse(text: str) -> Screenplay:
    """Read Fountain: any text at all, without failing, in time proportional to its length.

    `"".join(parse(text).source) == text`, and `kinds` has one kind for each source line.
    """
    return parse_excerpt(text, NOTHING_AROUND)


def parse_excerpt(text: str, around: AroundExcerpt) -> Screenplay:
    """Read an excerpt of a script by itself, of which `screenplay.fountain.excerpts` says where it may be.

    One that is not the first is read with a line before it, the blank one that it stands behind. Its lines count from
    that one, its scenes from 1; a warning that names another line means one of the whole script.
    """
    text = f"\n{text}" if around.before.lines else text
    lines = SourceLines(text)
    title_page, found = fountain_grammar().parse(line_tokens(lines))
    elements = _with_one_spelling(found, around.before.cued)
    return Screenplay(
        text=text,
        source=lines.source,
        kinds=tuple(lines.kinds),
        scene_of=_scene_of(elements, len(lines.source)),
        title_page=title_page,
        elements=elements,
        warnings=warnings_about(lines, title_page, elements, around),
    )


@cache
def fountain_grammar() -> Grammar:
    """The block grammar, read once a process."""
    return Grammar("fountain", LineLexer, Shapes())


def _with_one_spelling(elements: list[Element], cued_before: Sequence[str]) -> tuple[Element, ...]:
    """The elements, with each character's name spelled as where it stands first, which may be before all of them."""
    names = {element.name for element in elements if isinstance(element, Speech)}.union(cued_before)
    if len({same_name(name) for name in names}) == len(names):
        return tuple(elements)
    spelling = {same_name(name): name for name in reversed(cued_before)}
    return tuple(
        element._replace(name=spelling.setdefault(same_name(element.name), element.name))
        if isinstance(element, Speech)
        else element
        for element in elements
    )


def _scene_of(elements: tuple[Element, ...], lines: int) -> tuple[int, ...]:
    """The ordinal of each line's scene, from its heading to the line before the next; 0 before the first."""
    starts = [element.first_line - 1 for element in elements if isinstance(element, Heading)]
    spans = [end - start for start, end in pairwise([0, *starts, lines])]
    return tuple(chain.from_iterable(repeat(ordinal, span) for ordinal, span in enumerate(spans)))
