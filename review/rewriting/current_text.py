"""The text that the next draft has come to: the working draft's where one is open, else the current draft's."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from review.notes.then_and_now import NextText
from review.rewriting.known_lines import origins_in
from review.rewriting.wording_models import TakenWording
from screenplay import Span
from screenplay.fountain import LINE_ENDS, split_lines

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from review.productions.models import Production
    from review.rewriting.models import WorkingDraft, WorkingScene
    from screenplay.comparing import LineOrigins


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
    def taken(self) -> tuple[TakenWording, ...]:
        """The wordings that are in the working draft, in the order in which they were taken; one query."""
        if self.working is None:
            return ()
        taken = TakenWording.objects.filter(working=self.working, undone_at=None).order_by("pk")
        return tuple(taken.select_related("note__author__person", "scene"))

    @cached_property
    def following(self) -> NextText:
        """The text as the draft that it may become, with what is known of its lines; one query."""
        following = NextText.of(self.draft.production, self.text)
        if self.working is None:
            return following
        following.draft.written_from = self.draft
        following.draft.line_origins = origins_in(self.draft, self.working, self.scenes).packed()
        wordings: dict[int, Span | None] = {}
        for taken in self.taken:
            lines = self._lines_of(taken)
            if lines is not None or (not taken.note.wording and taken.is_still_in):
                wordings[taken.note_id] = lines
        return NextText(following.draft, wordings)

    def _lines_of(self, taken: TakenWording) -> Span | None:
        """The lines of the text that a wording brought, None where it brought none or they were taken out by hand."""
        before = 0
        for scene, origins in self._origins:
            if found := origins.marked(taken.mark):
                last = split_lines(scene.text)[found[-1] - 1].rstrip(LINE_ENDS)
                return Span(before + found[0], 0, before + found[-1], len(last))
            before += len(origins.lines)
        return None

    @cached_property
    def _origins(self) -> list[tuple[WorkingScene, LineOrigins]]:
        return [(scene, scene.line_origins) for scene in self.scenes]

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
