"""The words of a drawn line with their places in the source, read off its HTML as the page's own script reads them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from bs4 import BeautifulSoup, Tag
from bs4.element import NavigableString

if TYPE_CHECKING:
    from collections.abc import Iterator

LINES = "[id^=L], [data-of]"


def drawn_lines(html: str) -> list[Tag]:
    """Every element that shows a source line."""
    return BeautifulSoup(html, "html.parser").select(LINES)


def number_of(line: Tag) -> int:
    return int(str(line.get("data-of") or str(line["id"])[1:]))


def pieces(line: Tag) -> Iterator[tuple[int, str]]:
    """The texts of a line, each with the offset of its first character in the source line."""
    at = int(str(line.get("data-at") or 0))
    for node in line.descendants:
        if isinstance(node, Tag):
            at = int(str(node["data-at"])) if "data-at" in node.attrs else at
        elif isinstance(node, NavigableString) and not _is_number(node):
            yield at, str(node)
            at += len(node)


def _is_number(text: NavigableString) -> bool:
    return text.parent is not None and "margin-number" in str(text.parent.get("class"))
