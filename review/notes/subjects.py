"""What a note can be about: some lines, the scene they begin in, somebody who speaks; and which lines those are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from review.drafts.scripts import read_script
from review.notes.lines import NoSuchLines
from review.notes.models import MOST_NAME, Subject
from screenplay.fountain import plain, without_number
from screenplay.model import Speech
from screenplay.script import cue_span, headings_of, scene_span

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from screenplay import Screenplay, Span

MOST_SPEAKERS = 6  # offered at once; a long stretch may have the whole cast in it
SPEAKER = "character:"


@dataclass(frozen=True, slots=True)
class About:
    """One thing that a note on some lines can be about: its value in a form, its name, and of a scene its heading."""

    value: str
    name: str
    heading: str = ""

    @property
    def subject(self) -> str:
        return parted(self.value)[0]


def value_of(subject: str, character: str = "") -> str:
    """A subject as a form and an address name it: "lines", "scene", "character:MARA"."""
    return f"{SPEAKER}{character}" if subject == Subject.CHARACTER else str(subject)


def parted(value: str) -> tuple[str, str]:
    """The subject and the character of a form's value; lines for a value that says nothing."""
    if value.startswith(SPEAKER):
        return Subject.CHARACTER, value.removeprefix(SPEAKER)
    return (Subject.SCENE if value == Subject.SCENE else Subject.LINES), ""


def whole_subject(draft: Draft, subject: str, span: Span, character: str = "") -> tuple[Span, str]:
    """The lines that a note on this subject spans, given the span it was left on, and its character's name as the
    draft spells it.

    Raises NoSuchLines where those lines begin in no scene, or nobody of the name speaks in the draft.
    """
    if subject == Subject.SCENE:
        script = read_script(draft)
        scene = script.scene_of[span.first_line - 1]
        if not scene:
            raise NoSuchLines("These lines stand before the first scene. Choose lines of the scene you mean.")
        return scene_span(script, scene), ""
    if subject == Subject.CHARACTER:
        script = read_script(draft)
        cue = cue_span(script, character)
        if cue is None:
            raise NoSuchLines(f"Nobody called {character or 'that'} speaks in {draft}. Choose who you mean.")
        return cue, _speaker(script, cue)
    return span, ""


def _speaker(script: Screenplay, cue: Span) -> str:
    return next(one.name for one in script.elements if isinstance(one, Speech) and one.cue.line == cue.first_line)


def cue_of(draft: Draft, value: str) -> Span | None:
    """The cue under which the character that a form's value names first speaks; None where it names none who does."""
    subject, character = parted(value)
    return cue_span(read_script(draft), character) if subject == Subject.CHARACTER else None


def heading_as_read(line: str) -> str:
    """A heading's source line without its scene number and the dot that makes a line a heading."""
    text = without_number(line.strip())[0].strip()
    return text[1:].strip() if text.startswith(".") else text


def heading_of(script: Screenplay, line: int) -> str:
    """The heading of the scene that a line is in, without marks of style; empty before the first."""
    scene = script.scene_of[line - 1]
    return plain(headings_of(script)[scene - 1].printed) if scene else ""


def subjects_at(draft: Draft, span: Span, chosen: str = "") -> list[About]:
    """What a note left on these lines can be about: the lines, their scene, and whoever speaks in them.

    `chosen` is a form's value that is offered whether or not it has to do with the lines.
    """
    script = read_script(draft)
    is_one = span.first_line == span.last_line
    found = [About(Subject.LINES, "This line" if is_one else "These lines")]
    if heading := heading_of(script, span.first_line):
        found.append(About(Subject.SCENE, "The scene", heading))
    names = dict.fromkeys(
        speech.name
        for speech in script.elements
        if isinstance(speech, Speech) and speech.lines and _touches(speech, span)
    )
    subject, character = parted(chosen)
    offered = [name for name in names if len(name) <= MOST_NAME][:MOST_SPEAKERS]
    if subject == Subject.CHARACTER and character not in offered:
        offered.append(character)
    return found + [About(value_of(Subject.CHARACTER, name), name) for name in offered]


def _touches(speech: Speech, span: Span) -> bool:
    return speech.first_line <= span.last_line and speech.last_line >= span.first_line
