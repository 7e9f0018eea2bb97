"""Places the lines of a stretch of one draft on those of a stretch of the other, in order, by likeness.

The score of a pair is a log-likelihood ratio in nats, as `likeness` has it, with the odds of a rewrite before any line
is seen added: that a line here was reworded, against one cut and another added in the same spot.
"""

from __future__ import annotations

from math import log
from typing import TYPE_CHECKING

from screenplay.comparing.draft_lines import SPEECH

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from screenplay.comparing.likeness import Likeness
    from screenplay.comparing.two_drafts import TwoDrafts

# log(0.08 reworded / (0.03 cut * 0.03 added)): the proportions of a rewrite of moderate size.
PRIOR = 4.5
SURE = 3.0  # nats (20 to 1) a pair of other text needs: to lose a note's lines does less harm than to misplace it
PRIOR_ONE_END = 1.5  # where only one neighbour of the stretch stayed beside it
NEVER = -1e9
SAME_CUE, SAME_SPEAKER, OTHER_CUE = 1.0, 0.5, -9.0
SAME_TEXT = 3.0
OTHER_KIND, OTHER_SPEAKER = -3.0, -3.0
NEXT_TO = 1.0  # two pairs that stay next to each other
BOUND = 2.0  # and within a speech or paragraph
UNDER_ITS_CUE = 4.0


class Gaps:
    """Places lines of two drafts; `compatible` says whether a line of an old scene may be in a new scene at all."""

    def __init__(self, drafts: TwoDrafts, likeness: Likeness) -> None:
        self.old, self.new = drafts.old, drafts.new
        self._are_said_alike = drafts.are_said_alike
        self.likeness = likeness
        self.compatible: Callable[[int, int], bool] = lambda _old, _new: True

    def pair_score(self, i: int, j: int, *, is_here: bool = True) -> float:
        """Nats for the pair, the odds of the place aside; `is_here` where they stand in the same place."""
        old, new = self.old, self.new
        if old.keys[i] == new.keys[j]:
            if old.is_cue[i]:
                return SAME_CUE
            score = SAME_TEXT + min(9.0, self.likeness.surprise(new.texts[j]) / 2)
            return score if self._are_said_alike(i, j) else score + OTHER_SPEAKER
        if old.is_cue[i] or new.is_cue[j]:
            if not (old.is_cue[i] and new.is_cue[j]):
                return NEVER
            return SAME_SPEAKER if old.speakers[i] == new.speakers[j] else OTHER_CUE
        score = (self.likeness.here if is_here else self.likeness.elsewhere)(old.texts[i], new.texts[j])
        if old.kinds[i] is not new.kinds[j]:
            if old.is_heading[i] or new.is_heading[j]:
                return NEVER
            score += OTHER_KIND
        elif old.kinds[i] in SPEECH and old.speakers[i] != new.speakers[j]:
            score += OTHER_SPEAKER
        return score

    def score_by_runs(self, i: int, j: int) -> float:
        """As `pair_score`, of lines of one kind and one speaker that have most of their words in the same order."""
        old, new = self.old, self.new
        is_alike = old.kinds[i] is new.kinds[j] and old.speakers[i] == new.speakers[j]
        return self.likeness.mostly_within(old.texts[i], new.texts[j]) if is_alike else NEVER

    def bond(self, i: int, j: int) -> float:
        """What it adds that the lines before both are a pair too."""
        if not (self.old.bound[i] and self.new.bound[j]):
            return NEXT_TO
        return UNDER_ITS_CUE if self.old.is_cue[i - 1] and self.new.is_cue[j - 1] else BOUND

    def place(self, rows: Sequence[int], columns: Sequence[int], prior: float) -> list[tuple[int, int]]:
        """The likeliest pairs, in order, of old lines `rows` and new lines `columns`: dynamic programming over both.

        Takes time in proportion to the product of their numbers.
        """
        prior -= log(1 + abs(len(rows) - len(columns)))
        if len(rows) == 1 and len(columns) == 1:
            i, j = rows[0], columns[0]
            return [(i, j)] if self._scored(i, j) + prior > SURE else []
        best, came_from = self._filled(rows, columns, prior)
        pairs = _traced(rows, columns, best, came_from)
        return [(i, j) for i, j in pairs if self.pair_score(i, j) + prior > SURE or self.old.is_cue[i]]

    def _scored(self, i: int, j: int) -> float:
        if not self.compatible(self.old.scenes[i], self.new.scenes[j]):
            return NEVER
        return self.pair_score(i, j)

    def _edge_before(self, i: int, j: int) -> float:
        return self.bond(i, j) if i and j and self.old.partner[i - 1] == j - 1 else 0.0

    def _edge_after(self, i: int, j: int) -> float:
        if i + 1 < len(self.old) and j + 1 < len(self.new) and self.old.partner[i + 1] == j + 1:
            return self.bond(i + 1, j + 1)
        return 0.0

    def _filled(
        self, rows: Sequence[int], columns: Sequence[int], prior: float
    ) -> tuple[list[list[float]], list[list[bool]]]:
        """Best score of each pair of beginnings, and whether the best that ends in a pair follows a pair."""
        width = len(columns) + 1
        best = [[0.0] * width]
        matched_row = [NEVER] * width
        came_from: list[list[bool]] = [[False] * width]
        for r, i in enumerate(rows):
            above, matched_above = best[r], matched_row
            best_row, matched_row, from_row = [0.0], [NEVER], [False]
            follows_above = bool(r) and rows[r - 1] == i - 1
            for c, j in enumerate(columns):
                score = self._scored(i, j)
                value, after_pair = NEVER, False
                if score > NEVER:
                    value = above[c] + self._edge_before(i, j)
                    if follows_above and c and columns[c - 1] == j - 1:
                        chained = matched_above[c] + self.bond(i, j)
                        if chained > value:
                            value, after_pair = chained, True
                    value += score + prior
                matched_row.append(value)
                from_row.append(after_pair)
                ended = value + self._edge_after(i, j) if value > NEVER else NEVER
                best_row.append(max(above[c + 1], best_row[c], ended))
            best.append(best_row)
            came_from.append(from_row)
        return best, came_from


def _traced(
    rows: Sequence[int], columns: Sequence[int], best: list[list[float]], came_from: list[list[bool]]
) -> list[tuple[int, int]]:
    pairs: list[tuple[int, int]] = []
    r, c = len(rows), len(columns)
    in_chain = False
    while r and c:
        if not in_chain and best[r][c] == best[r - 1][c]:
            r -= 1
        elif not in_chain and best[r][c] == best[r][c - 1]:
            c -= 1
        else:
            pairs.append((rows[r - 1], columns[c - 1]))
            in_chain = came_from[r][c]
            r, c = r - 1, c - 1
    return pairs[::-1]
