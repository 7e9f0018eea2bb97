"""Where scenes end on the pages, with what a reader said there: brought to the script, which is the same for all."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.drawn_pages import draw_pages

if TYPE_CHECKING:
    from review.readings.models import ClarityMark
    from review.readings.progress import ReaderProgress, SceneLine
    from screenplay.script import Scene


@dataclass(frozen=True, slots=True)
class SceneEnd:
    """A scene, the last of its lines that is printed, and the mark that the reader gave it."""

    line: SceneLine
    last_line: int

    @property
    def scene(self) -> Scene:
        return self.line.scene

    @property
    def name(self) -> str:
        return self.line.name

    @property
    def mark(self) -> ClarityMark | None:
        return self.line.mark


def scene_ends(progress: ReaderProgress) -> list[SceneEnd]:
    """The scenes of a reading's draft, each with its end."""
    printed = draw_pages(progress.reading.draft).printed
    return [SceneEnd(line, _last_printed(printed, line.scene)) for line in progress.scenes]


def _last_printed(printed: tuple[int, ...], scene: Scene) -> int:
    at = bisect_right(printed, scene.last_line)
    return max(printed[at - 1] if at else scene.first_line, scene.first_line)
