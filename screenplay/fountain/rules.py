"""The rules of Fountain 1.1, by the numbers that the code, its tests and the warnings cite: F1 to F24.

The contributors' guide says what each asks for, and what is decided where the standard leaves room.
"""

from __future__ import annotations

from enum import StrEnum


class Rule(StrEnum):
    """A rule by its number; `words` is what it is about, as a writer reads it."""

    TITLE_PAGE = "F1"
    SCENE_HEADING = "F2"
    FORCED_HEADING = "F3"
    SCENE_NUMBER = "F4"
    ACTION = "F5"
    FORCED_ACTION = "F6"
    CHARACTER = "F7"
    FORCED_CHARACTER = "F8"
    EXTENSION = "F9"
    DIALOGUE = "F10"
    PARENTHETICAL = "F11"
    DUAL_DIALOGUE = "F12"
    LYRIC = "F13"
    TRANSITION = "F14"
    FORCED_TRANSITION = "F15"
    CENTERED = "F16"
    EMPHASIS = "F17"
    PAGE_BREAK = "F18"
    NOTE = "F19"
    BONEYARD = "F20"
    SECTION = "F21"
    SYNOPSIS = "F22"
    OTHER_SCRIPTS = "F23"
    LINE_ENDS = "F24"

    @property
    def words(self) -> str:
        return _WORDS[self]


_WORDS = {
    Rule.TITLE_PAGE: "Title page",
    Rule.SCENE_HEADING: "Scene heading",
    Rule.FORCED_HEADING: "Scene heading with a leading dot",
    Rule.SCENE_NUMBER: "Scene number",
    Rule.ACTION: "Action",
    Rule.FORCED_ACTION: "Action with a leading !",
    Rule.CHARACTER: "Character cue",
    Rule.FORCED_CHARACTER: "Character cue with a leading @",
    Rule.EXTENSION: "Extension after a character’s name",
    Rule.DIALOGUE: "Dialogue",
    Rule.PARENTHETICAL: "Parenthetical",
    Rule.DUAL_DIALOGUE: "Dual dialogue",
    Rule.LYRIC: "Lyric",
    Rule.TRANSITION: "Transition",
    Rule.FORCED_TRANSITION: "Transition with a leading >",
    Rule.CENTERED: "Centered text",
    Rule.EMPHASIS: "Bold, italic and underline",
    Rule.PAGE_BREAK: "Page break",
    Rule.NOTE: "Note inside the script",
    Rule.BONEYARD: "Text taken out with /* and */",
    Rule.SECTION: "Section",
    Rule.SYNOPSIS: "Synopsis",
    Rule.OTHER_SCRIPTS: "Scripts without capital letters",
    Rule.LINE_ENDS: "Line ends",
}
