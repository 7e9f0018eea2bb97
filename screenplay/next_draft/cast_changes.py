"""Who came to a scene and who left it from one draft to the next: those who speak in it, and those its action names."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import same_name
from screenplay.script import characters_of, named_by_scene, speakers_by_scene

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping

    from screenplay.comparing import Comparison
    from screenplay.model import Screenplay


class CameAndLeft(NamedTuple):
    """Names of those who came to a scene, as the new draft has them, and of those who left it, as the old has: where a
    name changed throughout, the new one."""

    came: tuple[str, ...]
    left: tuple[str, ...]


class CastOfScene(NamedTuple):
    """Who speaks in a scene, and whom of those who speak in either draft its action names."""

    speaking: tuple[str, ...] = ()
    named: tuple[str, ...] = ()

    @property
    def everybody(self) -> tuple[str, ...]:
        return self.speaking + self.named


NOBODY = CastOfScene()


def _cast_by_scene(script: Screenplay, names: Collection[str]) -> Mapping[int, CastOfScene]:
    speaking, named = speakers_by_scene(script), named_by_scene(script, names)
    ordinals = (speaking.keys() | named.keys()) - {0}  # nobody is looked for before the first heading
    return {at: CastOfScene(speaking.get(at, ()), named.get(at, ())) for at in ordinals}


@dataclass(frozen=True)
class CastBetween:
    """The cast of the scenes of two drafts, by ordinal; `renamed` has the new names of characters by their old ones."""

    old: Mapping[int, CastOfScene]
    new: Mapping[int, CastOfScene]
    renamed: Mapping[str, str]

    @classmethod
    def of(cls, comparison: Comparison) -> CastBetween:
        cast = (*characters_of(comparison.old), *characters_of(comparison.new))
        names = {same_name(one.name): one.name for one in cast}.values()
        old, new = _cast_by_scene(comparison.old, names), _cast_by_scene(comparison.new, names)
        return cls(old, new, {rename.old: rename.new for rename in comparison.renames if rename.kind == "character"})

    def called_now(self, name: str) -> str:
        """What a character of the old draft is called now."""
        return self.renamed.get(name, name)

    def now(self, name: str) -> str:
        """The key of that."""
        return same_name(self.called_now(name))

    def who_spoke(self, ordinal: int) -> frozenset[str]:
        """The keys of those who spoke in an old scene, by what they are called now."""
        return frozenset(map(self.now, self.old.get(ordinal, NOBODY).speaking))

    def by_speaking(self, old: int | None, new: int | None, split_into: Iterable[int]) -> CameAndLeft:
        """Who speaks in the scene of one draft alone, and in none of the others that the old one was `split_into`."""
        before, after = self._pair(old, new)
        spoke = set(map(self.now, before.speaking))
        speak = {same_name(name) for name in after.speaking}
        elsewhere = {same_name(name) for other in split_into for name in self.new.get(other, NOBODY).speaking}
        return CameAndLeft(
            tuple(name for name in after.speaking if same_name(name) not in spoke),
            tuple(self.called_now(name) for name in before.speaking if self.now(name) not in speak | elsewhere),
        )

    def by_naming(
        self, old: int | None, new: int | None, split_into: Iterable[int], joined: Iterable[int]
    ) -> CameAndLeft:
        """Whom the action of the scene names in one draft alone, of those who speak there in neither and are in none of
        the others that the old one was `split_into`, nor in an old one that `joined` it."""
        before, after = self._pair(old, new)
        was_there = [*before.everybody, *(name for one in joined for name in self.old.get(one, NOBODY).everybody)]
        is_there = [*after.everybody, *(name for other in split_into for name in self.new.get(other, NOBODY).everybody)]
        then, now = set(map(self.now, was_there)), set(map(self.now, is_there))
        then.update(map(self.now, after.speaking))
        now.update(map(self.now, before.speaking))
        return CameAndLeft(
            tuple(name for name in after.named if self.now(name) not in then),
            tuple(self.called_now(name) for name in before.named if self.now(name) not in now),
        )

    def _pair(self, old: int | None, new: int | None) -> tuple[CastOfScene, CastOfScene]:
        return self.old.get(old or 0, NOBODY), self.new.get(new or 0, NOBODY)
