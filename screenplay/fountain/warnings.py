"""What a writer may want to mend: each doubt with its line, the rule it is about, and what would mend it."""

from __future__ import annotations

import re
from itertools import chain, zip_longest
from typing import TYPE_CHECKING

from screenplay.fountain.emphasis import lone_marks
from screenplay.fountain.misread_lines import quoted, warnings_about_misread
from screenplay.fountain.rules import Rule
from screenplay.fountain.spellings import Spellings
from screenplay.fountain.title_keys import KNOWN_TITLE_KEYS
from screenplay.model import Block, Heading, Kind, Speech, Warning  # noqa: A004 - the word the JSON uses

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from screenplay.fountain.excerpts import AroundExcerpt
    from screenplay.fountain.source_lines import SourceLines
    from screenplay.model import Element, Printed, TitleEntry

_ASIDES = (Kind.NOTE, Kind.BONEYARD)
_NOT_PRINTED = (Kind.SECTION, Kind.SYNOPSIS, Kind.PAGE_BREAK)
_NO_NUMBER = re.compile(r"#[^#]*#$")  # at a heading's end, where a number would have been taken off


def warnings_about(
    lines: SourceLines, title_page: Sequence[TitleEntry], elements: Sequence[Element], around: AroundExcerpt
) -> tuple[Warning, ...]:
    """The warnings about a script, or about an excerpt of one, in the order of its lines."""
    headings = [element for element in elements if isinstance(element, Heading)]
    speeches = [element for element in elements if isinstance(element, Speech)]
    spellings = Spellings(around.speeches(speeches))
    found = chain(
        _about_the_title_page(title_page, elements, around),
        _about_no_scenes(headings, elements, around),
        _about_room_under_headings(headings, lines),
        _about_times(headings, around),
        _about_scene_numbers(headings, around),
        _about_asides(lines),
        _about_cues(speeches, lines),
        chain.from_iterable(_about_lone_marks(_printed_lines(element)) for element in elements),
        warnings_about_misread(elements, spellings, lines),
        _about_spellings(speeches, spellings, around),
    )
    return tuple(sorted(found, key=lambda warning: warning.line))


def _about_the_title_page(
    title_page: Sequence[TitleEntry], elements: Sequence[Element], around: AroundExcerpt
) -> Iterator[Warning]:
    if not title_page:
        return
    if not elements and not around.after.has_elements:
        yield Warning(
            1, Rule.TITLE_PAGE, "There is only a title page: put a blank line under it, and begin the script there."
        )
    if not any(entry.key.lower() in KNOWN_TITLE_KEYS for entry in title_page):
        first = quoted(f"{title_page[0].key}:")
        yield Warning(
            1,
            Rule.TITLE_PAGE,
            f"{first} makes the lines up to the first blank one a title page: put ! before it if it is action.",
        )


def _about_no_scenes(
    headings: Sequence[Heading], elements: Sequence[Element], around: AroundExcerpt
) -> Iterator[Warning]:
    if elements and not headings and not around.before.has_elements and not around.after.headings:
        sentence = (
            "There is no scene heading: begin each scene with a line such as INT. FERRY - NIGHT, a blank line above it."
        )
        yield Warning(elements[0].first_line, Rule.SCENE_HEADING, sentence)


def _about_room_under_headings(headings: Sequence[Heading], lines: SourceLines) -> Iterator[Warning]:
    for heading in headings:
        if _kind_under(lines, heading.last_line) not in (Kind.BLANK, None):
            yield Warning(
                heading.first_line, Rule.SCENE_HEADING, "This scene heading has no blank line under it: put one there."
            )


def _kind_under(lines: SourceLines, line: int) -> Kind | None:
    """The kind of the next line that is in no note or boneyard, None at the end."""
    return next((kind for kind in _kinds_from(lines, line) if kind not in _ASIDES), None)


def _kinds_from(lines: SourceLines, index: int) -> Iterator[Kind]:
    while index < len(lines.kinds):
        yield lines.kinds[index]
        index += 1


def _about_times(headings: Sequence[Heading], around: AroundExcerpt) -> Iterator[Warning]:
    timeless = [heading for heading in headings if heading.setting and not heading.time]
    elsewhere = (around.before, around.after)
    is_timed = any(heading.time for heading in headings) or any(part.is_timed for part in elsewhere)
    if len(timeless) + sum(part.timeless for part in elsewhere) > 2 and not is_timed:
        if not timeless or around.before.timeless:
            return
        sentence = (
            "No scene heading has a time of day that is known here: add one after a dash, such as - DAY or - NIGHT."
        )
        yield Warning(timeless[0].first_line, Rule.SCENE_HEADING, sentence)
        return
    for heading in timeless:
        if between := _NO_NUMBER.search(heading.printed.text):
            sentence = (
                f"{between[0]} is no scene number: only letters, digits, dots and dashes stand between the two #."
            )
            yield Warning(heading.first_line, Rule.SCENE_NUMBER, sentence)
            continue
        sentence = "This scene heading has no time of day: add one after a dash, such as - DAY or - NIGHT."
        yield Warning(heading.first_line, Rule.SCENE_HEADING, sentence)


