"""Which changes concern which department: the rules by which change sheets are made.

Which departments care for what is common practice in the trade; houses differ, and the sheets say so by giving for each
scene the reason why it is there.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.people.models import Department

if TYPE_CHECKING:
    from collections.abc import Collection

# These answer for the whole film: every changed scene is on their sheet.
EVERYTHING = frozenset({Department.DIRECTION, Department.PRODUCTION, Department.EDITING, Department.WRITING})

PLACE = frozenset(
    {Department.LOCATIONS, Department.ART, Department.CAMERA, Department.LIGHTING, Department.SOUND, *EVERYTHING}
)
LIGHT = frozenset({Department.CAMERA, Department.LIGHTING, Department.LOCATIONS, *EVERYTHING})
PEOPLE = frozenset({Department.COSTUME, Department.HAIR, Department.CAST, Department.SOUND, *EVERYTHING})
# Whoever stands in a scene is dressed, made up and called, whether they speak or not.
SEEN = PEOPLE - {Department.SOUND}
# A scene told earlier or later: what somebody wears, carries or looks like follows the order of the story.
ORDER = frozenset({Department.COSTUME, Department.HAIR, Department.PROPS, Department.ART, *EVERYTHING})

CAUTIONS: dict[Department, frozenset[str]] = {
    Department.STUNTS: frozenset(
        {
            "weapons",
            "fire",
            "heights",
            "fights",
            "vehicles",
            "water",
            "animals",
            "electricity",
            "aircraft",
            "night_roads",
            "glass",
            "machinery",
            "confined",
            "gas",
            "crowds",
            "weather",
            "strobe",
        }
    ),
    Department.SPECIAL_EFFECTS: frozenset(
        {"weapons", "fire", "smoke", "water", "electricity", "glass", "gas", "weather"}
    ),
    Department.VISUAL_EFFECTS: frozenset({"weapons", "fire", "aircraft"}),
    Department.LOCATIONS: frozenset(
        {
            "fire",
            "vehicles",
            "water",
            "animals",
            "smoke",
            "aircraft",
            "night_roads",
            "machinery",
            "confined",
            "gas",
            "crowds",
            "weather",
        }
    ),
    Department.LIGHTING: frozenset(
        {"fire", "water", "smoke", "electricity", "night_roads", "confined", "weather", "strobe"}
    ),
    Department.CAMERA: frozenset(
        {"vehicles", "water", "aircraft", "heights", "machinery", "confined", "crowds", "strobe"}
    ),
    Department.PROPS: frozenset({"weapons", "fire", "glass", "gas"}),
    Department.ART: frozenset({"fire", "heights", "electricity", "glass", "machinery", "confined"}),
    Department.COSTUME: frozenset({"fire", "fights", "water", "intimacy", "machinery"}),
    Department.HAIR: frozenset({"fights", "water", "machinery"}),
    Department.SOUND: frozenset({"weapons"}),
}

# The departments of the word lists, by their names there.
TRADES: dict[Department, str] = {
    department: department.value
    for department in Department
    if department not in EVERYTHING and department not in {Department.STUNTS, Department.CAST}
}
# Whoever is in a scene is told of all its cautions.
EVERY_CAUTION = frozenset({*EVERYTHING, Department.CAST})
INTIMACY = "intimacy"
CHILDREN = "children"


def cautions_for(department: Department, found: Collection[str], *, is_new: bool = False) -> frozenset[str]:
    """Which of the cautions found in a scene, by their keys, concern a department. Intimacy where there are children is
    never told without them; a new scene with children is the stunts' business whatever else is found, for a list may
    not know what the children do in it."""
    wanted = frozenset(found) if department in EVERY_CAUTION else CAUTIONS.get(department, frozenset())
    if (INTIMACY in wanted and INTIMACY in found) or (is_new and department == Department.STUNTS):
        wanted |= {CHILDREN}
    return wanted & frozenset(found)
