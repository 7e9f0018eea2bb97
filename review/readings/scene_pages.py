"""One scene of a draft as its pages have it, for reading scene by scene."""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.drafts.drawn_pages import draw_rows
from review.drafts.scripts import laid_out

if TYPE_CHECKING:
    from django.utils.safestring import SafeString

    from review.drafts.models import Draft
    from screenplay.script import Scene


def scene_pages(draft: Draft, scene: Scene) -> list[tuple[str, SafeString]]:
    """The pages that a scene is on, by what they are called, each with the scene's rows alone."""
    lines = range(scene.first_line, scene.last_line + 1)
    found: list[tuple[str, SafeString]] = []
    for page in laid_out(draft).layout.pages:
        at = [place for place, row in enumerate(page.rows) if any(cell.line in lines for cell in row.cells)]
        if at:
            found.append((page.label, draw_rows(page.rows[at[0] : at[-1] + 1])))
    return found