def _about_scene_numbers(headings: Sequence[Heading], around: AroundExcerpt) -> Iterator[Warning]:
    first = dict(around.before.numbers)
    above = max(around.before.lines - 1, 0)  # an excerpt has the blank line above it for its first
    for heading in headings:
        if heading.number is None:
            continue
        line = above + heading.first_line
        before = first.setdefault(heading.number, line)
        if before != line:
            sentence = (
                f"Scene number {heading.number} is taken by the scene on line {before}: give one of them another."
            )
            yield Warning(heading.first_line, Rule.SCENE_NUMBER, sentence)


def _about_asides(lines: SourceLines) -> Iterator[Warning]:
    index, start = 0, 0
    for offset, kind in lines.asides.unclosed:
        while start + len(lines.source[index]) <= offset:
            start += len(lines.source[index])
            index += 1
        if kind is Kind.NOTE:
            sentence = (
                "This [[ is never closed and so is text: put ]] where the note ends, and two spaces in its blank lines."
            )
            yield Warning(index + 1, Rule.NOTE, sentence)
        else:
            yield Warning(
                index + 1, Rule.BONEYARD, "This /* is never closed and so is text: put */ where what it cuts ends."
            )


def _about_cues(speeches: Sequence[Speech], lines: SourceLines) -> Iterator[Warning]:
    for speech, following in zip_longest(speeches, speeches[1:]):
        text = speech.cue.text
        if not speech.lines:
            sentence = f"{quoted(speech.name)} has nothing to say: put the words on the next line, right under it."
            yield Warning(speech.first_line, Rule.FORCED_CHARACTER, sentence)
        if "(" in speech.name and text.count("(") > text.count(")"):
            sentence = "The parenthesis after the name is not closed, and so is part of the name: close it."
            yield Warning(speech.first_line, Rule.EXTENSION, sentence)
        is_paired = speech.dual or (following is not None and following.dual)
        if not is_paired and _ends_in_caret(lines, speech.first_line):
            sentence = "There is no speech before this one to stand beside: take the ^ away, or put it on a second cue."
            yield Warning(speech.first_line, Rule.DUAL_DIALOGUE, sentence)


def _about_lone_marks(lines: Sequence[Printed]) -> Iterator[Warning]:
    """About the first of each line that begins a word. One that a line below closes is told once, where it opens."""
    told: dict[int, str] = {}
    waiting: dict[str, int] = {}  # the line of the last that was told, by its sign
    closed_below: set[int] = set()
    for line in lines:
        for mark in lone_marks(line.text):
            if mark.may_close and waiting.get(mark.sign, line.line) != line.line:
                closed_below.add(waiting.pop(mark.sign))
            elif mark.begins_a_word and line.line not in told:
                told[line.line] = mark.sign
                waiting[mark.sign] = line.line
    for number, sign in told.items():
        if number in closed_below:
            sentence = (
                f"This {sign} has its partner on a line below, and no mark reaches over a line’s end, so both print"
            )
            mend = f"put {sign} around the words of each line, or \\ before both if they are to print"
        else:
            sentence = f"This {sign} has no partner on this line, or crosses another mark, and so it prints"
            mend = (
                f"put {sign} where its words end, within any other marks around them, or \\ before it if it is to print"
            )
        yield Warning(number, Rule.EMPHASIS, f"{sentence}: {mend}.")


def _printed_lines(element: Element) -> tuple[Printed, ...]:
    match element:
        case Heading():
            return (element.printed,)
        case Speech():
            return (element.cue, *element.lines)
        case Block():
            return () if element.kind in _NOT_PRINTED else element.lines


def _ends_in_caret(lines: SourceLines, line: int) -> bool:
    return "^" in lines.source[line - 1] and lines.stripped[lines.position_of(line)][-1] == "^"


def _about_spellings(speeches: Sequence[Speech], spellings: Spellings, around: AroundExcerpt) -> Iterator[Warning]:
    """About each name where it stands first, if that is here."""
    first: dict[str, int] = {}
    for speech in speeches:
        first.setdefault(speech.name, speech.first_line)
    for rare, usual in spellings.likely_slips():
        pair = f"{quoted(rare)} may be {quoted(usual)} under another spelling"
        sentence = f"{pair}: give both one name if they are one person."
        if rare in first and rare not in around.before.cued:
            yield Warning(first[rare], Rule.CHARACTER, sentence)
