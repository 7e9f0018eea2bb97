"""Lines of one draft that the other has together in one line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay.sides import FREE, Side

if TYPE_CHECKING:
    from collections.abc import Callable

    from screenplay.gaps import Gaps

GAIN = 1.5  # nats by which both lines together must be liker than the one


def join_lines(gaps: Gaps) -> set[tuple[int, int]]:
    """The pairs placed so far, and those of lines joined with or split from a neighbour."""
    pairs = {(i, j) for i, j in enumerate(gaps.old.partner) if j != FREE}
    joined = _found(gaps, gaps.old, gaps.new, gaps.likeness.between)
    split = _found(gaps, gaps.new, gaps.old, lambda after, before: gaps.likeness.between(before, after))
    taken = {j for _, j in joined}
    for i, j in joined:
        pairs -= {pair for pair in pairs if pair[0] == i}
        pairs.add((i, j))
    for j, i in split:
        if j in taken or any(pair in pairs for pair in ((i, other) for other in taken)):
            continue
        pairs -= {pair for pair in pairs if pair[1] == j}
        pairs.add((i, j))
    return pairs


def _found(gaps: Gaps, many: Side, one: Side, likeness: Callable[[str, str], float]) -> list[tuple[int, int]]:
    """(line of `many`, line of `one`) for lines that a neighbour's partner has too."""
    found: dict[int, int] = {}
    text_on: dict[int, str] = {}
    on = list(many.partner)
    loose = [at for at, partner in enumerate(many.partner) if _is_loose(gaps, many, one, at, partner)]
    for step, order in ((-1, loose), (1, loose[::-1])):
        for at in order:
            beside = at + step
            if at in found or not 0 <= beside < len(many) or on[beside] == FREE:
                continue
            if many.is_cue[at] or many.is_heading[at] or many.is_cue[beside] or many.is_heading[beside]:
                continue
            target = on[beside]
            before = text_on.get(target, many.texts[beside])
            together = f"{before} {many.texts[at]}" if step < 0 else f"{many.texts[at]} {before}"
            whole = one.texts[target]
            alone = likeness(before, whole)
            if many.partner[at] != FREE:
                alone += max(0.0, likeness(many.texts[at], one.texts[many.partner[at]]))
            if before != whole and likeness(together, whole) > alone + GAIN:
                text_on[target] = together
                on[at] = target
                found[at] = target
    return list(found.items())


def _is_loose(gaps: Gaps, many: Side, one: Side, at: int, partner: int) -> bool:
    """Without a partner, or with one that it shares no word with."""
    if partner == FREE:
        return True
    mine, other = many.texts[at], one.texts[partner]
    return mine != other and not gaps.likeness.words_of(mine) & gaps.likeness.words_of(other)
