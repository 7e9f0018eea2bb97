"""The papers of revision colours, and the light tint that pages on each are printed with."""

from __future__ import annotations

from typing import NamedTuple


class Tint(NamedTuple):
    """A colour of paper: red, green and blue from 0 to 255."""

    red: int
    green: int
    blue: int

    def darker(self, share: float) -> Tint:
        """The colour with so much of its light, 1 for all of it."""
        return Tint(*(round(light * share) for light in self))


WHITE = Tint(255, 255, 255)
# The colours usual in the trade, in their usual order (common practice; houses differ). How light they are is our own
# choice, for black type on them; on the screens `static/css/tokens.css` has them stronger, to be told apart small.
TINTS = {
    "white": WHITE,
    "blue": Tint(222, 236, 250),
    "pink": Tint(252, 226, 234),
    "yellow": Tint(255, 250, 208),
    "green": Tint(222, 244, 223),
    "goldenrod": Tint(253, 234, 190),
    "buff": Tint(249, 236, 216),
    "salmon": Tint(255, 225, 212),
    "cherry": Tint(250, 212, 212),
}


def paper_named(colour: str) -> str:
    """The paper of a revision colour, one of `TINTS`, by its last word: `blue` for Double Blue; empty for others."""
    last = colour.casefold().split()[-1:]
    return last[0] if last and last[0] in TINTS else ""


def tint_named(colour: str) -> Tint | None:
    """The tint of a revision colour's paper; None for white and for a colour without one."""
    tint = TINTS.get(paper_named(colour))
    return None if tint == WHITE else tint


def contrast(one: Tint, other: Tint) -> float:
    """The contrast ratio of two colours, from 1 to 21 (WCAG 2.2, "contrast ratio" and "relative luminance")."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: Tint) -> float:
    red, green, blue = (
        share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
        for share in (light / 255 for light in colour)
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
