"""The text that the next draft has come to: the working draft's where one is open, else the current draft's."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from screenplay.fountain import split_lines

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.productions.models import Production
    from review.rewriting.models import WorkingDraft, WorkingScene


@dataclass(frozen=True)
class CurrentText:
    """The current draft; the open working draft, or None; and its scenes that are not cut, in order."""

    draft: Draft
    working: WorkingDraft | None
    scenes: tuple[WorkingScene, ...] = ()

    @cached_property
    def text(self) -> str:
        return "".join(scene.text for scene in self.scenes) if self.working else self.draft.text

    @cached_property
    def _line_starts(self) -> list[int]:
        starts = [0]
        for line in split_lines(self.text):
            starts.append(starts[-1] + len(line))
        return starts

    def scene_at(self, line: int) -> tuple[WorkingScene, int] | None:
        """The working scene that has a line of the text, and the line's number in it; None without a working draft."""
        place = self._line_starts[line - 1]
        begins = 0
        for scene in self.scenes:
            if place < begins + len(scene.text):
                return scene, len(split_lines(scene.text[: place - begins])) + 1
            begins += len(scene.text)
        return None


def current_text(production: Production) -> CurrentText | None:
    """The pages as they are now, in three queries; None before the first draft."""
    draft = production.drafts.current()
    if draft is None:
        return None
    working = production.working_drafts.open_now()
    scenes = working.standing_scenes() if working else ()
    return CurrentText(draft, working, tuple(scenes))
