"""The title page laid out: what the script is called and who wrote it in the middle, all else at the foot."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.fountain import plain_text, runs
from screenplay.model import Kind, Printed, Screenplay, TitleEntry
from screenplay.page.paper import ACTION, CENTERED, Measure, Paper
from screenplay.page.rows import BLANK_ROW, Cell, Row
from screenplay.page.wrapping import columns, wrap

if TYPE_CHECKING:
    from collections.abc import Iterator

_IN_THE_MIDDLE = frozenset({"title", "credit", "author", "authors", "source"})
# Their values speak for themselves; any other stands after its key.
_WITHOUT_KEY = _IN_THE_MIDDLE | {"contact", "copyright", "draft date", "revision", "notes"}
_BLANK_LINES_ABOVE = 1 / 3  # of the paper's lines


def title_rows(screenplay: Screenplay, paper: Paper) -> tuple[Row, ...]:
    """The title page's rows from the top of the paper's text to its foot; none where the script has no title page."""
    middle: list[Row] = []
    foot: list[Row] = []
    for entry in screenplay.title_page:
        is_middle = stands_in_the_middle(entry)
        rows = _entry_rows(screenplay, entry, CENTERED if is_middle else ACTION)
        part = middle if is_middle else foot
        part += [*([BLANK_ROW] if part and rows else []), *rows]
    if not middle and not foot:
        return ()
    above = int(paper.lines * _BLANK_LINES_ABOVE)
    between = paper.lines - above - len(middle) - len(foot)
    if between < 1:
        above = max(above + between - 1, 0)
        between = 1
    if not foot:
        return (*[BLANK_ROW] * above, *middle)
    return (*[BLANK_ROW] * above, *middle, *[BLANK_ROW] * between, *foot)


def stands_in_the_middle(entry: TitleEntry) -> bool:
    """Whether an entry stands in the middle of the page, as the title does, and not at its foot."""
    return _name(entry) in _IN_THE_MIDDLE


def title_of(screenplay: Screenplay) -> str:
    """What the script is called on its title page, on one line and without marks; empty where it says nothing."""
    values = (entry.values for entry in screenplay.title_page if _name(entry) == "title")
    return " ".join(" ".join(plain_text(value).split()) for value in next(values, ()))


def _name(entry: TitleEntry) -> str:
    return " ".join(entry.key.casefold().split())


def _entry_rows(screenplay: Screenplay, entry: TitleEntry, measure: Measure) -> list[Row]:
    rows: list[Row] = []
    for printed in printed_entry(screenplay, entry):
        for row in wrap(runs(printed), measure.width):
            column = measure.column_of(sum(columns(run.text) for run in row))
            rows.append(Row((Cell(Kind.TITLE_PAGE, printed.line, column, row),)))
    return rows


def printed_entry(screenplay: Screenplay, entry: TitleEntry) -> Iterator[Printed]:
    """The entry's values, each with its place in the source; the key too where the value needs it."""
    first = entry.first_line
    if entry.values and _name(entry) not in _WITHOUT_KEY:
        key_line = screenplay.source[first - 1].strip()
        yield Printed(first, Kind.TITLE_PAGE, key_line, screenplay.source[first - 1].index(key_line))
        if entry.values[0] in key_line[len(entry.key) :]:
            values, first = entry.values[1:], first + 1
        else:
            values, first = entry.values, first + 1
    else:
        values = entry.values
    yield from _found(screenplay, values, first, entry.last_line)


def _found(screenplay: Screenplay, values: tuple[str, ...], first: int, last: int) -> Iterator[Printed]:
    """Each of the values as printed from the next line, of those from `first` to `last`, that holds it."""
    line = first
    for value in values:
        while line < last and value not in screenplay.source[line - 1]:
            line += 1
        yield Printed(line, Kind.TITLE_PAGE, value, max(screenplay.source[line - 1].rfind(value), 0))
        line += 1
