"""The style sheets: each colour named once, and a paper for each revision colour."""

from __future__ import annotations

import re
from pathlib import Path

from screenplay.tints import TINTS

SHEETS = Path(__file__).resolve().parents[2] / "static" / "css"
TOKENS = SHEETS / "tokens.css"
# The ways to write a colour out (https://www.w3.org/TR/css-color-4/#color-syntax), or to mix it from others.
COLOUR = re.compile(r"#[0-9a-f]{3,8}\b|\b(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch|color|color-mix)\(", re.IGNORECASE)


def test_a_colour_is_written_out_among_the_tokens_alone() -> None:
    found = {
        sheet.relative_to(SHEETS).as_posix(): COLOUR.findall(sheet.read_text(encoding="utf-8"))
        for sheet in sorted(SHEETS.rglob("*.css"))
        if sheet != TOKENS
    }
    assert len(found) == len(list(SHEETS.rglob("*.css"))) - 1 > 10
    assert {sheet: colours for sheet, colours in found.items() if colours} == {}


def test_the_screens_have_a_paper_for_each_revision_colour() -> None:
    papers = re.findall(r"\.tint-(\w+) \{", TOKENS.read_text(encoding="utf-8"))
    assert papers == list(TINTS)
