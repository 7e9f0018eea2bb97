"""What a script holds, for people or, with --json, for programs.

The JSON is one object:

    pages       how many pages, laid out on US Letter, the title page not counted
    eighths     its length in eighths of a page, its scenes' and what stands before the first added up
    lines       one for every source line:
                line        its number, from 1
                kind        title_page, scene_heading, action, character, parenthetical, dialogue, lyric, transition,
                            centered, page_break, section, synopsis, note, boneyard or blank
                scene       the ordinal of its scene, null before the first
                page        the page it first stands on, null if it prints nothing
    scenes      one for every scene heading:
                ordinal     its place in the script, from 1
                number      the number between # in the heading, null if it has none
                heading     the heading as printed, without the number
                setting     INT., EXT., INT./EXT., EXT./INT., I/E. or EST., however it was typed; else empty
                place       what stands between setting and time of day, as typed
                time        the time of day, as typed; else empty
                remark      what stands behind the time, as FLASHBACK does; else empty
                first_line, last_line   its source lines, from the heading to the line before the next
                page        the page its heading is on
                eighths     its length in eighths of a page, at least 1
                characters  who speaks in it, in the order of their first speeches
    characters  everybody who speaks, most words first:
                name        as first typed, without extensions
                speeches    how often they speak
                words       how many words they say or sing
                scenes      in how many scenes they speak
    voices      how each of these talks, in the same order:
                name, speeches, words, scenes       as above
                share       their part of all words spoken, 0 to 1
                pages       on how many pages they begin to speak
                first_page, last_page   where they do so first and last
                longest_speech, longest_speech_line     its words, and the line of its cue
                words_a_speech, words_a_speech_spread       the mean, and the standard deviation
                sentences, words_a_sentence, words_a_sentence_spread    how many, and the same of words in one
                questions, exclamations     sentences that end with ? and with !
                contractions, not_contracted    forms contracted, and places that could have been and were not
                contraction_rate    the first out of both, 0 to 1; null where there is neither
                variety_of_words    MTLD, in words; null under 300 words
                distinctive_words   those that set them apart: word, times, by_others, and z
                favourite_openings  words with which they begin to speak: words, times
                speaks_to   whom they speak to, by turns in a scene: name, speeches, words
                silent_scenes   the ordinals of scenes whose action names them and in which they say nothing
                likeness    Burrows's Delta to each other voice: name, delta; null under 300 words
    breakdown   what each scene needs:
                scenes      one for every scene: ordinal, number, heading, setting, time, remark, eighths, page,
                            page_label, first_line and last_line as above, and
                    place, place_within     the first part of the place, and the rest
                    also_at                 the places of a heading's other settings: name, within, light, light_from
                    place_typed             the whole place, as the heading has it
                    light, light_from       day, night, dawn, dusk or empty; the ordinal of the scene whose heading says
                                            so where its own has CONTINUOUS or the like, or is an INTERCUT with it
                    seconds                 an estimate, by time_rule
                    speaking, mentioned     who speaks, and whom of the others the action names
                    heard                   those of speaking who are a voice alone
                    intercuts               line, the ordinals of the scenes that it is cut together with by that
                                            line, and, where the line says none, whom it has named; and missing,
                                            the numbers in it that no scene has
                    dialogue_words, action_words    words said, and told
                    cautions                key, words and line of each found; cautions_sense says what they are worth
                    department_words        key, words and line of each word that a department's list has
                    concerned               department, cautions (keys) and words, for each that has any
                    story_day               the day of the story, from 1, as the times of day have it; null for a
                                            scene that its heading marks as a flashback, a dream or a memory
                time_rule, cautions_sense   how seconds are got, and what cautions are
                places, cast, lights        what scenes share: name, their ordinals, and eighths together; of the cast
                            also those of them in which they are but named, and others in which they are but heard
                shooting_order  a proposal: its rule, the scenes by ordinal, and moves of place and of light in it
                            and in the order of the script
                suggestions words in capitals in action, with scene, line and departments, that may want a mark
    warnings    what the writer may want to mend, in the order of the lines:
                line        the source line
                rule        the rule of the Fountain standard it is about, F1 to F24
                text        a sentence that says what is odd, and what would mend it
"""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from review.management.figures_told import breakdown_told, voices_told
from review.management.script_files import ScriptCommand, read_script
from screenplay import lay_out, parse
from screenplay.page import in_pages, title_of
from screenplay.script import lines_of, words_sung_alone

