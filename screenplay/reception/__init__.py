"""What readers made of a script: where they lost the thread, which lines they met on, and how far they agree."""

from __future__ import annotations

from screenplay.reception.fleiss import FEWEST_RATERS, Agreement, agreement
from screenplay.reception.lines_met import HotLines, LinesRead, hot_lines
from screenplay.reception.reading_pace import slow_factors
from screenplay.reception.scene_marks import (
    Clarity,
    LostScene,
    SceneMark,
    SceneMarks,
    lost_scenes,
    summary,
)
from screenplay.reception.two_readings import SceneHold, hold_summary, scene_hold, worst_of_each
from screenplay.reception.verdicts import Verdict, verdict_of_choice, verdict_on_scale
from screenplay.reception.words_that_tell import telling_words

__all__ = [
    "FEWEST_RATERS",
    "Agreement",
    "Clarity",
    "HotLines",
    "LinesRead",
    "LostScene",
    "SceneHold",
    "SceneMark",
    "SceneMarks",
    "Verdict",
    "agreement",
    "hold_summary",
    "hot_lines",
    "lost_scenes",
    "scene_hold",
    "slow_factors",
    "summary",
    "telling_words",
    "verdict_of_choice",
    "verdict_on_scale",
    "worst_of_each",
]
