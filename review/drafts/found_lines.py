"""The lines of a draft as they are found: what of each prints, without marks of style."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.drafts.printed_lines import UNPRINTED, printed_lines
from review.drafts.scripts import read_script
from review.findable.indexing import index_lines
from screenplay.fountain import plain

if TYPE_CHECKING:
    from collections.abc import Iterator

    from review.drafts.models import Draft
    from screenplay import Screenplay


def index_draft(draft: Draft) -> None:
    """Let the lines of a draft be found, in the transaction that puts it up."""
    index_lines(draft.production_id, draft.pk, lines_to_find(read_script(draft)))


def lines_to_find(script: Screenplay) -> Iterator[tuple[int, str]]:
    """The lines of a script that print, with their numbers: nothing that no page shows is found."""
    for element in script.elements:
        for line in printed_lines(element):
            if line.kind not in UNPRINTED and (text := plain(line).strip()):
                yield line.line, text
