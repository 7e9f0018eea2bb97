"""A breakdown as a table to take away: comma-separated values (RFC 4180), and a spreadsheet (ECMA-376)."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING

from xlsxwriter import Workbook

from review.comma_separated import comma_separated
from screenplay.breakdown import CAUTION_SENSE, TIME_RULE, each_once
from screenplay.page import in_pages

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.comma_separated import CellValue
    from review.scenes.breakdown import BreakdownRow

HEADS = (
    "Scene",
    "Heading",
    "Setting",
    "Place",
    "Place within",
    "Time",
    "Day or night",
    "After the time",
    "Story day",
    "Page",
    "Length",
    "Eighths",
    f"Estimated seconds ({TIME_RULE})",
    "Speaking",
    "Named in action",
    "Voice alone",
    "Intercut",
    "Words of dialogue",
    "Words of action",
    "Marked",
    "Cautions",
    "Concerned",
    "Open notes",
)
WIDTHS = (8, 40, 9, 26, 20, 14, 13, 18, 10, 7, 8, 8, 16, 34, 24, 20, 28, 10, 10, 40, 60, 60, 11)


def cells_of(row: BreakdownRow) -> tuple[CellValue, ...]:
    """A scene's cells, in the order of HEADS."""
    needs = row.needs
    cautions = "; ".join(f"{one.name}: {', '.join(each_once(word for word, _ in one.words))}" for one in row.cautions)
    return (
        row.number,
        needs.heading,
        needs.setting,
        needs.place,
        needs.place_within,
        needs.time,
        row.light,
        needs.remark,
        row.story_day or "",
        needs.page_label,
        in_pages(needs.eighths),
        needs.eighths,
        needs.seconds,
        ", ".join(needs.speaking_there),
        ", ".join(needs.mentioned),
        ", ".join(needs.heard),
        "; ".join(one.told for one in row.intercuts),
        needs.dialogue_words,
        needs.action_words,
        "; ".join(
            f"{label}: {', '.join(place.sought.words for place in places)}" for label, places in row.marked_words
        ),
        cautions,
        "; ".join(f"{one.name}: {one.told}" for one in row.concerned),
        row.open_notes,
    )


def as_csv(rows: Sequence[BreakdownRow], not_read: str = "") -> bytes:
    """The rows as comma-separated values. `not_read` is what to say where the lists cannot read the script; it stands
    at the head of what they found."""
    return comma_separated(_heads(not_read), map(cells_of, rows))


def _heads(not_read: str) -> tuple[str, ...]:
    return tuple(f"{head}. {not_read}" if not_read and head == "Cautions" else head for head in HEADS)


def as_spreadsheet(rows: Sequence[BreakdownRow], title: str, not_read: str = "") -> bytes:
    """The rows as a workbook of one sheet, its head fixed and a filter on it, and a sheet that says what cautions
    are; `not_read` as in `as_csv`."""
    written = BytesIO()
    plain = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    with Workbook(written, plain) as book:
        book.set_properties({"title": title})
        bold = book.add_format({"bold": True, "text_wrap": True, "valign": "top"})
        wrapped = book.add_format({"text_wrap": True, "valign": "top"})
        sheet = book.add_worksheet("Breakdown")
        for column, (head, width) in enumerate(zip(_heads(not_read), WIDTHS, strict=True)):
            sheet.set_column(column, column, width, wrapped)
            sheet.write(0, column, head, bold)
        for at, row in enumerate(rows, start=1):
            for column, cell in enumerate(cells_of(row)):
                sheet.write(at, column, cell, wrapped)
        sheet.freeze_panes(1, 1)
        sheet.autofilter(0, 0, len(rows), len(HEADS) - 1)
        sheet.set_landscape()
        sheet.repeat_rows(0)
        sheet.fit_to_pages(1, 0)
        book.add_worksheet("About cautions").write(0, 0, f"{CAUTION_SENSE} {not_read}".strip())
    return written.getvalue()
