"""The warnings about a script, each with its rule in plain words and the line it is about."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from screenplay import Screenplay

# What each rule of the Fountain 1.1 standard is about.
RULE_WORDS = {
    "F1": "Title page",
    "F2": "Scene heading",
    "F3": "Scene heading with a leading dot",
    "F4": "Scene number",
    "F5": "Action",
    "F6": "Action with a leading !",
    "F7": "Character cue",
    "F8": "Character cue with a leading @",
    "F9": "Extension after a character’s name",
    "F10": "Dialogue",
    "F11": "Parenthetical",
    "F12": "Dual dialogue",
    "F13": "Lyric",
    "F14": "Transition",
    "F15": "Transition with a leading >",
    "F16": "Centered text",
    "F17": "Bold, italic and underline",
    "F18": "Page break",
    "F19": "Note inside the script",
    "F20": "Text taken out with /* and */",
    "F21": "Section",
    "F22": "Synopsis",
    "F23": "Scripts without capital letters",
    "F24": "Line ends",
}


@dataclass(frozen=True, slots=True)
class Remark:
    """A warning as a writer reads it: `rule` is the standard's rule in plain words, `quoted` the source line."""

    line: int
    rule: str
    text: str
    quoted: str


def remarks(script: Screenplay) -> tuple[Remark, ...]:
    """The warnings of a script in the order of its lines."""
    return tuple(
        Remark(
            warning.line,
            RULE_WORDS.get(warning.rule, ""),
            warning.text,
            script.source[warning.line - 1].strip() if warning.line <= len(script.source) else "",
        )
        for warning in sorted(script.warnings, key=lambda warning: warning.line)
    )
