"""How a draft keeps its locked pages: where each begins, and the paper and blank lines that they were locked with."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from review.productions.models import CHOICE_OF, PAPER_OF, PaperChoice
from screenplay.page import LockedPage, beginnings

if TYPE_CHECKING:
    from screenplay import PageSetting
    from screenplay.page import Layout

KeptPages = dict[str, Any]


def kept_pages(layout: Layout) -> KeptPages:
    """The pages of a layout as JSON: `paper`, `blank_lines_before_heading`, and the fields of each of its `pages` as a
    LockedPage."""
    return {
        "paper": str(CHOICE_OF[layout.paper]),
        "blank_lines_before_heading": layout.setting.blank_lines_before_heading,
        "pages": [page._asdict() for page in beginnings(layout)],
    }


def with_kept_pages(setting: PageSetting, kept: KeptPages) -> PageSetting:
    """A setting with the pages that are kept, on the paper and with the blank lines that they were locked with."""
    return replace(
        setting,
        paper=PAPER_OF[PaperChoice(kept["paper"])],
        blank_lines_before_heading=kept["blank_lines_before_heading"],
        locked_pages=tuple(LockedPage(**page) for page in kept["pages"]),
    )
