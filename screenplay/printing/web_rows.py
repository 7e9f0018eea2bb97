"""The rows of a page as lean HTML for the web: each source line is one element that carries its number once.

    <p id="L12" class="dialogue c10">The tide turns at four, so <br>we go at <i data-at="38">three</i></p>

A line's id is its number, "L" in front; the part of a line that goes on on another page has it as `data-of`. The text
within is the source's own from its first character on: where a row was broken at a space, the space stands before the
`<br>`, which a narrow page leaves out. `data-at` is on what does not follow what is before it, as behind a mark of
style: it gives the offset, in characters of the source line, of its own first character.

`cN` is the column, in characters from the text's left edge, at which a line begins; `in cN` that by which a row is set
in further than its line; `gN` the number of blank rows above. The element is named by the line's kind; a scene heading
is an `h2`. Two speeches side by side, which are heard one after the other, are a group that says so. What the layout
added is `added`, OMITTED `omitted`.
"""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from screenplay.model import Kind
from screenplay.page import RIGHT_SPEECH

if TYPE_CHECKING:
    from collections.abc import Container, Iterator, Mapping, Sequence

    from screenplay.model import Run
    from screenplay.page import Cell, Row

_NOWHERE: frozenset[int] = frozenset()
_UNCOUNTED: Mapping[int, int] = {}


def rows_as_html(
    rows: Sequence[Row],
    begun: Container[int] = _NOWHERE,
    *,
    counted: Mapping[int, int] = _UNCOUNTED,
    with_lines: bool = True,
) -> str:
    """The rows of a page as HTML. `begun` are the source lines that begin on an earlier page. `counted` has the ordinal
    of the scene that begins on a line, for headings that have no number of their own to show. Without `with_lines` the
    elements say nothing of the lines they come from."""
    return "".join(_blocks(rows, begun, counted, with_lines))


def _blocks(rows: Sequence[Row], begun: Container[int], counted: Mapping[int, int], with_lines: bool) -> Iterator[str]:
    """The rows joined to lines, and the lines of two speeches side by side to one block."""
    at, gap = 0, 0
    while at < len(rows):
        row = rows[at]
        if not row.cells:
            gap += 1
            at += 1
            continue
        end = at + 1
        if row.side:
            while end < len(rows) and rows[end].side:
                end += 1
            yield _side_by_side(rows[at:end], gap, begun, with_lines)
        else:
            while end < len(rows) and _goes_on(row, rows[end]):
                end += 1
            cells = [each.cells[0] for each in rows[at:end]]
            ordinal = None if row.number or row.line in begun else counted.get(row.line or 0)
            yield _line(cells, gap, begun, with_lines, number=row.number, ordinal=ordinal)
        at, gap = end, 0


def _goes_on(row: Row, following: Row) -> bool:
    return row.line is not None and following.line == row.line and following.kind == row.kind and not following.side


def _side_by_side(rows: Sequence[Row], gap: int, begun: Container[int], with_lines: bool) -> str:
    speeches = []
    for side, shift in (("left", 0), ("right", RIGHT_SPEECH.dialogue.column)):
        lines: list[list[Cell]] = []
        for cell in (cell for row in rows for cell in row.cells if cell.side == side):
            if lines and cell.line is not None and (lines[-1][0].line, lines[-1][0].kind) == (cell.line, cell.kind):
                lines[-1].append(cell)
            else:
                lines.append([cell])
        speeches.append("".join(_line(cells, 0, begun, with_lines, shift=shift) for cells in lines))
    gapped = f" g{gap}" if gap else ""
    both = "".join(f'<div class="side">{speech}</div>' for speech in speeches)
    return f'<div class="dual{gapped}" role="group" aria-label="At the same time">{both}</div>'


def _line(
    cells: Sequence[Cell],
    gap: int,
    begun: Container[int],
    with_lines: bool,
    *,
    number: str | None = None,
    ordinal: int | None = None,
    shift: int = 0,
) -> str:
    """The cells that one source line puts on one page, or what the layout added."""
    line, kind = cells[0].line, cells[0].kind
    column = max(min(cell.column for cell in cells) - shift, 0)
    names = [_name(line, kind, number)]
    if column:
        names.append(f"c{column}")
    if gap:
        names.append(f"g{gap}")
    classes = " ".join(filter(None, names))
    attributes = f' class="{classes}"' if classes else ""
    if line is None:
        text, first = "<br>".join(escape(cell.text, quote=False) for cell in cells), 0
    else:
        first = cells[0].runs[0].start
        text = _rows(cells, column + shift)
        if with_lines:
            named = f' data-of="{line}"' if line in begun else f' id="L{line}"'
            attributes = named + attributes + (f' data-at="{first}"' if first else "")
    tag = "h2" if line is not None and kind is Kind.SCENE_HEADING else "p"
    return f"<{tag}{attributes}>{_numbered(text, number, ordinal)}</{tag}>"


def _name(line: int | None, kind: Kind, number: str | None) -> str:
    if line is None:
        return "omitted" if number else "added"
    return "" if kind is Kind.SCENE_HEADING else kind.value


def _numbered(text: str, number: str | None, ordinal: int | None) -> str:
    """A scene's number in both margins, which is heard once; else its ordinal before it, which is only seen."""
    if not number:
        count = '<span class="margin-number margin-number-left scene-count" aria-hidden="true">'
        return f"{count}{ordinal}</span>{text}" if ordinal else text
    shown = escape(number, quote=False)
    left = f'<span class="margin-number margin-number-left">{shown}</span>'
    return f'{left}{text}<span class="margin-number margin-number-right" aria-hidden="true">{shown}</span>'


def _rows(cells: Sequence[Cell], column: int) -> str:
    """The rows of a line, from the offset of its first run on."""
    at = cells[0].runs[0].start
    html = ""
    for index, cell in enumerate(cells):
        if index:
            is_at_space = at < cell.runs[0].start
            html += " <br>" if is_at_space else "<br>"
            at += is_at_space
        row = ""
        for run in cell.runs:
            row += _run(run, is_apart=run.start != at)
            at = run.start + len(run.text)
        html += f'<span class="in c{cell.column - column}">{row}</span>' if cell.column > column else row
    return html


def _run(run: Run, *, is_apart: bool) -> str:
    """A run as text where it is plain and follows what is before it, else as an element."""
    text = escape(run.text, quote=False)
    tags = [tag for tag, is_so in (("b", run.bold), ("i", run.italic), ("u", run.underline)) if is_so]
    if not tags and is_apart:
        tags = ["span"]
    if not tags:
        return text
    opening = "".join(f"<{tag}>" for tag in tags[1:])
    closing = "".join(f"</{tag}>" for tag in reversed(tags))
    at = f' data-at="{run.start}"' if is_apart else ""
    return f"<{tags[0]}{at}>{opening}{text}{closing}"
