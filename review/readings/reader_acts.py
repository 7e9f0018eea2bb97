"""What a reader does in a reading: go from scene to scene, mark them, say whether others see how long it took,
finish. Each is one transaction; what they say is logged, what was on their screen is not."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, refuse_elsewhere, refuse_unless
from review.drafts.scripts import laid_out
from review.people.acts import Refused
from review.productions.models import lock_for
from review.readers.models import Reader
from review.readings.locked_reading import refuse_no_scene
from review.readings.models import MOST_WHY, ClarityMark, ClarityWord, SceneRead

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import datetime

    from review.people.models import Member
    from review.readers.models import Reading

Verb = log.Act.Verb
# Of a page of eight eighths about 25 seconds: as fast as anybody reads who takes a page in. An estimate of our own.
SECONDS_AN_EIGHTH = 3
MOST_SECONDS = 300  # in one report of a screen, which reports far more often
NOT_IN_IT = "Only those who were asked to read it read in a reading."
CLOSED = "This reading was closed meanwhile. What you said before counts; nothing more is added."
NO_MARK = f"A scene is marked clear, lost or slow, with {MOST_WHY} characters why at most."
FINISHED = "You have finished this reading: what you said on your own stays as it is."


@transaction.atomic
def report_progress(by: Member, reading: Reading, seconds: Mapping[int, int]) -> None:
    """Add the seconds that scenes were on a reader's screen, by the scenes' ordinals. A scene that was there long
    enough counts as read, and the last of them is where they left off.

    Scenes that the draft does not have are left out. Of a reading that is closed or finished nothing is kept. It comes
    every few seconds from each reader, and locks their own record alone.
    """
    by.refresh_from_db(fields=["role", "removed_at"])
    refuse_unless(by, Deed.NOTE)
    reader = _lock_as_reader(by, reading)
    if not goes_on(reader):
        return
    eighths = {scene.ordinal: scene.eighths for scene in laid_out(reader.reading.draft).scenes}
    seen = {scene: min(took, MOST_SECONDS) for scene, took in seconds.items() if scene in eighths and took > 0}
    for ordinal, took in seen.items():
        scene, _ = SceneRead.objects.get_or_create(reader=reader, scene=ordinal)
        scene.seconds += took
        if scene.read_at is None and scene.seconds >= SECONDS_AN_EIGHTH * max(eighths[ordinal], 1):
            scene.read_at = timezone.now()
        scene.save(update_fields=["seconds", "read_at"])
    if seen:
        _leave_off(by, reader, max(seen))


@transaction.atomic
def say_read(by: Member, reading: Reading, ordinal: int, *, is_read: bool) -> None:
    """Say by hand that a scene was read, or that it was not. Raises NoSuchScene, and Refused where it is too late."""
    reader = lock_reader(by, reading)
    refuse_no_scene(reader.reading.draft, ordinal)
    scene, _ = SceneRead.objects.get_or_create(reader=reader, scene=ordinal)
    scene.read_at = (scene.read_at or timezone.now()) if is_read else None
    scene.by_hand = True
    scene.save(update_fields=["read_at", "by_hand"])
    if is_read:
        _leave_off(by, reader, ordinal)


def mark_scene(by: Member, reading: Reading, ordinal: int, mark: str, why: str = "") -> ClarityMark:
    """Give a scene a clarity mark, as the below does several."""
    return mark_scenes(by, reading, {ordinal: (mark, why)})[ordinal]


@transaction.atomic
def mark_scenes(by: Member, reading: Reading, marks: Mapping[int, tuple[str, str]]) -> dict[int, ClarityMark]:
    """Give scenes clarity marks with a word why, by their ordinals, each in the place of the one that it had, which is
    kept; a marked scene counts as read. Gives the marks that stand on them now.

    The same mark with the same word changes nothing. Raises NoSuchScene, and Refused where the reading is closed, the
    reader has finished, or this is no mark.
    """
    reader = lock_reader(by, reading)
    for ordinal in marks:
        refuse_no_scene(reader.reading.draft, ordinal)
    said = {ordinal: (mark, " ".join(why.split())) for ordinal, (mark, why) in marks.items()}
    if any(mark not in ClarityWord.values or len(why) > MOST_WHY for mark, why in said.values()):
        raise Refused(NO_MARK)
    standing = {mark.scene: mark for mark in reader.marks.standing().filter(scene__in=said)}
    new = {at: told for at, told in said.items() if at not in standing or _told(standing[at]) != told}
    now = timezone.now()
    reader.marks.standing().filter(scene__in=new).update(replaced_at=now)
    made = ClarityMark.objects.bulk_create(
        ClarityMark(reader=reader, scene=ordinal, mark=mark, why=why) for ordinal, (mark, why) in new.items()
    )
    if made:
        _say_read(reader, new, now)
        _leave_off(by, reader, max(new))
        log.record_each(
            by.person,
            Verb.MARKED_SCENE,
            by.production,
            [mark.public_id for mark in made],
            reading=reading.public_id,
        )
    return standing | {mark.scene: mark for mark in made}


def _told(mark: ClarityMark) -> tuple[str, str]:
    return mark.mark, mark.why


def _say_read(reader: Reader, ordinals: Iterable[int], at: datetime) -> None:
    """Let scenes count as read, those that do not yet."""
    wanted = set(ordinals)
    known = set(reader.scenes_read.filter(scene__in=wanted).values_list("scene", flat=True))
    reader.scenes_read.filter(scene__in=known, read_at=None).update(read_at=at)
    SceneRead.objects.bulk_create(SceneRead(reader=reader, scene=scene, read_at=at) for scene in wanted - known)


@transaction.atomic
def take_back_mark(by: Member, reading: Reading, ordinal: int) -> bool:
    """Take back the mark of a scene; whether it had one. It is kept, and no longer counts."""
    reader = lock_reader(by, reading)
    had = reader.marks.standing().filter(scene=ordinal).first()
    if had is None:
        return False
    had.replaced_at = timezone.now()
    had.save(update_fields=["replaced_at"])
    log.record(by.person, Verb.TOOK_BACK_MARK, by.production, had.public_id, scene=ordinal)
    return True


@transaction.atomic
def share_time(by: Member, reading: Reading, *, shares: bool) -> bool:
    """Let the writer see how long each scene took, or no longer; whether anything changed."""
    reader = lock_own_reader(by, reading)
    if reader.shares_time == shares:
        return False
    reader.shares_time = shares
    reader.save(update_fields=["shares_time"])
    log.record(by.person, Verb.SHARED_TIME, by.production, reading.public_id, shares=shares)
    return True


@transaction.atomic
def finish_reading(by: Member, reading: Reading) -> bool:
    """Finish a reading; whether it was not finished until now. From now on others' words are open to the reader, if no
    other reading keeps these from them, and what they said themselves stays as it is. Raises Refused where the reading
    is closed."""
    reader = lock_own_reader(by, reading)
    if reader.finished_at is not None:
        return False
    if not reader.reading.is_open:
        raise Refused(CLOSED)
    now = timezone.now()
    reader.begun_at, reader.finished_at = reader.begun_at or now, now
    reader.save(update_fields=["begun_at", "finished_at"])
    Reader.objects.filter(member=by).stand_open(now)
    log.record(by.person, Verb.FINISHED_READING, by.production, reading.public_id)
    return True


def lock_own_reader(by: Member, reading: Reading) -> Reader:
    """The reader that a member is in a reading, as they stand now, locked besides the production. Raises
    PermissionDenied where they are none."""
    lock_for(by, Deed.NOTE)
    return _lock_as_reader(by, reading)


def _lock_as_reader(by: Member, reading: Reading) -> Reader:
    refuse_elsewhere(by, reading)
    readers = Reader.objects.in_it().select_related("reading__draft__production", "member__person")
    standing = readers.filter(reading=reading, member=by, reading__draft__withdrawn_at=None)
    reader = standing.select_for_update(no_key=True, of=("self",)).first()
    if reader is None:
        raise PermissionDenied(NOT_IN_IT)
    return reader


def goes_on(reader: Reader) -> bool:
    """Whether they can say anything more."""
    return reader.finished_at is None and reader.reading.is_open


def lock_reader(by: Member, reading: Reading) -> Reader:
    """The reader, as long as they can say anything more. Raises Refused where they cannot."""
    reader = lock_own_reader(by, reading)
    if reader.finished_at is not None:
        raise Refused(FINISHED)
    if not reader.reading.is_open:
        raise Refused(CLOSED)
    return reader


def _leave_off(by: Member, reader: Reader, ordinal: int) -> None:
    """They were last in this scene. With the first that they say, or that their screen tells of them, they begin."""
    if reader.begun_at is None:
        reader.begun_at = timezone.now()
        log.record(by.person, Verb.BEGAN_READING, by.production, reader.reading.public_id)
    reader.left_off = ordinal
    reader.save(update_fields=["left_off", "begun_at"])
