"""One scene as it stands in the whole script: read and laid out by itself where nothing around it has a say in that.

What is around it is looked at once, as long as only the scene is written on; then its lines, its warnings and its
pages cost what the scene costs. Where its text and another's have a say in each other (a boneyard left open, no heading
at the beginning, a heading with nothing under it), only the whole script can tell, and `excerpt_alone` says so.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import (
    AroundExcerpt,
    ExcerptFacts,
    begins_a_scene,
    ends_apart,
    facts_of,
    parse,
    parse_excerpt,
    plain,
)
from screenplay.page import PAGES_BEGIN, end_of_pages, numbers_before, numbers_from, paginate_excerpt, title_rows
from screenplay.script import headings_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from screenplay.model import Kind, Screenplay
    from screenplay.page import Page, PageSetting, Row, RowPosition
    from screenplay.script import LaidOut

BELOW_ANOTHER = AroundExcerpt(before=ExcerptFacts(lines=1))


@dataclass(frozen=True, slots=True)
class ExcerptHeading:
    """A scene heading in an excerpt of a script: its number, as it is printed or else counted, and its words."""

    number: str
    words: str


@dataclass(frozen=True, slots=True)
class ExcerptPage:
    """A page that an excerpt of a script is on, with the excerpt's rows alone: `label` is what it is called, "" for the
    title page, None where only the whole script can tell."""

    label: str | None
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class SceneExcerpt:
    """An excerpt of a script as it stands in the whole.

    `kinds` are those of its lines, and `warnings` are about them, each with the line, which counts from 1 in it. The
    lines of the rows on its `pages` count from `first_line`.
    """

    kinds: tuple[Kind, ...]
    headings: tuple[ExcerptHeading, ...]
    pages: tuple[ExcerptPage, ...]
    warnings: tuple[tuple[int, str], ...]
    first_line: int


@dataclass(frozen=True, slots=True)
class AroundScene:
    """What the rest of a script tells of a scene in it, whatever this one reads: what `parse_excerpt` asks, and where
    on the pages it begins, None where pages are locked: these begin with lines of the whole script. `setting` is that
    of the whole, with its scene numbers; `is_last` says that nothing follows."""

    facts: AroundExcerpt
    start: RowPosition | None
    setting: PageSetting
    is_last: bool


def look_around(before: str, after: str, setting: PageSetting) -> AroundScene | None:
    """What the texts before and behind a scene tell of it. None where one of them is not apart from it."""
    if (before and not ends_apart(before)) or (after and not begins_a_scene(after)):
        return None
    script = parse(before)
    facts = AroundExcerpt(facts_of(script), facts_of(parse_excerpt(after, BELOW_ANOTHER)) if after else ExcerptFacts())
    if setting.locked_pages:
        return AroundScene(facts, None, replace(setting, locked_pages=()), is_last=not after)
    numbers = numbers_before(setting.scene_numbers, facts.before.headings)
    start = end_of_pages(script, replace(setting, scene_numbers=numbers))
    return None if start is None else AroundScene(facts, start, setting, is_last=not after)


def excerpt_alone(text: str, around: AroundScene) -> SceneExcerpt | None:
    """A scene as it stands in the whole, read and laid out by itself. None where that cannot be told from it alone."""
    is_first = not around.facts.before.lines
    if not (is_first or begins_a_scene(text)) or not (around.is_last or ends_apart(text)):
        return None
    script = parse_excerpt(text, around.facts)
    if (setting := _setting_of_excerpt(script, around)) is None:
        return None
    start, ends_anywhere = around.start or PAGES_BEGIN, around.is_last or around.start is None
    if (pages := paginate_excerpt(script, setting, start, is_last=ends_anywhere)) is None:
        return None
    first_line = 1 if is_first else 2
    lines = range(first_line, len(script.source) + 1)
    title = title_rows(script, setting.paper)
    laid_out = _LaidOutPages(setting, pages, title, is_labelled=around.start is not None)
    return _excerpt(script, lines, laid_out, scenes_above=around.facts.before.headings)


def excerpt_of(whole: LaidOut, lines: range) -> SceneExcerpt:
    """The excerpt of a laid-out script that has these lines; none of them for one that is cut."""
    layout = whole.layout
    return _excerpt(whole.script, lines, _LaidOutPages(layout.setting, layout.pages, layout.title_page))


def stand_apart(texts: Iterable[str]) -> bool:
    """Whether each of these texts, none of them empty, is read in their whole as it is by itself, and each behind the
    first begins a scene there."""
    return all(begins_a_scene(after) and ends_apart(before) for before, after in pairwise(texts))


def _setting_of_excerpt(script: Screenplay, around: AroundScene) -> PageSetting | None:
    """The page setting with the locked numbers of the excerpt alone; None where its scenes are other than those that
    were numbered."""
    numbers = around.setting.scene_numbers
    if not numbers:
        return around.setting
    before, own = around.facts.before.headings, len(headings_of(script))
    if sum(each.ordinal is not None for each in numbers) != before + own + around.facts.after.headings:
        return None
    return replace(around.setting, scene_numbers=numbers_from(numbers, before, None if around.is_last else own))


class _LaidOutPages(NamedTuple):
    """What a text that was laid out is on: its pages, and its title page's rows."""

    setting: PageSetting
    pages: tuple[Page, ...]
    title_page: tuple[Row, ...]
    is_labelled: bool = True


def _excerpt(script: Screenplay, lines: range, laid_out: _LaidOutPages, scenes_above: int = 0) -> SceneExcerpt:
    """What a text has on these of its lines; `scenes_above` are scenes of the script that are not in the text."""
    locked = {each.ordinal: each.number for each in laid_out.setting.scene_numbers}
    headings = tuple(
        ExcerptHeading(locked.get(ordinal, heading.number) or str(scenes_above + ordinal), plain(heading.printed))
        for ordinal, heading in enumerate(headings_of(script), 1)
        if heading.first_line in lines
    )
    first = bisect_left(script.warnings, lines.start, key=lambda warning: warning.line)
    last = bisect_left(script.warnings, lines.stop, key=lambda warning: warning.line)
    return SceneExcerpt(
        kinds=script.kinds[lines.start - 1 : lines.stop - 1] if lines else (),
        headings=headings,
        pages=tuple(_pages_with(lines, laid_out)),
        warnings=tuple((each.line - lines.start + 1, each.text) for each in script.warnings[first:last]),
        first_line=lines.start,
    )


def _pages_with(lines: range, laid_out: _LaidOutPages) -> Iterator[ExcerptPage]:
    if any(cell.line in lines for row in laid_out.title_page for cell in row.cells):
        yield ExcerptPage("", laid_out.title_page)
    for page in laid_out.pages:
        at = [place for place, row in enumerate(page.rows) if any(cell.line in lines for cell in row.cells)]
        if at:
            yield ExcerptPage(page.label if laid_out.is_labelled else None, page.rows[at[0] : at[-1] + 1])