if TYPE_CHECKING:
    from collections.abc import Iterator

    from django.core.management.base import CommandParser

    from screenplay import LaidOut
    from screenplay.script import Character, Scene


class Command(ScriptCommand):
    help = "Say what a script holds: its pages, scenes, characters, and what its writer may want to mend."
    description_of_json = __doc__

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", help="a script in Fountain (.fountain or .txt), or - for standard input")
        parser.add_argument("--json", action="store_true", help="print one JSON object instead of a report")

    def handle(self, *, file: str, **options: Any) -> None:
        pages = lay_out(parse(read_script(file)))
        self.stdout.write(json.dumps(contents(pages)) if options["json"] else report(pages))


def contents(pages: LaidOut) -> dict[str, Any]:
    """What the JSON has, as this module's description says."""
    return {
        "pages": pages.page_count,
        "eighths": pages.eighths,
        "lines": [
            {"line": line.line, "kind": str(line.kind), "scene": line.scene, "page": line.page}
            for line in lines_of(pages.script, pages.layout)
        ],
        "scenes": [_told(scene) for scene in pages.scenes],
        "characters": [asdict(character) for character in pages.characters],
        "voices": voices_told(pages),
        "breakdown": breakdown_told(pages),
        "warnings": [asdict(warning) for warning in pages.script.warnings],
    }


def _told(scene: Scene) -> dict[str, Any]:
    """A scene as the JSON has it. The pages of a file are counted, never locked: they are called by their numbers."""
    return {name: value for name, value in asdict(scene).items() if name != "page_label"}


def report(pages: LaidOut) -> str:
    """The same for people: a line of figures, then scenes, characters and warnings in columns."""
    return "\n".join(
        [
            *_figures(pages),
            *_titled("Scenes", _scene_rows(pages.scenes)),
            *_titled("Characters", _character_rows(pages.characters)),
            *_titled("Worth a look", [f"line {one.line} ({one.rule}): {one.text}" for one in pages.script.warnings]),
        ]
    )


def _figures(pages: LaidOut) -> Iterator[str]:
    if title := title_of(pages.script):
        yield title
    speeches = sum(character.speeches for character in pages.characters)
    words = sum(character.words for character in pages.characters) + words_sung_alone(pages.script)
    yield ", ".join(
        [
            f"{_counted(pages.page_count, 'page')} ({in_pages(pages.eighths)} by scene lengths)",
            _counted(len(pages.scenes), "scene"),
            _counted(len(pages.characters), "speaking character"),
            _counted(speeches, "speech", "speeches"),
            f"{_counted(words, 'word')} of dialogue",
        ]
    )


def _counted(number: int, one: str, many: str = "") -> str:
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def _titled(title: str, rows: list[str]) -> list[str]:
    return ["", title, *(f"  {row}" for row in rows or ["none"])]


def _scene_rows(scenes: tuple[Scene, ...]) -> list[str]:
    head = ["", "no.", "page", "length", "line", "heading", "who speaks"]
    rows = [
        [
            str(scene.ordinal),
            scene.number or "",
            scene.page_label,
            in_pages(scene.eighths),
            str(scene.first_line),
            _shortened(scene.heading, 52),
            _some(scene.characters),
        ]
        for scene in scenes
    ]
    return _columns([head, *rows], right=(0, 2, 3, 4)) if rows else []


def _some(names: tuple[str, ...], most: int = 5) -> str:
    rest = len(names) - most
    return ", ".join(names[:most]) + (f" and {rest} more" if rest > 0 else "")


def _character_rows(characters: tuple[Character, ...]) -> list[str]:
    head = ["name", "speeches", "words", "scenes"]
    rows = [[_shortened(one.name, 32), f"{one.speeches:,}", f"{one.words:,}", f"{one.scenes:,}"] for one in characters]
    return _columns([head, *rows], right=(1, 2, 3)) if rows else []


def _shortened(text: str, width: int) -> str:
    return text if len(text) <= width else text[: width - 1] + "…"


def _columns(rows: list[list[str]], right: tuple[int, ...]) -> list[str]:
    """Rows of equal length in columns as wide as their widest cell, those named by `right` set to the right."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        "  ".join(
            cell.rjust(width) if place in right else cell.ljust(width)
            for place, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]
