"""The working text laid out as its production's pages, and where each working scene is in it."""

from __future__ import annotations

from bisect import bisect_right
from functools import cached_property
from typing import TYPE_CHECKING

from review.drafts.numbering import numbers_to_come
from review.drafts.paging import setting_to_come
from review.rewriting.current_text import CurrentText
from screenplay import lay_out, parse
from screenplay.fountain import split_lines
from screenplay.names import with_names
from screenplay.next_draft import excerpt_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from review.drafts.models import Draft
    from review.rewriting.models import WorkingDraft, WorkingScene
    from screenplay import LaidOut, PageSetting, Screenplay
    from screenplay.next_draft import NumberedScene, SceneExcerpt
    from screenplay.script import Scene


class WorkingPages:
    """The working text laid out as its production's pages, and where each working scene is in it."""

    def __init__(self, working: WorkingDraft, scenes: Sequence[WorkingScene]) -> None:
        self.working = working
        self.scenes = scenes
        self.standing = [scene for scene in scenes if scene.cut_at is None]
        self.text = "".join(scene.text for scene in self.standing)
        self.lines: dict[int, range] = {}
        line = 1
        for scene in self.standing:
            self.lines[scene.pk] = range(line, line + len(split_lines(scene.text)))
            line = self.lines[scene.pk].stop

    def current_text(self, draft: Draft) -> CurrentText:
        """The working text beside the current draft."""
        return CurrentText(draft, self.working, tuple(self.standing))

    @cached_property
    def numbers(self) -> tuple[NumberedScene, ...]:
        """The numbers that the scenes get when this is put up; none where the production's are not locked."""
        return numbers_to_come(*self._to_come, self.working.production) if self._to_come else ()

    @cached_property
    def _to_come(self) -> tuple[Draft, Draft] | None:
        """This as the draft that it is to become, and the one it comes after; None where nothing is locked."""
        production = self.working.production
        draft = self.current if production.scene_numbers_locked_at is not None else None
        return (self.current_text(draft).following.draft, draft) if draft else None

    @cached_property
    def current(self) -> Draft | None:
        """The draft that is out; one query."""
        return self.working.production.drafts.current()

    @cached_property
    def script(self) -> Screenplay:
        """The working text, parsed."""
        return with_names(parse(self.text), self.working.production.names)

    @cached_property
    def laid_out(self) -> LaidOut:
        """The working text as it would print when it is put up."""
        return lay_out(self.script, self.setting)

    @cached_property
    def setting(self) -> PageSetting:
        """How it is laid out, with what is locked in its production."""
        production = self.working.production
        return setting_to_come(*self._to_come, production) if self._to_come else production.page_setting

    def around(self, scene: WorkingScene) -> tuple[str, str]:
        """The text before a scene that is not cut, and the text behind it."""
        at = [each.pk for each in self.standing].index(scene.pk)
        texts = [each.text for each in self.standing]
        return "".join(texts[:at]), "".join(texts[at + 1 :])

    def excerpt(self, scene: WorkingScene) -> SceneExcerpt:
        """A scene as it stands in the whole; nothing of one that is cut."""
        return excerpt_of(self.laid_out, self.lines.get(scene.pk, range(0)))

    def scenes_in(self, scene: WorkingScene) -> tuple[Scene, ...]:
        """The scenes whose headings a working scene holds; none of one that is cut."""
        lines = self.lines.get(scene.pk, range(0))
        return tuple(found for found in self.laid_out.scenes if found.first_line in lines)

    def holds_further(self, scene: WorkingScene) -> bool:
        """Whether a heading stands in a working scene behind its beginning."""
        lines = self.lines.get(scene.pk, range(0))
        return any(found.first_line > lines.start for found in self.scenes_in(scene))

    def page_of(self, scene: WorkingScene) -> str:
        """What the page is called on which the first line of a working scene is printed; "" where none is."""
        labels = map(self.laid_out.layout.label_at, self.lines.get(scene.pk, range(0)))
        return next(filter(None, labels), "")

    def notes_on(self, notes: Mapping[int, int]) -> dict[int, list[int]]:
        """The notes by the scene they are on; `notes` gives the line of the working text at which each stands."""
        keys = [scene.pk for scene in self.standing if self.lines[scene.pk]]
        starts = [self.lines[key].start for key in keys]
        found: dict[int, list[int]] = {key: [] for key in keys}
        for note, line in sorted(notes.items(), key=lambda item: item[1]):
            if at := bisect_right(starts, line):
                found[keys[at - 1]].append(note)
        return found
