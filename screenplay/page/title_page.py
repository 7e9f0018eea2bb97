"""The title page laid out: what the script is called and who wrote it in the middle, all else at the foot."""

from __future__ import annotations

from screenplay.fountain import plain_text, runs
from screenplay.model import Kind, Printed, Screenplay, TitleEntry
from screenplay.page.paper import ACTION, CENTERED, Measure, PaperSize
from screenplay.page.rows import BLANK_ROW, Cell, Row
from screenplay.page.wrapping import columns, wrap

_IN_THE_MIDDLE = frozenset({"title", "credit", "author", "authors", "source"})
# Their values speak for themselves; any other stands after its key.
_WITHOUT_KEY = _IN_THE_MIDDLE | {"contact", "copyright", "draft date", "revision", "notes"}
_BLANK_LINES_ABOVE = 1 / 3  # of the paper's lines


def title_rows(screenplay: Screenplay, paper: PaperSize) -> tuple[Row, ...]:
    """The title page's rows from the top of the paper's text to its foot; none where the script has no title page."""
    middle: list[Row] = []
    foot: list[Row] = []
    for entry in screenplay.title_page:
        is_middle = stands_in_the_middle(entry)
        rows = _entry_rows(entry, CENTERED if is_middle else ACTION)
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


def _entry_rows(entry: TitleEntry, measure: Measure) -> list[Row]:
    rows: list[Row] = []
    for printed in printed_entry(entry):
        for row in wrap(runs(printed), measure.width):
            column = measure.column_of(sum(columns(run.text) for run in row))
            rows.append(Row((Cell(Kind.TITLE_PAGE, printed.line, column, row),)))
    return rows


def printed_entry(entry: TitleEntry) -> tuple[Printed, ...]:
    """The lines of the entry's value; the key's line too, whole, where the value needs it."""
    if not entry.lines or _name(entry) in _WITHOUT_KEY:
        return entry.lines
    return (entry.key_line, *(line for line in entry.lines if line.line != entry.key_line.line))
