"""Lines that are read as one kind and may be meant as another: what would make them that."""

from __future__ import annotations

from itertools import chain, pairwise
from typing import TYPE_CHECKING

from screenplay.fountain.cues import is_upper, name_and_extensions, names_of_several
from screenplay.fountain.headings import SETTING, may_be_meant_as_a_heading, without_number
from screenplay.fountain.rules import Rule
from screenplay.model import Block, Heading, Kind, Speech, Warning  # noqa: A004 - the word the JSON uses

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from screenplay.fountain.source_lines import SourceLines
    from screenplay.fountain.spellings import Spellings
    from screenplay.model import Element, Printed

_MADE_A_HEADING = "begin it with INT. or EXT., or with a dot, if it is a scene heading"


def warnings_about_misread(elements: Sequence[Element], spellings: Spellings, lines: SourceLines) -> Iterator[Warning]:
    """The warnings about such lines, in no order."""
    speeches = [element for element in elements if isinstance(element, Speech)]
    yield from _about_names(speeches, lines)
    yield from _about_said(speeches, spellings)
    yield from _about_action(elements, spellings, lines)
    yield from _about_numbered_lines(elements, lines)
    yield from _about_marks_in_paragraphs(elements, lines)


def _about_names(speeches: Sequence[Speech], lines: SourceLines) -> Iterator[Warning]:
    for speech in speeches:
        text = speech.cue.text
        if lines.stripped[lines.position_of(speech.first_line)][0] == "@":
            continue
        if may_be_meant_as_a_heading(text):
            sentence = f"{quoted(text)} reads as a character's name: {_MADE_A_HEADING}."
            yield Warning(speech.first_line, Rule.SCENE_HEADING, sentence)
        if text.endswith(":"):
            sentence = f"{quoted(text)} reads as a character's name: put a blank line under it if it is a transition."
            yield Warning(speech.first_line, Rule.TRANSITION, sentence)


def _about_said(speeches: Sequence[Speech], spellings: Spellings) -> Iterator[Warning]:
    for speech in speeches:
        before = speech.cue
        for line in speech.lines:
            if line.text.isupper() and line.kind is Kind.DIALOGUE:
                yield from _about_said_line(speech, before, line, spellings)
            before = line


def _about_said_line(speech: Speech, before: Printed, line: Printed, spellings: Spellings) -> Iterator[Warning]:
    if not before.text:
        mend = "the blank line above it has spaces in it, so take them out"
    else:
        mend = "put a blank line above it"
    if _looks_like_a_heading(line.text):
        sentence = f"This scene heading reads as {speech.name}'s words: {mend}."
        yield Warning(line.line, Rule.DIALOGUE if not before.text else Rule.SCENE_HEADING, sentence)
    elif (name := name_and_extensions(line.text)[0]) in spellings and line is not speech.lines[-1]:
        sentence = (
            f"{quoted(name)} speaks elsewhere, but this line reads as {speech.name}'s words: {mend} if it is a cue."
        )
        yield Warning(line.line, Rule.DIALOGUE if not before.text else Rule.CHARACTER, sentence)


def _about_action(elements: Sequence[Element], spellings: Spellings, lines: SourceLines) -> Iterator[Warning]:
    for element in elements:
        if isinstance(element, Block) and element.kind is Kind.ACTION:
            for line in element.lines:
                if lines.stripped[lines.position_of(line.line)][0] == "!":
                    continue
                if is_upper(line.text):
                    yield from _about_action_line(element, line, spellings)
                elif line is element.lines[0] and _stands_as_a_cue_does(line, lines):
                    yield from _about_small_letters(line, spellings)


def _stands_as_a_cue_does(line: Printed, lines: SourceLines) -> bool:
    """Whether a blank line is above the line, or nothing, and words are right under it."""
    at = lines.position_of(line.line)
    return not (at and lines.stripped[at - 1]) and "".join(lines.stripped[at + 1 : at + 2]) != ""


def _about_small_letters(line: Printed, spellings: Spellings) -> Iterator[Warning]:
    """About a line that would be a cue but for its small letters, and has nothing but the name of somebody who speaks,
    or of several, or one that is in capitals but for its beginning, as DeWITT is."""
    name = _name_in(line)
    several = names_of_several(name)
    if name in spellings:
        what = f"{quoted(name)} speaks elsewhere, but this line reads as action"
    elif len(several) > 1 and all(one in spellings for one in several):
        what = f"{quoted(name)} speak elsewhere, but this line reads as action"
    elif name[:1] != "(" and all(map(_is_in_capitals_at_its_end, name.split())):
        what = f"{quoted(name)} has small letters, and so this line reads as action"
    else:
        return
    mend = "put @ before it, or write it in capitals," if name.upper() != name.lower() else "put @ before it"
    yield Warning(line.line, Rule.CHARACTER, f"{what}: {mend} if it is a cue.")


