"""Where each scene stands in a script that is put together of two, both made from a third.

A scene goes where the version that moved it put it, behind the last scene before it that neither version moved. Scenes
that a version split, or made one of several, are kept together with those they came from, so that their lines are still
compared with the lines that they were. What stands above a heading is placed as scenes are: with its scene, if both
versions have it there, or if one of them put it there.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

from rapidfuzz.distance import LCSseq

from screenplay.comparing import in_order

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence, Set

    from screenplay.next_draft.merge_units import UnitLinks, Units

OURS, THEIRS = 0, 1


class Whole(NamedTuple):
    """Scenes of the base that belong together, and what they are in our version and in theirs, nothing where they were
    cut: by the ordinals of their units, 0 for what stands before the first. What both added is none of the base."""

    base: range
    on: tuple[range, range]


class Added(NamedTuple):
    """A scene that one version alone has."""

    version: int
    scene: int


class Moved(NamedTuple):
    """Scenes at the place that a version moved them to; `only` is that version where the other moved them to
    another."""

    whole: Whole
    only: int | None


InOrder = Whole | Added | Moved
Item = int | Added


def order_scenes(
    links: tuple[UnitLinks, UnitLinks],
    units: tuple[Units, Units, Units],
    texts: tuple[Sequence[str], Sequence[str]],
) -> list[InOrder]:
    """The scenes of both versions in the order of the script they make together, those that a version cut among them.

    `links` are those of the base to ours and to theirs, `units` those of all three, `texts` what ours and theirs say.
    Scenes that the versions added in the same place, or moved there, stand in the order of their texts, which is the
    same whichever version is called ours; one that both added is there once. A scene that both moved, to different
    places, is told at both.
    """
    base, ours, theirs = units
    versions = _Version(links[OURS], base, ours), _Version(links[THEIRS], base, theirs)
    standing = versions[OURS].standing_in(versions[THEIRS])
    for version, units_there in zip(versions, (ours, theirs), strict=True):
        version.put_with_their_scenes(units_there.above, standing)
    wholes = [
        Whole(run, (versions[OURS].range_of(run), versions[THEIRS].range_of(run))) for run in _together(base, versions)
    ]
    return list(_OneOrder(wholes, texts).in_order_of_both())


class _Version:
    """Which scene of the base each scene of a version was, None for one that is new; `joined` are scenes of the base,
    next to each other, whose lines stand in one scene there."""

    def __init__(self, links: UnitLinks, base: Units, version: Units) -> None:
        self.shared = links.shared
        self.origins: list[int | None] = [None] * version.count
        for before, after in links.pairs:
            self.origins[after] = before
        self._follow_parts(base.count)
        self.places = self._places()
        self.standing = sorted(self.places)
        self.joined = [joined for before, after in self.shared if (joined := self._joined(before, after))]

    def _places(self) -> dict[int, range]:
        places: dict[int, range] = {}
        for after, origin in enumerate(self.origins):
            if origin is not None:
                places[origin] = range(places.get(origin, range(after, after)).start, after + 1)
        return places

    def standing_in(self, other: _Version) -> Set[int]:
        """The scenes of the base that both versions have."""
        return self.places.keys() & other.places.keys()

    def put_with_their_scenes(self, above: Collection[int], standing: Set[int]) -> None:
        """Let what is new above a scene be a part of it, if that is among those standing."""
        for unit in above:
            scene = self.origins[unit + 1]
            if self.origins[unit] is None and scene in standing:
                self.origins[unit] = scene
        self.places = self._places()

    def _follow_parts(self, scenes: int) -> None:
        """A scene without a pair is a part of the one it has most lines of: of the scenes with a pair before and after
        it, and of those between these that were in the base and have no pair either."""
        paired = set(self.origins)
        lines = defaultdict(list)
        for (part, after), count in self.shared.items():
            lines[after].append((-count, part))
        following = list(accumulate(reversed(self.origins), _latest, initial=scenes))[::-1]
        before = 0
        for after, origin in enumerate(self.origins):
            if origin is None:
                behind = following[after + 1]
                found = [
                    (count, part)
                    for count, part in lines[after]
                    if part in (before, behind) or (before < part < behind and part not in paired)
                ]
                self.origins[after] = min(found)[1] if found else None
            before = _latest(before, self.origins[after])

    def _joined(self, before: int, after: int) -> range | None:
        """A scene with lines of another, and that other, where nothing that stands lies between them."""
        origin = self.origins[after]
        if origin is None or origin == before:
            return None
        joined = range(min(origin, before), max(origin, before) + 1)
        between = bisect_left(self.standing, joined[-1]) - bisect_right(self.standing, joined[0])
        return None if between else joined

    def range_of(self, base: range) -> range:
        """The scenes that some scenes of the base are, with those that are new between them."""
        places = [self.places[scene] for scene in base if scene in self.places]
        return range(min(place.start for place in places), max(place.stop for place in places)) if places else range(0)

    def keeps_together(self, base: range) -> bool:
        """Whether no other scene of the base is among those that these are."""
        origins = (self.origins[after] for after in self.range_of(base))
        return all(origin is None or origin in base for origin in origins)

    def has_right_above(self, above: int, scene: int) -> bool:
        """Whether what stood above a scene of the base still does, with nothing between; or both are gone."""
        upper, lower = self.places.get(above), self.places.get(scene)
        return upper is lower if upper is None or lower is None else upper.stop == lower.start


def _latest(known: int, origin: int | None) -> int:
    return known if origin is None else origin


def _together(base: Units, versions: Sequence[_Version]) -> Iterator[range]:
    """The scenes of the base in runs that belong together, each of which stands together in both versions too."""
    with_next = {before for version in versions for joined in version.joined for before in joined[:-1]}
    with_next.update(
        above for above in base.above if all(version.has_right_above(above, above + 1) for version in versions)
    )
    start = 0
    for scene in range(base.count):
        if scene in with_next:
            continue
        run = range(start, scene + 1)
        start = scene + 1
        if all(version.keeps_together(run) for version in versions):
            yield run
        else:
            yield from (range(single, single + 1) for single in run)


class _OneOrder:
    """Puts what stands in both versions in one order.

    What a version added or moved stands in a gap: behind a whole that neither version moved, and before the next one
    that this version has. Gaps are told by the position of that whole, and so is a moved whole in them.
    """

    def __init__(self, wholes: Sequence[Whole], texts: tuple[Sequence[str], Sequence[str]]) -> None:
        self.wholes, self.texts = wholes, texts
        moved = [_moved(wholes, version, set()) for version in (OURS, THEIRS)]
        self.moved = [_moved(wholes, version, moved[1 - version]) for version in (OURS, THEIRS)]
        self.gaps = [self._gaps(version) for version in (OURS, THEIRS)]
        self.agreed = [self._in_both(at) for at in range(len(wholes))]

    def in_order_of_both(self) -> Iterator[InOrder]:
        """Everything, in order."""
        for at, whole in enumerate(self.wholes):
            if at not in self.moved[OURS] and at not in self.moved[THEIRS]:
                yield whole
            yield from self._in_gap(at)

    def _gaps(self, version: int) -> dict[int, list[Item]]:
        found: dict[int, list[Item]] = defaultdict(list)
        beginning = {whole.on[version].start: at for at, whole in enumerate(self.wholes) if whole.on[version]}
        behind, scene = 0, 0
        while scene < len(self.texts[version]):
            at = beginning.get(scene)
            if at is None:
                found[behind].append(Added(version, scene))
                scene += 1
                continue
            if at in self.moved[version]:
                found[behind].append(at)
            elif at not in self.moved[1 - version]:
                behind = at
            scene = self.wholes[at].on[version].stop
        return found

    def _in_both(self, gap: int) -> list[tuple[int, int]]:
        """Positions in our gap and in theirs of what stands in both, in the same order, rising."""
        lists = [self.gaps[version].get(gap, []) for version in (OURS, THEIRS)]
        keys = [[self._key(item) for item in items] for items in lists]
        flip = self._text(OURS, lists[OURS]) > self._text(THEIRS, lists[THEIRS])  # of two answers, the same one always
        first, second = keys[::-1] if flip else keys
        blocks = LCSseq.opcodes(first, second).as_matching_blocks()
        pairs = [(block.a + nth, block.b + nth) for block in blocks for nth in range(block.size)]
        return [(ours, theirs) for theirs, ours in pairs] if flip else pairs

    def _in_gap(self, gap: int) -> Iterator[InOrder]:
        ours, theirs = (self.gaps[version].get(gap, []) for version in (OURS, THEIRS))
        start = their_start = 0
        for at, their_at in [*self.agreed[gap], (len(ours), len(theirs))]:
            runs = (OURS, ours[start:at]), (THEIRS, theirs[their_start:their_at])
            for version, run in sorted(runs, key=lambda version_and_run: self._text(*version_and_run)):
                yield from (self._at_its_place(version, item) for item in run)
            if at < len(ours):
                yield self._agreed(ours[at], theirs[their_at])
            start, their_start = at + 1, their_at + 1

    def _at_its_place(self, version: int, item: Item) -> InOrder:
        if isinstance(item, Added):
            return item
        return Moved(self.wholes[item], version if item in self.moved[1 - version] else None)

    def _agreed(self, ours: Item, theirs: Item) -> InOrder:
        if isinstance(ours, Added) and isinstance(theirs, Added):
            return Whole(range(0), (range(ours.scene, ours.scene + 1), range(theirs.scene, theirs.scene + 1)))
        assert isinstance(ours, int)
        return Moved(self.wholes[ours], None)

    def _key(self, item: Item) -> int | str:
        return self._text(item.version, [item]) if isinstance(item, Added) else item

    def _text(self, version: int, items: Sequence[Item]) -> str:
        scenes = [[item.scene] if isinstance(item, Added) else self.wholes[item].on[version] for item in items]
        return "".join(self.texts[version][scene] for run in scenes for scene in run)


def _moved(wholes: Sequence[Whole], version: int, rather: Collection[int]) -> set[int]:
    """Positions of the wholes, as few scenes as can be, without which the rest of a version keep their order; of two
    that changed places, the one that is among `rather`."""
    there = [at for at, whole in enumerate(wholes) if whole.on[version]]
    weights = [len(wholes[at].base) - (at in rather) / (2 * len(wholes)) for at in there]
    kept = in_order([wholes[at].on[version].start for at in there], weights)
    return set(there) - {there[at] for at in kept}
