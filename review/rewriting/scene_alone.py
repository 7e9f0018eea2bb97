"""A working scene as it stands in the whole script, for the cost of the scene while only it is written on.

What is around the scene is looked at when its page is opened, and again when the typing rests, and kept in between. So
while somebody types, what another writer does elsewhere meanwhile is not seen yet, nor on which of locked pages the
scene is: pages and numbers follow.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.kept_beyond import find, keep
from review.rewriting.working_pages import WorkingPages
from screenplay.next_draft import AroundScene, SceneExcerpt, excerpt_alone, look_around

if TYPE_CHECKING:
    from review.rewriting.models import WorkingScene


@dataclass(frozen=True, slots=True)
class _Kept:
    """What is around a scene, None where only the whole script can tell of it; `stamp` says of which texts that is."""

    stamp: str
    around: AroundScene | None

    @property
    def is_paged(self) -> bool:
        """Whether what is told by it has the labels of its pages."""
        return self.around is None or self.around.start is not None


def excerpt_now(pages: WorkingPages, scene: WorkingScene) -> SceneExcerpt:
    """A scene of the working text as it stands in it now."""
    around = _kept_now(pages, scene).around if scene.pk in pages.lines else None
    if around is None or around.start is None:
        return pages.excerpt(scene)
    return excerpt_alone(scene.text, around) or pages.excerpt(scene)


def excerpt_as_typed(scene: WorkingScene, text: str) -> SceneExcerpt:
    """A scene that is being typed, with the text that it has come to, as it stands in what was around it lately."""
    kept: _Kept | None = find(_name(scene)) if scene.cut_at is None else None
    if kept and kept.around and (excerpt := excerpt_alone(text, kept.around)):
        return excerpt
    return excerpt_now(*_pages_with(scene, text))


def excerpt_as_it_rests(scene: WorkingScene, text: str) -> SceneExcerpt | None:
    """The same where the typing rests, as it stands in what is around it by now; None where that is what it was."""
    if scene.cut_at is not None:
        return None
    kept: _Kept | None = find(_name(scene))
    pages, typed = _pages_with(scene, text)
    is_as_it_was = kept and kept.stamp == _kept_now(pages, typed).stamp
    return None if kept and kept.is_paged and is_as_it_was else excerpt_now(pages, typed)


def _pages_with(scene: WorkingScene, text: str) -> tuple[WorkingPages, WorkingScene]:
    """The working text as it would be with this text for the scene, and the scene in it."""
    scenes = list(scene.working.scenes.order_by("position", "pk"))
    typed = next(each for each in scenes if each.pk == scene.pk)
    typed.text = text
    return WorkingPages(scene.working, scenes), typed


def _kept_now(pages: WorkingPages, scene: WorkingScene) -> _Kept:
    """What is around a scene that is not cut, looked at anew only where that has changed."""
    kept: _Kept | None = find(_name(scene))
    before, after = pages.around(scene)
    stamp = _stamp(pages, scene, before, after)
    if kept is None or kept.stamp != stamp:
        kept = _Kept(stamp, look_around(before, after, pages.setting))
        keep(_name(scene), kept)
    return kept


def _stamp(pages: WorkingPages, scene: WorkingScene, before: str, after: str) -> str:
    """What all that is kept follows from. What is locked follows from where the current draft's scenes are now: from
    what is around the scene, and from how its own text begins."""
    production = pages.working.production
    told = [before, after, str(production.page_setting)]
    if production.scene_numbers_locked_at is not None:
        told += [str(production.pages_locked_at), str(pages.current and pages.current.pk)]
        told += [scene.text.lstrip().partition("\n")[0]]
    return hashlib.sha256("\0".join(told).encode()).hexdigest()


def _name(scene: WorkingScene) -> str:
    return f"around-scene:{scene.public_id}"
