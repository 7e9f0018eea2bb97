"""Keeping each scene of a working draft a scene of its own, whatever its text comes to hold or to end with.

All of it belongs in an act that has locked the working draft.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from django.db.models import F

from review.rewriting.known_lines import parted_origins
from review.rewriting.models import WorkingScene
from screenplay.next_draft import end_with_blank_line, stand_apart, texts_by_scene

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.people.models import Member
    from review.rewriting.models import WorkingDraft
    from screenplay.comparing import LineOrigins


def part_scene(by: Member, working: WorkingDraft, scene: WorkingScene) -> list[WorkingScene]:
    """Make scenes of their own of the further headings in a scene's text; all of these scenes, in order."""
    pieces = [] if scene.cut_at is not None else _pieces(working, scene)
    if len(pieces) < 2:
        return [scene]
    known = parted_origins(scene.line_origins, pieces)
    scene.write(by, pieces[0])
    return [scene, *insert_scenes(by, working, scene.position + 1, pieces[1:], known[1:])]


def keep_apart(by: Member, working: WorkingDraft) -> bool:
    """End a scene with a blank line where the next one would not begin a scene without it; whether any was."""
    standing = working.standing_scenes().exclude(text="")
    if stand_apart(standing.values_list("text", flat=True)):
        return False
    beginnings = set(_beginnings(working))
    end, place, is_any = working.base.usual_line_end, 0, False
    for scene, _ in pairwise(standing):
        place += len(scene.text)
        if place not in beginnings and (text := end_with_blank_line(scene.text, end)) != scene.text:
            scene.write(by, text)
            is_any = True
    return is_any


def insert_scenes(
    by: Member, working: WorkingDraft, position: int, texts: Sequence[str], known: Sequence[LineOrigins] = ()
) -> list[WorkingScene]:
    """Put new scenes at a position, those from there on moving down. `known` tells where their lines come from."""
    working.scenes.filter(position__gte=position).update(position=F("position") + len(texts))
    scenes = [WorkingScene(working=working, position=position + nth, text=text) for nth, text in enumerate(texts)]
    for scene, origins in zip(scenes, known, strict=False):
        scene.origins = origins.packed()
    return working.make_scenes(by, scenes)


def _pieces(working: WorkingDraft, scene: WorkingScene) -> list[str]:
    """The text of a scene, cut before each heading that begins a scene in it."""
    texts = dict(working.standing_scenes().exclude(text="").values_list("pk", "text"))
    if not stand_apart(list(texts.values())):
        return _pieces_in_the_whole(working, scene)
    is_first = next(iter(texts), None) == scene.pk
    _, *pieces = ("", *texts_by_scene(scene.text)) if is_first else texts_by_scene(f"\n{scene.text}")
    return [piece for piece in pieces if piece]


def _pieces_in_the_whole(working: WorkingDraft, scene: WorkingScene) -> list[str]:
    before = working.scenes.filter(cut_at=None, position__lt=scene.position).order_by("position")
    begins = len("".join(before.values_list("text", flat=True)))
    ends = begins + len(scene.text)
    cuts = [place for place in _beginnings(working) if begins < place < ends]
    return [scene.text[start - begins : end - begins] for start, end in pairwise([begins, *cuts, ends])]


def _beginnings(working: WorkingDraft) -> list[int]:
    """Where each scene of the working text begins, in characters."""
    places, place = [], 0
    for part in texts_by_scene(working.joined_text())[:-1]:
        place += len(part)
        places.append(place)
    return places
