"""What each scene needs: where and when it is, how long, who and what is in it, its cautions, and what shares its
place."""

from __future__ import annotations

from screenplay.breakdown.caution_lists import caution_names
from screenplay.breakdown.caution_sense import ASSESS_FIRST, CAUTION_SENSE
from screenplay.breakdown.cautions import Find, cautions_of, each_once
from screenplay.breakdown.changed_needs import needs_changes
from screenplay.breakdown.days import story_days
from screenplay.breakdown.department_words import LYRICS, MUSIC, searched_texts
from screenplay.breakdown.english import reads_as_english
from screenplay.breakdown.marked_words import FoundMarkedWord, SoughtWord, Suggestion, find_marked_words, suggestions
from screenplay.breakdown.place_names import AS_HEADED, PlaceNames, alike_places, every_place
from screenplay.breakdown.places import ScenePlace
from screenplay.breakdown.scene_groups import SceneGroup, by_cast, by_light, by_place
from screenplay.breakdown.scene_needs import TIME_RULE, SceneNeeds, break_down
from screenplay.breakdown.scene_places import lights
from screenplay.breakdown.shooting_order import ORDER_RULE, moves_of, propose_order
from screenplay.breakdown.trade_words import ListedWords, trade_words_in

__all__ = [
    "ASSESS_FIRST",
    "AS_HEADED",
    "CAUTION_SENSE",
    "LYRICS",
    "MUSIC",
    "ORDER_RULE",
    "TIME_RULE",
    "Find",
    "FoundMarkedWord",
    "ListedWords",
    "PlaceNames",
    "SceneGroup",
    "SceneNeeds",
    "ScenePlace",
    "SoughtWord",
    "Suggestion",
    "alike_places",
    "break_down",
    "by_cast",
    "by_light",
    "by_place",
    "caution_names",
    "cautions_of",
    "each_once",
    "every_place",
    "find_marked_words",
    "lights",
    "moves_of",
    "needs_changes",
    "propose_order",
    "reads_as_english",
    "searched_texts",
    "story_days",
    "suggestions",
    "trade_words_in",
]
