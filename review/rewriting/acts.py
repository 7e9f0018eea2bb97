"""What a writer does with the working draft and its scenes. Each act is one transaction with the working draft locked,
and with the production locked before it where one is begun, set aside or taken up."""

from __future__ import annotations

import uuid
from datetime import timedelta
from itertools import pairwise
from typing import TYPE_CHECKING

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from review import log
from review.access import Deed, refuse_unless
from review.drafts.scripts import read_script
from review.drafts.texts import hash_text
from review.productions.models import lock_production
from review.rewriting.models import DownloadedText, SceneText, WorkingDraft, WorkingScene
from screenplay.next_draft import end_with_blank_line, keep_line_ends, texts_by_scene

if TYPE_CHECKING:
    from collections.abc import Sequence

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.productions.models import Production


ONE_SITTING = timedelta(minutes=10)  # while somebody types on, the log says so once


class SavedMeanwhile(Exception):  # noqa: N818 - it states what happened
    """The scene was saved after this writer last saw it; `latest` is the text that stands."""

    def __init__(self, latest: SceneText) -> None:
        super().__init__(f"{latest.saved_by} saved this scene meanwhile.")
        self.latest = latest


class WorkingIsClosed(Exception):  # noqa: N818 - it states what was found
    """The working draft has been published or set aside, so that nothing is written into it."""


class AnotherIsOpen(Exception):  # noqa: N818 - it states what was found
    """Another working draft is open, and has to be set aside first."""

    def __init__(self, working: WorkingDraft) -> None:
        super().__init__("Another working draft is open.")
        self.working = working


def open_working(production: Production) -> WorkingDraft | None:
    """The production's working draft, None where nobody has begun one."""
    return (
        WorkingDraft.objects.filter(production=production, published_as=None, set_aside_at=None)
        .select_related("base__production", "restored", "production", "begun_by__person")
        .first()
    )


@transaction.atomic
def take_working_text(by: Member, working: WorkingDraft) -> str:
    """The working text, for a writer to take away; it is kept as what their edited text is merged by later."""
    refuse_unless(by, Deed.REWRITE)
    text = working_text(lock_working(working))
    DownloadedText.objects.update_or_create(
        working=working, sha256=hash_text(text), taken_by=by, defaults={"text": text}
    )
    log.record(by.person, log.Act.Verb.TOOK_WORKING_TEXT, by.production, working.public_id)
    return text


def working_text(working: WorkingDraft) -> str:
    """The text of the working draft: of its scenes that are not cut, in order."""
    return "".join(working.scenes.filter(cut_at=None).order_by("position", "pk").values_list("text", flat=True))


@transaction.atomic
def begin_working(
    by: Member, base: Draft, form_id: uuid.UUID, restored: Draft | None = None, *, set_aside: WorkingDraft | None = None
) -> WorkingDraft:
    """Begin the next draft on `base`, with its text or that of an older draft that is restored.

    Where one is open, that is the one, unless something is to be restored: then the open one is set aside if it is the
    one that `set_aside` names, and AnotherIsOpen is raised if not.
    """
    refuse_unless(by, Deed.REWRITE)
    lock_production(by.production_id)
    if same_form := WorkingDraft.objects.filter(form_id=form_id, production=by.production).first():
        return same_form
    if (found := open_working(by.production)) is not None:
        if restored is None:
            return found
        if found != set_aside:
            raise AnotherIsOpen(found)
        set_aside_working(by, found)
    working = WorkingDraft.objects.create(
        form_id=form_id, production=by.production, base=base, restored=restored, begun_by=by
    )
    begun_from = restored or base
    scenes = WorkingScene.objects.bulk_create(
        WorkingScene(working=working, position=position, ordinal=position, text=text)
        for position, text in enumerate(texts_by_scene(read_script(begun_from)))
    )
    SceneText.objects.bulk_create(SceneText(scene=scene, version=1, text=scene.text, saved_by=by) for scene in scenes)
    log.record(by.person, log.Act.Verb.BEGAN_WORKING, by.production, working.public_id, draft=begun_from.number)
    return working


