"""Finds what a long stretch of lines has in common with another, so that what is left is short enough to weigh."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rapidfuzz.distance import LCSseq

from screenplay.comparing.likeness import RareWords
from screenplay.comparing.ordering import in_order

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from screenplay.comparing.gaps import Gaps

LONGEST = 12_000  # lines of each draft put to the common subsequence at once
DENSE = 0.5  # of the shorter stretch in common, for every common line to count
SURPRISE = 20.0  # nats a run of common lines needs to count on its own
LIKENESS = 8.0


def thin_out(gaps: Gaps, rows: Sequence[int], columns: Sequence[int]) -> Iterator[tuple[Sequence[int], Sequence[int]]]:
    """Place what two long stretches have in common, in order, and give what is left between, part by part."""
    for some_rows, some_columns in _in_pieces(rows, columns):
        for i, j in _common(gaps, some_rows, some_columns):
            gaps.old.partner[i], gaps.new.partner[j] = j, i
    for part_rows, part_columns in list(_parts(gaps, rows, columns)):
        for i, j in _by_rare_words(gaps, part_rows, part_columns):
            gaps.old.partner[i], gaps.new.partner[j] = j, i
    yield from list(_parts(gaps, rows, columns))


def _in_pieces(rows: Sequence[int], columns: Sequence[int]) -> Iterator[tuple[Sequence[int], Sequence[int]]]:
    """Both cut into as many pieces, so that no piece is longer than LONGEST."""
    pieces = -(-max(len(rows), len(columns)) // LONGEST)

    def cut(lines: Sequence[int], piece: int) -> Sequence[int]:
        return lines[piece * len(lines) // pieces : (piece + 1) * len(lines) // pieces]

    for piece in range(pieces):
        yield cut(rows, piece), cut(columns, piece)


def _common(gaps: Gaps, rows: Sequence[int], columns: Sequence[int]) -> list[tuple[int, int]]:
    old_keys = [gaps.old.keys[i] for i in rows]
    new_keys = [gaps.new.keys[j] for j in columns]
    blocks = LCSseq.opcodes(old_keys, new_keys).as_matching_blocks()
    together = sum(block.size for block in blocks)
    is_dense = together >= DENSE * min(len(rows), len(columns))
    pairs: list[tuple[int, int]] = []
    for block in blocks:
        run = [(rows[block.a + at], columns[block.b + at]) for at in range(block.size)]
        if is_dense or _tells(gaps, [i for i, _ in run]):
            pairs += run
    return pairs


def _tells(gaps: Gaps, lines: Sequence[int]) -> bool:
    """Whether a run of lines is too particular to be there twice by chance."""
    return sum(gaps.likeness.surprise(gaps.old.texts[i]) for i in lines if not gaps.old.is_cue[i]) >= SURPRISE


def _by_rare_words(gaps: Gaps, rows: Sequence[int], columns: Sequence[int]) -> list[tuple[int, int]]:
    lines = RareWords(gaps.likeness, gaps.new.texts, columns)
    best: list[tuple[float, int, int]] = []
    for i in rows:
        scored = [(gaps.pair_score(i, j), j) for j in lines.shared_by(gaps.old.texts[i])]
        if scored and max(scored)[0] >= LIKENESS:
            score, j = max(scored)
            best.append((score, i, j))
    return [best[at][1:] for at in in_order([j for _, _, j in best], [score for score, _, _ in best])]


def _parts(gaps: Gaps, rows: Sequence[int], columns: Sequence[int]) -> Iterator[tuple[Sequence[int], Sequence[int]]]:
    """The unplaced lines of both, between lines placed on each other."""
    position = {j: at for at, j in enumerate(columns)}
    waiting: list[int] = []
    start = 0
    for i in rows:
        at = position.get(gaps.old.partner[i])
        if at is None:
            waiting.append(i)
            continue
        between = columns[start:at]
        if waiting and between:
            yield waiting, between
        waiting, start = [], at + 1
    if waiting and start < len(columns):
        yield waiting, columns[start:]
