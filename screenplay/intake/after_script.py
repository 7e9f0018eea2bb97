"""What a print of this app has after the script: the pages that list its open notes, and those about the copy."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.intake.furniture import Dropped
    from screenplay.intake.typed_pages import TypedPage

_TITLE = re.compile(r"Open notes|One open note|\d+ open notes")
_UNDER_TITLE = re.compile(r"1\. .+|There are none\.")
_ABOUT_COPY = re.compile(r"About this copy")
_CHARACTERS_MISSING = re.compile(r"(?:One character is|\d+ characters are) not in the type this copy is .*")
_TITLE_AMONG, _UNDER_AMONG = 3, 12  # lines of a page's first; a header, and a sentence of which notes they are


def without_pages_after(pages: list[TypedPage], dropped: Dropped) -> list[TypedPage]:
    """The script's pages alone: a note that is printed with them is no line of the script."""
    begins = {
        "pages that list open notes": _first_under(pages, _TITLE, _UNDER_TITLE),
        "pages about the printed copy": _first_under(pages, _ABOUT_COPY, _CHARACTERS_MISSING),
    }
    ends = len(pages)
    for what, first in sorted(begins.items(), key=lambda begun: -begun[1]):
        dropped.add(what, ends - first)
        ends = first
    return pages[:ends]


def _first_under(pages: Sequence[TypedPage], title: re.Pattern[str], under: re.Pattern[str]) -> int:
    """The first page at whose head such a title stands over such a line; how many pages there are, for none."""
    return next((at for at, page in enumerate(pages) if _is_under(page, title, under)), len(pages))


def _is_under(page: TypedPage, title: re.Pattern[str], under: re.Pattern[str]) -> bool:
    texts = [" ".join(line.text.split()) for line in page if line.words][:_UNDER_AMONG]
    at = next((at for at, text in enumerate(texts[:_TITLE_AMONG]) if title.fullmatch(text)), None)
    return at is not None and any(under.fullmatch(text) for text in texts[at + 1 :])