@transaction.atomic
def set_aside_working(by: Member, working: WorkingDraft) -> None:
    """Put the working draft away, with all its words, to be taken up again or not. One that is away stays so.

    Raises WorkingIsClosed for one that was published.
    """
    refuse_unless(by, Deed.REWRITE)
    lock_production(by.production_id)
    working = WorkingDraft.objects.select_related("base").get(pk=working.pk)
    if working.set_aside_at is not None:
        return
    working = lock_working(working)
    working.set_aside_at = timezone.now()
    working.save(update_fields=["set_aside_at"])
    log.record(by.person, log.Act.Verb.SET_ASIDE_WORKING, by.production, working.public_id, draft=working.base.number)


@transaction.atomic
def take_up_working(by: Member, working: WorkingDraft, *, set_aside: WorkingDraft | None = None) -> WorkingDraft:
    """Go on with a working draft that was set aside; another that is open is set aside for it if it is the one that
    `set_aside` names, and AnotherIsOpen is raised if not. Raises WorkingIsClosed for one that was published."""
    refuse_unless(by, Deed.REWRITE)
    lock_production(by.production_id)
    found = open_working(by.production)
    if found is not None and found.pk == working.pk:
        return found
    working.refresh_from_db()
    if working.published_as_id is not None:
        raise WorkingIsClosed
    if found is not None:
        if found != set_aside:
            raise AnotherIsOpen(found)
        set_aside_working(by, found)
    working.set_aside_at = None
    working.save(update_fields=["set_aside_at"])
    log.record(by.person, log.Act.Verb.TOOK_UP_WORKING, by.production, working.public_id, draft=working.base.number)
    return working


@transaction.atomic
def take_back_text(by: Member, scene: WorkingScene, version: int, form_id: uuid.UUID) -> WorkingScene:
    """Let a scene read again as it did in an earlier version; what it reads now is kept as one too.

    Raises SceneText.DoesNotExist for a version that it never had, and WorkingIsClosed.
    """
    refuse_unless(by, Deed.REWRITE)
    earlier = scene.texts.get(version=version)
    lock_working(scene.working)
    scene = WorkingScene.objects.get(pk=scene.pk)
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
    refuse_unless(by, Deed.REWRITE)
    working = lock_working(scene.working)
    scene = WorkingScene.objects.get(pk=scene.pk)
    theirs, mine = scene.text, keep_line_ends(scene.text, mine, usual_line_end(working))
    if theirs != mine and not SceneText.objects.filter(form_id=form_id, scene=scene).exists():
        write_scene(by, scene, mine, form_id)
        write_scene(by, scene, theirs)
        log.record(by.person, log.Act.Verb.SAVED_SCENE, by.production, scene.public_id, version=scene.version)
    return scene


def lock_working(working: WorkingDraft) -> WorkingDraft:
    """The working draft, locked for the rest of the transaction. Raises WorkingIsClosed."""
    locked = WorkingDraft.objects.select_for_update(no_key=True, of=("self",)).select_related("base").get(pk=working.pk)
    if not locked.is_open:
        raise WorkingIsClosed
    return locked


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
    refuse_unless(by, Deed.REWRITE)
    working = lock_working(scene.working)
    scene = WorkingScene.objects.get(pk=scene.pk)
    text = _as_it_is_stored(scene, text, usual_line_end(working))
    latest = scene.texts.select_related("saved_by__person").get(version=scene.version)
    sent_before = scene.texts.filter(form_id=form_id).first()
    if sent_before and as_typed and latest.saved_by_id != by.pk:
        raise SavedMeanwhile(latest)
    if text != scene.text and (sent_before is None or sent_before.text != text):
        if scene.version != seen and latest != sent_before:
            raise SavedMeanwhile(latest)
        write_scene(by, scene, text, None if sent_before else form_id, as_typed=as_typed)
        if not (as_typed and _goes_on(by, latest)):
            log.record(by.person, log.Act.Verb.SAVED_SCENE, by.production, scene.public_id, version=scene.version)
    if in_parts and not as_typed:
        part_scene(by, working, scene)
    keep_apart(by, working)
    scene.refresh_from_db()
    return scene


