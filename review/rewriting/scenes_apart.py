"""Keeping each scene of a working draft a scene of its own, whatever its text comes to hold or to end with.

All of it belongs in an act that has locked the working draft.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from django.db.models import F

from review.rewriting.known_lines import parted_origins
from review.rewriting.models import WorkingScene
from screenplay.next_draft import end_with_blank_line, texts_by_scene

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.people.models import Member
    from review.rewriting.models import WorkingDraft
    from screenplay.comparing import LineOrigins


def part_scene(by: Member, working: WorkingDraft, scene: WorkingScene) -> list[WorkingScene]:
    """Make scenes of their own of the further headings in a scene's text; all of these scenes, in order."""
    if scene.cut_at is not None:
        return [scene]
    before = working.scenes.filter(cut_at=None, position__lt=scene.position).order_by("position")
    begins = len("".join(before.values_list("text", flat=True)))
    ends = begins + len(scene.text)
    cuts = [place for place in _beginnings(working) if begins < place < ends]
    if not cuts:
        return [scene]
    text = scene.text
    pieces = [text[start - begins : end - begins] for start, end in zip([begins, *cuts], [*cuts, ends], strict=True)]
    known = parted_origins(scene.line_origins, pieces)
    scene.write(by, pieces[0])
    return [scene, *insert_scenes(by, working, scene.position + 1, pieces[1:], known[1:])]


def keep_apart(by: Member, working: WorkingDraft) -> None:
    """End a scene with a blank line where the next one would not begin a scene without it."""
    beginnings = set(_beginnings(working))
    end, place = working.base.usual_line_end, 0
    for scene, _ in pairwise(working.scenes.filter(cut_at=None).exclude(text="").order_by("position", "pk")):
        place += len(scene.text)
        if place not in beginnings and (text := end_with_blank_line(scene.text, end)) != scene.text:
            scene.write(by, text)


def insert_scenes(
    by: Member, working: WorkingDraft, position: int, texts: Sequence[str], known: Sequence[LineOrigins] = ()
) -> list[WorkingScene]:
    """Put new scenes at a position, those from there on moving down. `known` tells where their lines come from."""
    working.scenes.filter(position__gte=position).update(position=F("position") + len(texts))
    scenes = [WorkingScene(working=working, position=position + nth, text=text) for nth, text in enumerate(texts)]
    for scene, origins in zip(scenes, known, strict=False):
        scene.origins = origins.packed()
    return working.make_scenes(by, scenes)


def _beginnings(working: WorkingDraft) -> list[int]:
    """Where each scene of the working text begins, in characters."""
    places, place = [], 0
    for part in texts_by_scene(working.joined_text())[:-1]:
        place += len(part)
        places.append(place)
    return places
