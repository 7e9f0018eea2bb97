"""What the breakdown tells of a scene that is cut together with others: which they are, and who is in them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from screenplay.breakdown import SceneNeeds


@dataclass(frozen=True, slots=True)
class IntercutWith:
    """That a scene is cut together with others: by the source line that says so, and of each of the others what it is
    called and who is in it. Where none is said, `named` are those whom the line names. `missing` are the numbers in it
    that no scene has."""

    line: int
    scenes: tuple[tuple[str, tuple[str, ...]], ...]
    named: tuple[str, ...]
    missing: tuple[str, ...] = ()

    @property
    def cast(self) -> tuple[str, ...]:
        """Everybody at the other ends, or else whom the line names."""
        return self.named or tuple(dict.fromkeys(name for _, cast in self.scenes for name in cast))

    @property
    def told(self) -> str:
        """In words: "with 9: IMMY, PRISCILLA", or that it is not said with which."""
        if self.scenes:
            told = "with " + "; ".join(f"{called}: {', '.join(cast) or 'nobody'}" for called, cast in self.scenes)
        elif self.missing:
            told = "with a scene that is not there"
        else:
            told = "with a scene that is not said" + (f": {', '.join(self.named)}" if self.named else "")
        return told + "".join(f"; no scene has the number {number}" for number in self.missing)


def intercuts_with(
    scene: SceneNeeds, scenes: Sequence[SceneNeeds], called: Mapping[int, str]
) -> tuple[IntercutWith, ...]:
    """The intercuts of one of the scenes, which are called so by their ordinals."""
    return tuple(
        IntercutWith(one.line, tuple((called[at], scenes[at - 1].there) for at in one.scenes), one.named, one.missing)
        for one in scene.intercuts
    )
