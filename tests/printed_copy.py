"""A printed copy of a script as somebody holds it: sheets with a number at their head, and sheets swapped in it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from screenplay.page.page_labels import first_of
from screenplay.page.scene_numbers import reading_order

if TYPE_CHECKING:
    from screenplay.page import PageSwap

HEAD = re.compile(r" {20,}(\w+(?:-\w+)?)\.")


def pages_of(printed: str) -> dict[str, str]:
    """The sheets of a script printed as plain text, by the number at their head; the one without is page 1."""
    sheets: dict[str, str] = {}
    for sheet in printed.split("\f") if printed else []:
        head = HEAD.fullmatch(sheet.partition("\n")[0])
        label = head.group(1) if head and sheet.partition("\n")[2].startswith("\n") else "1"
        assert label not in sheets
        sheets[label] = sheet
    return sheets


def swapped(old: str, new: str, swap: PageSwap) -> str:
    """The old copy with the swapped sheets taken out, and those of the new one put in where their numbers say."""
    kept = {label: sheet for label, sheet in pages_of(old).items() if label not in swap.out}
    put_in = {label: sheet for label, sheet in pages_of(new).items() if label in swap.into}
    assert not kept.keys() & put_in.keys()
    copy = kept | put_in
    return "\f".join(copy[label] for label in sorted(copy, key=lambda label: reading_order(first_of(label)) or ()))