def _as_it_is_stored(scene: WorkingScene, text: str, usual: str) -> str:
    """A text from a browser with the line ends of the scene, and with the blank line after it where it had one."""
    text = keep_line_ends(scene.text, text, usual)
    return end_with_blank_line(text, usual) if scene.text == end_with_blank_line(scene.text, usual) else text


def _goes_on(by: Member, latest: SceneText) -> bool:
    """Whether somebody is still typing, as far as the log is concerned."""
    return latest.as_typed and latest.saved_by_id == by.pk and latest.saved_at > timezone.now() - ONE_SITTING


@transaction.atomic
def add_scene(
    by: Member, working: WorkingDraft, after: WorkingScene | None, text: str, form_id: uuid.UUID
) -> WorkingScene:
    """Put a new scene behind another, or before all scenes; the same form sent again finds the scene it made."""
    refuse_unless(by, Deed.REWRITE)
    working = lock_working(working)
    if same_form := SceneText.objects.filter(form_id=form_id, scene__working=working).select_related("scene").first():
        return same_form.scene
    position = working.scenes.get(pk=after.pk).position + 1 if after else 1
    text = end_with_blank_line(keep_line_ends("", text, usual_line_end(working)), usual_line_end(working))
    (scene,) = insert_scenes(by, working, position, [text])
    scene.texts.update(form_id=form_id)
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
    refuse_unless(by, Deed.REWRITE)
    working = lock_working(scene.working)
    scene = WorkingScene.objects.get(pk=scene.pk)
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
    refuse_unless(by, Deed.REWRITE)
    working = lock_working(scene.working)
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


def write_scene(
    by: Member, scene: WorkingScene, text: str, form_id: uuid.UUID | None = None, *, as_typed: bool = False
) -> None:
    """Store a text as the scene's latest, within an act that has locked the working draft."""
    scene.text, scene.version = text, scene.version + 1
    scene.save(update_fields=["text", "version"])
    told = {"form_id": form_id} if form_id else {}
    SceneText.objects.create(scene=scene, version=scene.version, text=text, saved_by=by, as_typed=as_typed, **told)


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
    write_scene(by, scene, pieces[0])
    return [scene, *insert_scenes(by, working, scene.position + 1, pieces[1:])]


def _beginnings(working: WorkingDraft) -> list[int]:
    """Where each scene of the working text begins, in characters."""
    places, place = [], 0
    for part in texts_by_scene(working_text(working))[:-1]:
        place += len(part)
        places.append(place)
    return places


def keep_apart(by: Member, working: WorkingDraft) -> None:
    """End a scene with a blank line where the next one would not begin a scene without it."""
    beginnings = set(_beginnings(working))
    end, place = usual_line_end(working), 0
    for scene, _ in pairwise(working.scenes.filter(cut_at=None).exclude(text="").order_by("position", "pk")):
        place += len(scene.text)
        if place not in beginnings and (text := end_with_blank_line(scene.text, end)) != scene.text:
            write_scene(by, scene, text)


def insert_scenes(by: Member, working: WorkingDraft, position: int, texts: Sequence[str]) -> list[WorkingScene]:
    """Put new scenes at a position, those from there on moving down, within an act that has locked the draft."""
    working.scenes.filter(position__gte=position).update(position=F("position") + len(texts))
    scenes = WorkingScene.objects.bulk_create(
        WorkingScene(working=working, position=position + nth, text=text) for nth, text in enumerate(texts)
    )
    SceneText.objects.bulk_create(SceneText(scene=scene, version=1, text=scene.text, saved_by=by) for scene in scenes)
    return scenes


def usual_line_end(working: WorkingDraft) -> str:
    """The line end that most lines of the base have."""
    text = working.base.text
    windows = text.count("\r\n")
    counts = {"\n": text.count("\n") - windows, "\r\n": windows, "\r": text.count("\r") - windows}
    return max(counts, key=lambda end: counts[end])
