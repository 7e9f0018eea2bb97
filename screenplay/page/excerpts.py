"""An excerpt of a script on its pages: where they have come to before it, and the rows that it prints from there on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.page.filling import Filling, RowPosition
from screenplay.page.passages import passages
from screenplay.page.rows import BLANK_ROW, Page
from screenplay.page.transitions import with_transitions

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.model import Screenplay
    from screenplay.page.paper import PageSetting
    from screenplay.page.passages import Passage
    from screenplay.page.scene_numbers import SceneNumber

PAGES_BEGIN = RowPosition(0, 0)


def end_of_pages(script: Screenplay, setting: PageSetting) -> RowPosition | None:
    """Where a text has come to on the pages, for a scene that follows it. None where it ends in a heading, which stands
    where there is room for some of what follows."""
    rows = _passages(script, setting)
    if rows and rows[-1].is_heading:
        return None
    filling = Filling(setting.paper.lines)
    filling.fill(rows)
    return filling.position


def paginate_excerpt(
    script: Screenplay, setting: PageSetting, start: RowPosition, *, is_last: bool
) -> tuple[Page, ...] | None:
    """The pages that an excerpt of a script is on, by their numbers in the whole, with its own rows alone; what stands
    above it on the first is left blank. None where it ends in a heading and something follows, as in `end_of_pages`."""
    rows = _passages(script, setting)
    if rows and rows[-1].is_heading and not is_last:
        return None
    filling = Filling(setting.paper.lines)
    if start != PAGES_BEGIN:
        filling.pages = [[] for _ in range(start.page)]
        filling.pages.append([BLANK_ROW] * start.row)
    filling.fill(rows)
    return tuple(page for page in filling.finished() if any(row.cells for row in page.rows))


def numbers_before(numbers: Sequence[SceneNumber], scenes: int) -> tuple[SceneNumber, ...]:
    """Of a locked script's numbers those of its first so many scenes, and of what is OMITTED before each of them."""
    placed = [at for at, each in enumerate(numbers, 1) if each.ordinal is not None and each.ordinal <= scenes]
    return tuple(numbers[: placed[-1]]) if placed else ()


def numbers_from(numbers: Sequence[SceneNumber], before: int, own: int | None) -> tuple[SceneNumber, ...]:
    """Those of the `own` scenes that follow the first `before`, their ordinals counted from there; all that are left
    where `own` is None."""
    end = len(numbers) if own is None else len(numbers_before(numbers, before + own))
    rest = numbers[len(numbers_before(numbers, before)) : end]
    return tuple(each._replace(ordinal=each.ordinal and each.ordinal - before) for each in rest)


def _passages(script: Screenplay, setting: PageSetting) -> list[Passage]:
    return list(with_transitions(passages(script.elements, setting)))
