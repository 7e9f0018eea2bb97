"""What a writer does with the scenes of a working draft: write, add, cut and move them. Each act is one transaction
with the production and its working draft locked."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from review import log
from review.rewriting.models import SceneText, WorkingScene
from review.rewriting.scenes_apart import insert_scenes, keep_apart, part_scene
from screenplay.next_draft import end_with_blank_line, keep_line_ends

if TYPE_CHECKING:
    from review.people.models import Member
    from review.rewriting.models import WorkingDraft


class SavedMeanwhile(Exception):
    """The scene was saved after this writer last saw it; `latest` is the text that stands."""

    def __init__(self, latest: SceneText) -> None:
        super().__init__(f"{latest.saved_by} saved this scene meanwhile.")
        self.latest = latest


@transaction.atomic
def save_scene(
    by: Member,
    scene: WorkingScene,
    text: str,
    seen: int,
    form_id: uuid.UUID,
    *,
    in_parts: bool = True,
    as_typed: bool = False,
) -> WorkingScene:
    """Save what a scene reads now; the same form sent again with the same text changes nothing.

    `seen` is the version that the writer had before them: SavedMeanwhile is raised when another stands, and nothing is
    stored. A form whose answer was lost on the way, and that comes again with more words, saves those on top of its
    own. Lines keep the ends they had, and a scene the blank line after it. With `in_parts`, a text that holds further
    headings becomes further scenes behind this one; what is saved `as_typed`, while somebody types, is left whole.
    Raises WorkingIsClosed.
    """
    working = scene.working.lock_for(by)
    scene = scene.reread()
    text = working.as_stored(text, scene)
    of_scene = Q(scene=scene) & (Q(version=scene.version) | Q(text=text))
    found = list(SceneText.objects.filter(of_scene | Q(form_id=form_id)))
    known = [each for each in found if each.scene_id == scene.pk]
    if len(known) < len(found):
        form_id = uuid.uuid4()  # this one is another scene's, and says nothing
    latest = next(each for each in known if each.version == scene.version)
    sent_before = next((each for each in known if each.form_id == form_id), None)
    if sent_before and as_typed and latest.saved_by_id != by.pk:
        raise SavedMeanwhile(latest)
    if text != scene.text and (sent_before is None or sent_before.text != text):
        if scene.version != seen and latest != sent_before:
            raise SavedMeanwhile(latest)
        had = [each for each in known if each.text == text]
        scene.write(by, text, None if sent_before else form_id, as_typed=as_typed, had=had)
        if not (as_typed and latest.is_being_typed_by(by)):
            log.record(by.person, log.Act.Verb.SAVED_SCENE, by.production, scene.public_id, version=scene.version)
    if in_parts and not as_typed:
        part_scene(by, working, scene)
    if keep_apart(by, working):
        scene.refresh_from_db()
    return scene


@transaction.atomic
def take_back_text(by: Member, scene: WorkingScene, version: int, form_id: uuid.UUID) -> WorkingScene:
    """Let a scene read again as it did in an earlier version; what it reads now is kept as one too.

    Raises SceneText.DoesNotExist for a version that it never had, and WorkingIsClosed.
    """
    scene.working.lock_for(by)
    earlier = scene.texts.get(version=version)
    scene = scene.reread()
    return save_scene(by, scene, earlier.text, scene.version, form_id)


@transaction.atomic
def save_together(
    by: Member, scene: WorkingScene, mine: str, together: str, seen: int, form_id: uuid.UUID
) -> WorkingScene:
    """Save what one's own text and another's come to together; one's own is kept among the scene's earlier texts.

    Raises SavedMeanwhile and WorkingIsClosed, as `save_scene` does.
    """
    saved = save_scene(by, scene, mine, seen, uuid.uuid5(form_id, "mine"), in_parts=False)
    return save_scene(by, saved, together, saved.version, form_id)


@transaction.atomic
def keep_theirs(by: Member, scene: WorkingScene, mine: str, form_id: uuid.UUID) -> WorkingScene:
    """Let the text that another saved meanwhile stand; one's own is kept among the scene's earlier texts."""
    working = scene.working.lock_for(by)
    scene = scene.reread()
    theirs, mine = scene.text, working.as_stored(mine, scene)
    if theirs != mine and not SceneText.objects.filter(form_id=form_id, scene=scene).exists():
        scene.write(by, mine, SceneText.unused(form_id))
        scene.write(by, theirs)
        log.record(by.person, log.Act.Verb.SAVED_SCENE, by.production, scene.public_id, version=scene.version)
    return scene


@transaction.atomic
def add_scene(
    by: Member, working: WorkingDraft, after: WorkingScene | None, text: str, form_id: uuid.UUID
) -> WorkingScene:
    """Put a new scene behind another, or before all scenes; the same form sent again finds the scene it made."""
    working = working.lock_for(by)
    if same_form := SceneText.objects.filter(form_id=form_id, scene__working=working).select_related("scene").first():
        return same_form.scene
    end = working.base.usual_line_end
    position = working.scenes.get(pk=after.pk).position + 1 if after else 1
    text = end_with_blank_line(keep_line_ends("", text, end), end)
    (scene,) = insert_scenes(by, working, position, [text])
    scene.texts.update(form_id=SceneText.unused(form_id))
    part_scene(by, working, scene)
    keep_apart(by, working)
    log.record(by.person, log.Act.Verb.ADDED_SCENE, by.production, scene.public_id)
    scene.refresh_from_db()
    return scene


@transaction.atomic
def cut_scene(by: Member, scene: WorkingScene) -> WorkingScene:
    """Take a scene out of the text. It keeps its words and its place. Cutting again does nothing, nor does cutting what
    stands before the first scene."""
    return _set_cut(by, scene, log.Act.Verb.CUT_SCENE, is_cut=True)


@transaction.atomic
def restore_scene(by: Member, scene: WorkingScene) -> WorkingScene:
    """Put a scene that was cut back where it stood."""
    return _set_cut(by, scene, log.Act.Verb.RESTORED_SCENE, is_cut=False)


def _set_cut(by: Member, scene: WorkingScene, verb: log.Act.Verb, *, is_cut: bool) -> WorkingScene:
    working = scene.working.lock_for(by)
    scene = scene.reread()
    if scene.ordinal == 0 or (scene.cut_at is not None) == is_cut:
        return scene
    scene.cut_at = timezone.now() if is_cut else None
    scene.save(update_fields=["cut_at"])
    keep_apart(by, working)
    log.record(by.person, verb, by.production, scene.public_id)
    scene.refresh_from_db()
    return scene


@transaction.atomic
def move_scene(by: Member, scene: WorkingScene, after: WorkingScene | None) -> WorkingScene:
    """Put a scene behind another one, or before all scenes; what stands before the first heading stays where it is."""
    working = scene.working.lock_for(by)
    order = list(working.scenes.order_by("position", "pk"))
    first, others = order[0], [other for other in order[1:] if other.pk != scene.pk]
    if scene.pk == first.pk or (after is not None and after.pk == scene.pk):
        return first if scene.pk == first.pk else scene
    at = next((place for place, other in enumerate(others, 1) if after and other.pk == after.pk), 0)
    moved = next(other for other in order if other.pk == scene.pk)
    new_order = [first, *others[:at], moved, *others[at:]]
    if new_order == order:
        return moved
    for position, other in enumerate(new_order):
        other.position = position
    WorkingScene.objects.bulk_update(new_order, ["position"])
    keep_apart(by, working)
    log.record(by.person, log.Act.Verb.MOVED_SCENE, by.production, scene.public_id)
    moved.refresh_from_db()
    return moved
