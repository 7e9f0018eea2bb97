"""What can be talked of in a draft: its scenes, and the lines of one that print."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.utils.text import Truncator

from review.drafts.found_lines import lines_to_find
from review.drafts.scripts import laid_out, read_script
from review.readings.progress import scene_name
from screenplay.script import scene_span

if TYPE_CHECKING:
    from review.drafts.models import Draft

MOST_OF_LINE = 70  # characters


def scene_choices(draft: Draft) -> list[tuple[int, str]]:
    """The scenes of a draft, by their ordinals."""
    return [(scene.ordinal, scene_name(scene)) for scene in laid_out(draft).scenes]


def line_choices(draft: Draft, scene: str) -> list[tuple[int, str]]:
    """The lines of a scene that print, by their numbers; none where it is the ordinal of no scene of the draft."""
    if scene not in {str(ordinal) for ordinal, _ in scene_choices(draft)}:
        return []
    script = read_script(draft)
    span, lines = scene_span(script, int(scene)), dict(lines_to_find(script))
    numbers = range(span.first_line, span.last_line + 1)
    return [(number, Truncator(lines[number]).chars(MOST_OF_LINE)) for number in numbers if number in lines]
