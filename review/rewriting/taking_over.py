"""A whole text taken over into the working draft, scene by scene: only what differs is written."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, refuse_elsewhere, refuse_unless
from review.drafts.texts import hash_text
from review.rewriting.known_lines import go_on_from, number_scenes
from review.rewriting.models import WorkingScene
from review.rewriting.scenes_apart import keep_apart, part_scene
from review.rewriting.working_pages import WorkingPages
from screenplay import compare, parse
from screenplay.comparing import SceneFateKind
from screenplay.next_draft import texts_by_scene

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.rewriting.models import WorkingDraft
    from screenplay import Screenplay
    from screenplay.comparing import Comparison


CHANGED = "changed"  # in its words, or in its heading
BEFORE_THE_FIRST = "What stands before the first scene changed"
TOLD = (CHANGED, *(fate.value for fate in SceneFateKind))
_IN_WORDS = frozenset({SceneFateKind.KEPT, SceneFateKind.REWORDED, SceneFateKind.RENAMED})


class ReadsOtherwise(Exception):
    """The working text is no longer the one that the writer was shown."""


@dataclass(slots=True)
class TakenOver:
    """What became of how many scenes, each told once, as Changes tells it: of those that were split the old ones, of
    those that were merged the one that they are now; what stands before the first is no scene. `order` has the working
    scenes in the new order, `parted` the key of each that another was parted from, by that other's."""

    scenes: Counter[str] = field(default_factory=Counter)
    before_the_first: bool = False
    order: list[WorkingScene] = field(default_factory=list)
    parted: dict[int, int] = field(default_factory=dict)

    @property
    def in_words(self) -> str:
        """Such as "2 scenes changed, 1 added"; empty where nothing became of any."""
        counts = [(self.scenes[word], word) for word in TOLD if self.scenes[word]]
        told = [f"{count} {word}" for count, word in counts[1:]]
        if counts:
            count, word = counts[0]
            told.insert(0, f"{count} scene{'s' * (count != 1)} {word}")
        if self.before_the_first:
            told.append("and what stands before the first changed" if counts else BEFORE_THE_FIRST)
        return ", ".join(told)


def take_over(by: Member, working: WorkingDraft, text: str, seen: str, onto: Draft | None = None) -> TakenOver:
    """Let the working draft read as `text` does. Scenes keep their earlier texts; those not in it any more are cut.

    `onto` is the draft that it goes on from now, where one has been put up since it was begun. `seen` is the SHA-256 of
    the working text that `text` was merged with: ReadsOtherwise is raised when it is another by now, WorkingIsClosed
    when it takes no more changes; nothing is stored then.
    """
    refuse_unless(by, Deed.REWRITE)
    refuse_elsewhere(by, working)
    pages = WorkingPages(working, list(working.scenes.order_by("position", "pk")))
    lies_between = compare(pages.script, parse(text))  # beforehand, so that the lock is held briefly
    return _take_over(by, working, lies_between, seen, onto)


@transaction.atomic
def _take_over(by: Member, working: WorkingDraft, beforehand: Comparison, seen: str, onto: Draft | None) -> TakenOver:
    working, text = working.lock_for(by), beforehand.new.text
    stands = working.joined_text()
    if hash_text(stands) != seen:
        raise ReadsOtherwise
    if onto is not None:
        go_on_from(working, onto)
    told = TakenOver()
    if text != stands:
        _bring_in(by, working, beforehand, told)
        log.record(by.person, log.Act.Verb.PUT_BACK_TEXT, by.production, working.public_id, **told.scenes)
    if onto is not None and working.restored_id is None:
        number_scenes(working)
    return told


def _bring_in(by: Member, working: WorkingDraft, beforehand: Comparison, told: TakenOver) -> None:
    """Write what differs into the scenes, and put them in order."""
    pages = _pages_in_parts(by, working)
    comparison = beforehand if pages.script == beforehand.old else compare(pages.script, beforehand.new)
    _write(by, working, pages, comparison, told)
    _order(pages.scenes, told)
    keep_apart(by, working)


