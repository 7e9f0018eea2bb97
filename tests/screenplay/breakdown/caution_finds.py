"""What is found for cautions in a scene of one heading and a little action."""

from __future__ import annotations

import screenplay
from screenplay.breakdown import cautions_of

DAY = "EXT. FIELD - DAY"
NIGHT = "EXT. FIELD - NIGHT"
ROOM = "INT. ROOM - DAY"


def found(action: str, heading: str = DAY) -> dict[str, list[str]]:
    """The words found in one scene, by caution."""
    by_key: dict[str, list[str]] = {}
    for find in cautions_of(screenplay.parse(f"{heading}\n\n{action}\n"))[1]:
        by_key.setdefault(find.key, []).append(find.words)
    return by_key
