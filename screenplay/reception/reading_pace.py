"""How long a reader took over each scene, beside how long they take over the script's scenes in general."""

from __future__ import annotations

from statistics import median
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

FEWEST_SCENES = 3


def slow_factors(seconds: Mapping[int, float], eighths: Mapping[int, int]) -> dict[int, float]:
    """For each scene that a reader took time over, how often as long they took as they usually do for its length.

    `seconds` and `eighths` of a page are by the scene's ordinal. What is usual is the reader's own median of seconds an
    eighth: a rough guide, for a page left open counts as one that is read. Empty where they read fewer than three.
    """
    rates = {scene: took / max(eighths[scene], 1) for scene, took in seconds.items() if took > 0 and scene in eighths}
    if len(rates) < FEWEST_SCENES:
        return {}
    usual = median(rates.values())
    return {scene: rate / usual for scene, rate in rates.items()}