def _pages_in_parts(by: Member, working: WorkingDraft) -> WorkingPages:
    """The working text with each scene by itself: what was saved while somebody typed may hold further headings."""
    pages = WorkingPages(working, list(working.scenes.order_by("position", "pk")))
    whole = [scene for scene in pages.standing if pages.holds_further(scene)]
    for scene in reversed(whole):  # from the last on, for the scenes behind one that is parted move down
        part_scene(by, working, scene)
    return WorkingPages(working, list(working.scenes.order_by("position", "pk"))) if whole else pages


def _write(by: Member, working: WorkingDraft, pages: WorkingPages, comparison: Comparison, told: TakenOver) -> None:
    """Write the text of each scene of the new text into the working scenes that it came from."""
    old = comparison.old
    holders = _holders(pages, old)
    came_from = {0: 0} | {after: before for before, after in comparison.successors.items()}
    before = texts_by_scene(old)
    changed: set[int] = set()
    kept_by: dict[int, int] = {}
    for ordinal, text in enumerate(texts_by_scene(comparison.new)):
        origin = came_from.get(ordinal)
        held = holders.pop(origin, []) if origin is not None else []
        if not held:
            added = _add(by, working, text)
            told.order.append(added)
            changed.add(ordinal)
            whole = comparison.origins.get(ordinal)
            if whole is not None and whole in kept_by:
                told.parted[added.pk] = kept_by[whole]
            continue
        kept_by[origin or 0] = held[-1].pk
        told.order.extend(held)
        if text != before[origin or 0]:
            changed.add(ordinal)
            _rewrite(by, held, text)
    for scene in (scene for held in holders.values() for scene in held):
        scene.cut_at = timezone.now()
        scene.save(update_fields=["cut_at"])
    told.scenes, told.before_the_first = _counted(comparison, changed), 0 in changed


def _counted(comparison: Comparison, changed: Collection[int]) -> Counter[str]:
    """How many scenes of each fate there are; `changed` are those of the new text that were written, by ordinal."""
    once: dict[tuple[str, int | None], str] = {}
    for scene in comparison.scenes:
        fate: str = scene.fate
        if scene.fate in _IN_WORDS:
            if scene.new not in changed:
                continue
            fate = CHANGED
        once[fate, scene.old if scene.fate in {SceneFateKind.SPLIT, SceneFateKind.CUT} else scene.new] = fate
    return Counter(once.values())


def _holders(pages: WorkingPages, script: Screenplay) -> dict[int, list[WorkingScene]]:
    """The working scenes that each scene of their text is in, by its ordinal, 0 for what stands before the first."""
    holders: dict[int, list[WorkingScene]] = {}
    for scene in pages.standing:
        lines = pages.lines[scene.pk]
        ordinal = script.scene_of[lines.start - 1] if lines else 0
        if lines or scene.ordinal == 0:
            holders.setdefault(ordinal, []).append(scene)
    return holders


def _rewrite(by: Member, held: Sequence[WorkingScene], text: str) -> None:
    """Give the first of the working scenes that hold a scene its whole text; what the others read is in it."""
    first, *others = held
    if first.text != text:
        first.write(by, text)
    for other in others:
        other.cut_at = timezone.now()
        other.save(update_fields=["cut_at"])


def _add(by: Member, working: WorkingDraft, text: str) -> WorkingScene:
    (scene,) = working.make_scenes(by, [WorkingScene(working=working, position=0, text=text)])
    return scene


def _order(before: Sequence[WorkingScene], told: TakenOver) -> None:
    """Put the scenes in the order of the new text; each that is out of it stays behind the one it stood behind, and
    behind the parts that were parted from that one."""
    keys = {scene.pk for scene in told.order}
    order = list(told.order)
    for at, scene in enumerate(before):
        if scene.pk not in keys:
            behind = before[at - 1] if at else None
            place = order.index(behind) + 1 if behind in order else 0
            while behind is not None and place < len(order) and told.parted.get(order[place].pk) == behind.pk:
                place += 1
            order.insert(place, scene)
    for position, scene in enumerate(order):
        scene.position = position
    WorkingScene.objects.bulk_update(order, ["position"])
