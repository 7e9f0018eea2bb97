"""Three lines of a scene of a film edited at once, each in a way of its own: where the notes on its lines are then.

The film is the demo's; the edits and the truth about them are `tests/scene_edits.py`'s. The peer: the PyPI package
`diff-match-patch`. `pytest -s` shows the figures.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from review import demo
from screenplay import compare, parse
from tests.outside.test_single_edits import LEAST_RIGHT, MOST_WRONG, Tally, by_diff_match_patch
from tests.scene_edits import EditedScene, SceneEditor

if TYPE_CHECKING:
    from screenplay.comparing import Comparison

DRAFTS = sorted(Path(demo.__file__).parent.glob("*.fountain"))
SCENES_EDITED, EDITS = 60, 3
each_draft = pytest.mark.parametrize("draft", DRAFTS, ids=lambda path: path.stem)


@cache
def edited_scenes(draft: Path) -> list[tuple[EditedScene, Comparison]]:
    script = parse(draft.read_text(encoding="utf-8"))
    editor = SceneEditor(script, seed=1)
    scenes = [editor.edited(EDITS) for _ in range(SCENES_EDITED)]
    return [(scene, compare(script, parse(scene.new))) for scene in scenes]


@each_draft
def test_each_edited_line_is_where_its_words_are(draft: Path) -> None:
    ours, theirs = Tally(), Tally()
    for scene, comparison in edited_scenes(draft):
        by_peer = by_diff_match_patch(comparison.old.text, scene.new)
        for line in scene.kinds:
            ours.add(set(comparison.by_old[line].new), scene.after[line])
            theirs.add(by_peer.get(line, set()), scene.after[line])

    print(f"\n{draft.stem}, {EDITS} lines of a scene: {ours}; diff-match-patch {theirs}")  # noqa: T201 - the report
    assert ours.right >= LEAST_RIGHT * ours.all
    assert ours.wrong <= MOST_WRONG * ours.all
    assert ours.right > theirs.right


@each_draft
def test_each_line_left_alone_stands_on_itself(draft: Path) -> None:
    for scene, comparison in edited_scenes(draft):
        for line, truth in scene.after.items():
            if line not in scene.kinds:
                assert set(comparison.by_old[line].new) == truth
