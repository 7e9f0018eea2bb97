"""From one draft to the next: where notes and numbers go, edits put in, texts merged, and whom it concerns."""

from __future__ import annotations

from screenplay.next_draft.carrying import GONE, SpanFate, SpanFateKind, carry, carry_character, carry_scene
from screenplay.next_draft.edits import Edit, join_words, revise, reworded
from screenplay.next_draft.merged_text import Conflict, Merged
from screenplay.next_draft.merging import merge
from screenplay.next_draft.numbering import NumberedScene, carry_numbers, first_numbers, placed_numbers
from screenplay.next_draft.page_carrying import carry_pages
from screenplay.next_draft.revision_marks import RevisionMarks, marked_rows, marks_between
from screenplay.next_draft.rule_carrying import carry_rule
from screenplay.next_draft.scene_concerns import (
    Caution,
    Change,
    ChangedScene,
    SceneConcerns,
    concerns,
)
from screenplay.next_draft.scene_excerpt import (
    AroundScene,
    SceneExcerpt,
    excerpt_alone,
    excerpt_of,
    look_around,
    stand_apart,
)
from screenplay.next_draft.scene_saves import rewritten_lines
from screenplay.next_draft.scene_texts import end_with_blank_line, keep_line_ends, texts_by_scene
from screenplay.next_draft.set_otherwise import SetOtherwise
from screenplay.next_draft.speech_changes import Presence, presences
from screenplay.next_draft.two_ways import better_character, better_span

__all__ = [
    "GONE",
    "AroundScene",
    "Caution",
    "Change",
    "ChangedScene",
    "Conflict",
    "Edit",
    "Merged",
    "NumberedScene",
    "Presence",
    "RevisionMarks",
    "SceneConcerns",
    "SceneExcerpt",
    "SetOtherwise",
    "SpanFate",
    "SpanFateKind",
    "better_character",
    "better_span",
    "carry",
    "carry_character",
    "carry_numbers",
    "carry_pages",
    "carry_rule",
    "carry_scene",
    "concerns",
    "end_with_blank_line",
    "excerpt_alone",
    "excerpt_of",
    "first_numbers",
    "join_words",
    "keep_line_ends",
    "look_around",
    "marked_rows",
    "marks_between",
    "merge",
    "placed_numbers",
    "presences",
    "revise",
    "reworded",
    "rewritten_lines",
    "stand_apart",
    "texts_by_scene",
]
