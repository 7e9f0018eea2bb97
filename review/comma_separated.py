"""Tables as comma-separated values (RFC 4180), of which no cell is more than text to the spreadsheet that opens it."""

from __future__ import annotations

import csv
from io import StringIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

CellValue = str | int | float
CSV = "text/csv; charset=utf-8; header=present"
# What a spreadsheet takes for the beginning of a formula (common practice): in either width, with or without white
# space before it.
BEGINS_A_FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")
UNSEEN = ("\t", "\r", "\n")


def comma_separated(heads: Sequence[str], rows: Iterable[Sequence[CellValue]]) -> bytes:
    """The rows as RFC 4180 has it: a header, CRLF at each end, quotes around every text, so that no other separator
    parts one; UTF-8, with the mark by which spreadsheets know it. A text that one would work out as a formula has an
    apostrophe in front."""
    written = StringIO()
    writer = csv.writer(written, lineterminator="\r\n", quoting=csv.QUOTE_NONNUMERIC)
    writer.writerow(heads)
    writer.writerows([_harmless(cell) for cell in row] for row in rows)
    return written.getvalue().encode("utf-8-sig")


def _harmless(cell: CellValue) -> CellValue:
    if not isinstance(cell, str):
        return cell
    runs = cell.startswith(UNSEEN) or cell.lstrip().startswith(BEGINS_A_FORMULA)
    return f"'{cell}" if runs else cell
