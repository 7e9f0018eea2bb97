"""Lines that are elsewhere in the other draft: placed where their text, too long to be chance, is found again."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from screenplay.comparing.draft_lines import FREE
from screenplay.comparing.likeness import RareWords

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from screenplay.comparing.draft_lines import DraftLines
    from screenplay.comparing.gaps import Gaps
    from screenplay.comparing.scene_pairs import ScenePairs
    from screenplay.comparing.two_drafts import TwoDrafts

SURPRISE_TO_STAND_ALONE = 16.0  # nats that make a line, met once in each draft, the same wherever it is
SURPRISE_TO_MOVE = 24.0  # nats: some five words that are not common
LIKENESS_TO_MOVE = 12.0


def place_moved_lines(drafts: TwoDrafts, gaps: Gaps, scenes: ScenePairs, alone: Iterable[tuple[int, int]]) -> None:
    """Place lines wherever they are: `alone` are pairs that each draft has once, away from their neighbours."""
    surprise, texts = gaps.likeness.surprise, drafts.old.texts
    for i, j in alone:
        if surprise(texts[i]) >= SURPRISE_TO_STAND_ALONE:
            drafts.pair_if_free(i, j)
    telling = [i for i in _free(drafts.old) if surprise(texts[i]) >= SURPRISE_TO_MOVE]
    drafts.pair_those_met_once(telling, _free(drafts.new))
    _place_reworded(drafts, gaps, scenes)


def place_short_moved_lines(drafts: TwoDrafts, scenes: ScenePairs) -> None:
    """However short, the one line that its speaker has no longer where it was, and has elsewhere in the scene."""
    new_scenes = dict(scenes.mutual())
    mine = _by_scene(drafts.old, [new_scenes.get(scene, FREE) for scene in drafts.old.scenes])
    theirs = _by_scene(drafts.new, drafts.new.scenes)
    for line, positions in mine.items():
        if len(positions) == len(theirs.get(line, ())) == 1:
            drafts.pair(positions[0], theirs[line][0])


def _by_scene(draft: DraftLines, scenes: Sequence[int]) -> dict[tuple[int, str, int], list[int]]:
    """The free lines that have one text and one speaker in one scene."""
    found: defaultdict[tuple[int, str, int], list[int]] = defaultdict(list)
    for at in _free(draft):
        found[scenes[at], draft.speakers[at], draft.keys[at]].append(at)
    return found


def _place_reworded(drafts: TwoDrafts, gaps: Gaps, scenes: ScenePairs) -> None:
    old, new = drafts.old, drafts.new
    lines = RareWords(gaps.likeness, new.texts, _free(new))
    found: list[tuple[float, int, int]] = []
    for i in _free(old):
        for j in lines.shared_by(old.texts[i]):
            score = gaps.pair_score(i, j, is_here=False)
            if scenes.lines[old.scenes[i], new.scenes[j]]:
                score = max(score, gaps.pair_score(i, j), gaps.score_by_runs(i, j))
            if score >= LIKENESS_TO_MOVE:
                found.append((-score, i, j))
    for _, i, j in sorted(found):
        drafts.pair_if_free(i, j)


def _free(draft: DraftLines) -> list[int]:
    """Lines without a partner; cues go with what is said under them."""
    return [at for at, partner in enumerate(draft.partner) if partner == FREE and not draft.is_cue[at]]
