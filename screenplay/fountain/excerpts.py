"""An excerpt of a script read by itself: where that may be done, and what the text around it has to say about it.

A text whose boneyards end in it, that ends in a blank line, and behind which a scene heading begins the next, is read
by itself as it is in the whole. Only some warnings ask the rest of the script: whether a name speaks elsewhere, whether
a scene number is taken. An `AroundExcerpt` holds what they ask.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.fountain.asides import find_asides
from screenplay.fountain.cues import same_name
from screenplay.fountain.lines import is_heading, line_tokens
from screenplay.fountain.source_lines import LINE_ENDS, SourceLines, split_lines
from screenplay.model import Heading, Kind, Screenplay, Speech

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

_LONGEST_BLANK_LINE = len(" \r\n")


@dataclass(frozen=True, slots=True)
class ExcerptFacts:
    """What is counted in an excerpt of a script for the sake of another excerpt.

    `lines` is how many source lines it has, `headings` how many scenes; `timeless` how many of these have a setting and
    no time, `is_timed` whether any has a time. `numbers` are the scene numbers in its headings, with the line in it on
    which each stands first. `cued` are the names in its cues, `speaking` those with something to say and how often each
    has; both in the order in which they come first.
    """

    lines: int = 0
    headings: int = 0
    timeless: int = 0
    is_timed: bool = False
    has_elements: bool = False
    numbers: tuple[tuple[str, int], ...] = ()
    cued: tuple[str, ...] = ()
    speaking: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class AroundExcerpt:
    """What stands before an excerpt of a script, and behind it."""

    before: ExcerptFacts = ExcerptFacts()
    after: ExcerptFacts = ExcerptFacts()

    def speeches(self, own: Sequence[Speech]) -> Mapping[str, int]:
        """How often each name of the whole script speaks, in the order in which they first do; `own` are the excerpt's
        speeches."""
        spelled = _spelled(self.before.cued, {})
        spelled = _spelled((speech.name for speech in own), spelled)
        spelled = _spelled(self.after.cued, spelled)
        counted: Counter[str] = Counter()
        for name, times in self.before.speaking:
            counted[spelled[same_name(name)]] += times
        counted.update(speech.name for speech in own if speech.lines)
        for name, times in self.after.speaking:
            counted[spelled[same_name(name)]] += times
        return counted


NOTHING_AROUND = AroundExcerpt()


def facts_of(script: Screenplay) -> ExcerptFacts:
    """What is counted in a script for the sake of another excerpt."""
    headings = [element for element in script.elements if isinstance(element, Heading)]
    speeches = [element for element in script.elements if isinstance(element, Speech)]
    numbers: dict[str, int] = {}
    for heading in headings:
        if heading.number is not None:
            numbers.setdefault(heading.number, heading.first_line)
    return ExcerptFacts(
        lines=len(script.source),
        headings=len(headings),
        timeless=sum(1 for heading in headings if heading.setting and not heading.time),
        is_timed=any(heading.time for heading in headings),
        has_elements=bool(script.elements),
        numbers=tuple(numbers.items()),
        cued=tuple(dict.fromkeys(speech.name for speech in speeches)),
        speaking=tuple(Counter(speech.name for speech in speeches if speech.lines).items()),
    )


def begins_a_scene(text: str) -> bool:
    """Whether the first line of a text is a scene heading where a blank line stands before it."""
    first = text[: text.find("\n") + 1 or None]
    if "/*" not in first and "[[" not in first:
        return is_heading(split_lines(first)[0].strip()) if first else False
    lines = SourceLines(f"\n{text}")
    tokens = line_tokens(lines)
    next(tokens)
    found = next(tokens)
    return found.type == "SCENE_HEADING" and found.first == 1 and lines.number[1] == 1 + 1


def ends_apart(text: str) -> bool:
    """Whether nothing that comes behind a text, a scene heading first, changes how it is read, nor is changed by it."""
    if not _ends_in_a_blank_line(text):
        return False
    return "/*" not in text or all(kind is not Kind.BONEYARD for _, kind in find_asides(text).unclosed)


def _ends_in_a_blank_line(text: str) -> bool:
    """Whether the last line is blank by every rule: one of two spaces ends no speech, and no note that is open."""
    lines = split_lines(text[-_LONGEST_BLANK_LINE - 1 :])
    if not lines or not lines[-1].endswith(("\r", "\n")):
        return False
    line = lines[-1].rstrip(LINE_ENDS)
    return not line or (len(line) == 1 and line.isspace() and line != "\t")


def _spelled(names: Iterable[str], spelled: dict[str, str]) -> dict[str, str]:
    for name in names:
        spelled.setdefault(same_name(name), name)
    return spelled