def _is_in_capitals_at_its_end(word: str) -> bool:
    """DeWITT and O'Neil-JONES are, and OTTO; PhD is not."""
    letters = [character for character in word if character.isalpha()]
    return bool(letters) and all(map(str.isupper, (letters[0], *letters[-2:])))


def _name_in(line: Printed) -> str:
    return name_and_extensions(line.text.strip().removesuffix("^").rstrip())[0]


def _about_action_line(block: Block, line: Printed, spellings: Spellings) -> Iterator[Warning]:
    stands_alone = line is block.lines[0] and line is block.lines[-1]
    text = line.text.strip()
    if _looks_like_a_heading(text):
        yield Warning(line.line, Rule.SCENE_HEADING, "This scene heading reads as action: put a blank line above it.")
        return
    if stands_alone and may_be_meant_as_a_heading(text):
        sentence = f"This line reads as action: {_MADE_A_HEADING}."
        yield Warning(line.line, Rule.SCENE_HEADING, sentence)
        return
    if stands_alone:
        mend = "put the words on the next line, right under it"
    elif line is block.lines[-1]:
        mend = "put a blank line above it, and the words under it"
    else:
        mend = "put a blank line above it, and none under it"
    name = _name_in(line)
    if name in spellings:
        yield Warning(
            line.line,
            Rule.CHARACTER,
            f"{quoted(name)} speaks elsewhere, but this line reads as action: {mend} if it is a cue.",
        )
    elif known := spellings.one_letter_from(name):
        near = f"{quoted(name)} is one letter from {quoted(known)}"
        sentence = f"{near} and reads as action: if it is a cue, mend the name, and {mend}."
        yield Warning(line.line, Rule.CHARACTER, sentence)


def _about_numbered_lines(elements: Sequence[Element], lines: SourceLines) -> Iterator[Warning]:
    """About action and cues in capitals that end as a heading with a scene number does, with one:
    `INTERCUT - CAUSEWAY / KITCHEN #3#`. In small letters it is a hashtag, or what somebody dials."""
    for line in chain.from_iterable(map(_action_or_cue, elements)):
        text = line.text.strip()
        says, number = without_number(text)
        if number is None or lines.stripped[lines.position_of(line.line)][0] in "!@":
            continue
        is_numbered = any(map(str.isdecimal, number)) and says.isupper() and not says.endswith(":")
        if is_numbered and not _looks_like_a_heading(text):  # whose own warning says what would mend it
            sentence = "This line ends in a scene number but is no scene heading: put a dot before it if it is one."
            yield Warning(line.line, Rule.SCENE_NUMBER, sentence)


def _action_or_cue(element: Element) -> tuple[Printed, ...]:
    match element:
        case Speech():
            return (element.cue,)
        case Block(kind=Kind.ACTION):
            return element.lines
        case _:
            return ()


def _about_marks_in_paragraphs(elements: Sequence[Element], lines: SourceLines) -> Iterator[Warning]:
    """About lines right under action that a mark takes away from it, which may have been meant as words of it."""
    for before, element in pairwise(elements):
        if not (isinstance(before, Block) and before.kind is Kind.ACTION):
            continue
        position = lines.position_of(element.first_line)
        if not lines.stripped[position - 1]:
            continue
        mark = lines.stripped[position][0]
        if found := _MARKED.get((mark, _kind_of(element))):
            rule, what = found
            sentence = f"The {mark} at its beginning makes this line {what}: put a blank line above it if it is meant"
            yield Warning(element.first_line, rule, f"{sentence}, or ! before it if it is action.")


def _kind_of(element: Element) -> Kind:
    match element:
        case Heading():
            return Kind.SCENE_HEADING
        case Speech():
            return Kind.CHARACTER
        case Block():
            return element.kind


_MARKED = {
    ("#", Kind.SECTION): (Rule.SECTION, "a section, which is not printed"),
    ("=", Kind.SYNOPSIS): (Rule.SYNOPSIS, "a synopsis, which is not printed"),
    (".", Kind.SCENE_HEADING): (Rule.FORCED_HEADING, "a scene heading"),
    ("@", Kind.CHARACTER): (Rule.FORCED_CHARACTER, "a character’s name"),
}


def _looks_like_a_heading(text: str) -> bool:
    return text[:1] in "IEie" and SETTING.match(text) is not None


def quoted(text: str, most: int = 40) -> str:
    """A text in quotation marks, cut short where it is longer."""
    return f"“{text}”" if len(text) <= most else f"“{text[: most - 1]}…”"
